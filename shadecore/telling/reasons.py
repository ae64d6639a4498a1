"""Why the pick and the sealer closest in lightness differ, in a painter's words."""

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.answer import Answer
from shadecore.colour.appearance import WAVELENGTHS_NM, tristimulus_weights
from shadecore.formats.echo import brief
from shadecore.telling.counts import (
    average_coats,
    chance_by,
    coats_words,
    count_words,
    number_of,
    sure_words,
)
from shadecore.telling.names import sealer_name
from shadecore.telling.numbers import capital
from shadecore.units import percent


class Band(NamedTuple):
    """A part of the spectrum with a name anybody knows."""

    name: str
    low_nm: int
    high_nm: int

    @property
    def columns(self) -> NDArray[np.bool_]:
        """Which of the engine's wavelengths lie in it."""
        return (self.low_nm <= WAVELENGTHS_NM) & (self.high_nm >= WAVELENGTHS_NM)


BANDS: Final = (
    Band("blue", 400, 490),
    Band("green", 500, 580),
    Band("red", 590, 700),
)
_SEEN_AFTER_COATS: Final = 2


def open_band(answer: Answer) -> Band:
    """Part of the spectrum in which the film stays see-through longest.

    Parameters
    ----------
    answer : Answer
        The answer.

    Returns
    -------
    Band
        Where most of the undercoat's light still gets out after two coats, counted
        as the eye counts it.
    """
    after = min(_SEEN_AFTER_COATS, len(answer.bands.see_through)) - 1
    seen = np.array(answer.bands.see_through[after]) * tristimulus_weights().max(axis=1)
    return max(BANDS, key=lambda band: float(seen[band.columns].sum()))


def closest_words(answer: Answer) -> str:
    """The sealer closest in lightness, with its count.

    Parameters
    ----------
    answer : Answer
        The answer.

    Returns
    -------
    str
    """
    closest = answer.closest
    return (
        f"Closest in lightness: {brief(closest.undercoat.name)}, "
        f"{sure_words(closest.count)}."
    )


def why(answer: Answer) -> str:
    """Why the pick is what it is, beside the sealer closest in lightness.

    Parameters
    ----------
    answer : Answer
        The answer.

    Returns
    -------
    str
        One or two sentences.
    """
    best, closest = answer.recommended, answer.closest
    if best.undercoat == closest.undercoat:
        if best.coats is None:
            return (
                f"{best.undercoat.name} is the closest in lightness, but neither it "
                f"nor another sealer here hides within {coats_words(best.count.cap)}."
            )
        return (
            f"{best.undercoat.name} is the closest in lightness and also needs the "
            "fewest coats here."
        )
    if best.coats == closest.coats:
        return _why_at_equal_counts(answer)
    return _why_at_other_counts(answer)


def _why_at_equal_counts(answer: Answer) -> str:
    best, closest = answer.recommended, answer.closest
    first, second = sealer_name(best.undercoat), sealer_name(closest.undercoat)
    if best.coats is None:
        return (
            f"Neither {first} nor {second} hides within "
            f"{coats_words(best.count.cap)}; after that a difference of "
            f"{best.difference[-1]:.1f} CIEDE2000 is left over the first and "
            f"{closest.difference[-1]:.1f} over the second."
        )
    start = f"{capital(first)} and {second} both need {count_words(best.count)}"
    chances = [each.count.chance[best.coats - 1] for each in (best, closest)]
    sure = [chance_by(each.count, best.coats) for each in (best, closest)]
    if chances[0] > chances[1] and sure[0] != sure[1]:
        return (
            f"{start}; the chance that these are enough is {sure[0]} over the first "
            f"and {sure[1]} over the second."
        )
    averages = [average_coats(each.count) for each in (best, closest)]
    if round(averages[0], 1) < round(averages[1], 1):
        return (
            f"{start}; over the first fewer paints of this colour need more "
            f"({averages[0]:.1f} coats on average, not {averages[1]:.1f})."
        )
    return f"{start}, and which of them is better lies within the doubt."


def _why_at_other_counts(answer: Answer) -> str:
    best, closest = answer.recommended, answer.closest
    first, second = sealer_name(best.undercoat), sealer_name(closest.undercoat)
    saved = f"{count_words(best.count)} instead of {number_of(closest.count)}"
    if not answer.bands.full:
        return f"Counted coat by coat, {first} takes {saved}."
    band = open_band(answer)
    wanted, from_best, from_closest = (
        float(np.mean(np.array(spectrum)[band.columns]))
        for spectrum in (
            answer.bands.full,
            best.undercoat.reflectance,
            closest.undercoat.reflectance,
        )
    )
    start = (
        f"This paint stays see-through longest in {band.name} light, of which the "
        f"finished colour reflects {percent(wanted)}"
    )
    if abs(from_best - wanted) < abs(from_closest - wanted):
        return (
            f"{start}: {first} reflects {percent(from_best)} and {second}, though "
            f"closer in lightness, {percent(from_closest)}, so it takes {saved}."
        )
    if from_best > wanted:
        return (
            f"{start}. Over {second} ({percent(from_closest)}) the paint has to add "
            f"the {band.name} that is missing; over {first} ({percent(from_best)}) it "
            f"only has to dim what comes through, which takes {saved}."
        )
    return f"Counted coat by coat, {first} takes {saved}."
