"""From the book's records of what was seen to what is learned from them."""

from shadecore.book.learning import Observation
from shadecore.book.records import BookSeen
from shadecore.book.worked_out import Hides


def observation(seen: BookSeen, hides: Hides) -> Observation:
    """A record of the book as something to learn from.

    Parameters
    ----------
    seen : BookSeen
        The record.
    hides : Hides
        What the model says of the colour over that undercoat at that tolerance, from
        its likely recipes alone.

    Returns
    -------
    Observation
    """
    return Observation(
        colour=seen.colour,
        line=seen.line,
        gun=seen.gun,
        coats_low=seen.coats_low,
        coats_high=seen.coats_high,
        ln_thickness_mean=hides.mean,
        ln_thickness_spread=hides.spread,
        film_um=hides.film_um if seen.film_um is None else seen.film_um,
        hid=seen.hid,
        looked=seen.looked,
        source=seen.source,
        batch=seen.batch,
        job=seen.job,
    )
