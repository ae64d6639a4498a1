"""From the book's records of what was seen to what is learned from them."""

from shadecore.book.learning import Observation
from shadecore.book.records import BookSeen


def observation(
    seen: BookSeen, ln_thickness: tuple[float, float], film_um: float
) -> Observation:
    """A record of the book as something to learn from.

    Parameters
    ----------
    seen : BookSeen
        The record.
    ln_thickness : tuple of float
        What the model says of the colour over that undercoat at that tolerance, from
        its likely recipes alone: mean and standard deviation of the logarithm of the
        hiding thickness in um, at the loading that counts as 1.
    film_um : float
        Dry film of one coat where the record tells none. [um]

    Returns
    -------
    Observation
    """
    mean, spread = ln_thickness
    return Observation(
        colour=seen.colour,
        line=seen.line,
        gun=seen.gun,
        coats_low=seen.coats_low,
        coats_high=seen.coats_high,
        ln_thickness_mean=mean,
        ln_thickness_spread=spread,
        film_um=film_um if seen.film_um is None else seen.film_um,
        hid=seen.hid,
        looked=seen.looked,
        source=seen.source,
        batch=seen.batch,
        job=seen.job,
    )
