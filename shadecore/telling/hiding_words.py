"""How a colour hides by itself, and what follows for mixes and sanded-through spots."""

from typing import Final

from shadecore.card.hiding_power import HidingPower
from shadecore.coats.answer import Answer, Outlook
from shadecore.coats.flags import LIKELY
from shadecore.coats.grounds import Ground
from shadecore.coats.sand_throughs import SandThroughs
from shadecore.film.drawdown import COMPLETE_HIDING
from shadecore.telling.counts import (
    SURE,
    coats_words,
    count_words,
    interval_words,
    sure_words,
)
from shadecore.telling.names import MIX, mix_in_brief, sealer_name, sealer_words
from shadecore.telling.numbers import beside_limit, chance_words
from shadecore.units import Units

COMPLETE: Final = (
    f"{COMPLETE_HIDING} counts as complete hiding (ISO 6504-3, ASTM D2805)"
)


def hiding_words(answer: Answer, units: Units) -> str:
    """How the topcoat hides over black and white, as a sentence.

    Parameters
    ----------
    answer : Answer
        The answer.
    units : Units
        What films are shown in.

    Returns
    -------
    str
    """
    hiding = answer.hiding
    ratio = beside_limit(hiding.contrast_ratio, COMPLETE_HIDING, 2)
    guess = " From colour alone, a guess." if answer.guessed else ""
    return (
        f"{_verdict(answer)}: contrast ratio {ratio} ({SURE}: "
        f"{hiding.low:.2f} to {hiding.high:.2f}), {hiding.rating}, at "
        f"{units.film.show(hiding.film_um)} dry film; {COMPLETE}.{guess}"
    )


def _verdict(answer: Answer) -> str:
    """Whether it hides in the usual coats; only likely where its colour alone is known.

    A paint whose film would be above the limit by then hides poorly, too.
    """
    usual = coats_words(answer.settings.usual_coats)
    hides, likely = ("Hides", "Likely to hide")[answer.guessed], answer.poor_chance
    if likely >= LIKELY:
        return f"{hides} poorly ({chance_words(likely)})"
    return f"{hides} in {usual} ({chance_words(1.0 - likely)})"


def hiding_power_words(power: HidingPower, units: Units) -> str:
    """How far a litre goes at complete hiding, as a sentence.

    Parameters
    ----------
    power : HidingPower
        As worked out from a test card.
    units : Units
        What films and areas are shown in.

    Returns
    -------
    str
    """
    film, film_low, film_high = map(units.film.show, power.dry_film_um)
    rate, low, high = map(units.spreading.bare, power.spreading_rate_m2_per_l)
    return (
        f"Hides completely (contrast ratio {power.contrast_ratio:g}) from {film} dry "
        f"film ({SURE}: {film_low} to {film_high}); a spreading rate of {rate} "
        f"{units.spreading.unit} ({SURE}: {low} to {high}) ready to spray, without "
        "overspray."
    )


def sand_through_words(spots: SandThroughs, tolerance: float) -> str:
    """When sanded-through spots look like the panel, and whether to seal first.

    Parameters
    ----------
    spots : SandThroughs
        As followed.
    tolerance : float
        CIEDE2000 that counts as alike.

    Returns
    -------
    str
        One or two sentences.
    """
    count = spots.count
    within = f"within {coats_words(count.cap)}"
    alike = f"The areas still differ by more than {tolerance:g} CIEDE2000 {within}"
    if count.coats is not None:
        alike = (
            f"The areas look alike from {coats_words(count.coats)} on ({SURE}: "
            f"{interval_words(count)})"
        )
    sealed = f"Sealed with {sealer_name(spots.sealer)} first, the colour"
    if spots.sealed_coats is None:
        return f"{alike}. {sealed} does not hide {within} either."
    hides = f"{sealed} hides in {coats_words(spots.sealed_coats)}"
    saved = spots.sealing_saves
    if saved is None or saved > 1:
        return f"{alike}. {hides}: seal first."
    if saved == 1:
        return (
            f"{alike}. {hides}: sealing takes the coat that it saves, and gives the "
            "colour one even ground."
        )
    return f"{alike}. {hides}: sealing saves no colour here."


def mix_words(mix: Outlook, best: Outlook) -> str:
    """What a mix of two sealers saves against the best one from the shelf.

    Parameters
    ----------
    mix, best : Outlook
        Of the mix, and of the best sealer as it is.

    Returns
    -------
    str
        One sentence; the parts are the mix's name.
    """
    saved = ""
    if mix.coats is not None and best.coats is not None and mix.coats < best.coats:
        saved = f", which saves {coats_words(best.coats - mix.coats)}"
    said = f"A {MIX}, {sealer_words(mix.undercoat)}"
    return f"{said}: {sure_words(mix.count)}{saved}."


def mix_saves_words(mix: Outlook, best: Outlook) -> str:
    """What a mix of two sealers saves, in one short line beside the pick.

    Parameters
    ----------
    mix, best
        As for :func:`mix_words`.

    Returns
    -------
    str
    """
    name, parts = mix_in_brief(mix.undercoat)
    said = f"{name} ({parts}): {count_words(mix.count)}"
    if mix.coats is None or best.coats is None:
        return f"{said}."
    return f"{said}, saves {best.coats - mix.coats}."


def ground_name(way: Ground) -> str:
    """What goes under the colour, and what the ground coat itself goes over.

    Parameters
    ----------
    way : Ground
        A way to hide a colour.

    Returns
    -------
    str
    """
    over = f", over {sealer_name(way.under)}" if way.ground_coats else ""
    return f"{way.name}{over}"


def ground_counts(way: Ground) -> tuple[str, str, str]:
    """Coats of ground and of colour, and both together.

    Parameters
    ----------
    way : Ground
        A way to hide a colour.

    Returns
    -------
    tuple of str
    """
    return str(way.ground_coats), str(way.colour_coats), str(way.coats)
