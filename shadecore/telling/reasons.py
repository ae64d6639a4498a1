"""Why the two picks differ, in a painter's words."""

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.answer import Answer, Outlook
from shadecore.colour.appearance import WAVELENGTHS_NM, tristimulus_weights
from shadecore.undercoats.shelf import Undercoat


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
_JUDGED_AFTER_COATS: Final = 2
_MOST_DECIMALS: Final = 4


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
    after = min(_JUDGED_AFTER_COATS, len(answer.bands.see_through)) - 1
    seen = np.array(answer.bands.see_through[after]) * tristimulus_weights().max(axis=1)
    return max(BANDS, key=lambda band: float(seen[band.columns].sum()))


def told(value: float, limit: float, decimals: int) -> str:
    """A number beside its limit, with the decimals that it takes to tell them apart.

    Parameters
    ----------
    value, limit : float
        The number and what it is held against.
    decimals : int
        Decimals to start with.

    Returns
    -------
    str
        So that 0.978 under a limit of 0.98 does not read 0.98.

    Examples
    --------
    >>> told(0.978, 0.98, 2), told(0.97, 0.98, 2), told(2.04, 2.0, 1)
    ('0.978', '0.97', '2.04')
    """
    text = f"{value:.{decimals}f}"
    apart = value != limit and decimals < _MOST_DECIMALS
    if apart and float(text) == round(limit, decimals):
        return told(value, limit, decimals + 1)
    return text


def lab_in_words(lab: tuple[float, float, float]) -> str:
    """Lab values for reading, to a tenth.

    Parameters
    ----------
    lab : tuple of float
        L*, a*, b*.

    Returns
    -------
    str
    """
    # Adding zero turns a rounded -0.0 into 0.0.
    lightness, a, b = (round(value, 1) + 0.0 for value in lab)
    return f"L* {lightness:.1f}, a* {a:.1f}, b* {b:.1f}"


def coats_in_words(outlook: Outlook) -> str:
    """Count with its unit, such as ``3 coats``.

    Parameters
    ----------
    outlook : Outlook
        Of one undercoat.

    Returns
    -------
    str
    """
    cap = outlook.count.cap
    count = cap if outlook.coats is None else outlook.coats
    noun = "coat" if count == 1 else "coats"
    return f"{count} {noun}" if outlook.coats is not None else f"over {count} {noun}"


def interval_in_words(outlook: Outlook) -> str:
    """90 percent interval, such as ``2 to 5``.

    Parameters
    ----------
    outlook : Outlook
        Of one undercoat.

    Returns
    -------
    str
    """
    cap = outlook.count.cap
    if outlook.count.low is None:
        return f"over {cap}"
    if outlook.count.high is None:
        return f"{outlook.count.low} to over {cap}"
    if outlook.count.low == outlook.count.high:
        return f"{outlook.count.low}"
    return f"{outlook.count.low} to {outlook.count.high}"


def count_in_brief(coats: int | None, cap: int) -> str:
    """Count for a table, such as ``3`` or ``>12``.

    Parameters
    ----------
    coats : int or None
        Coats; None or more than the cap for not within it.
    cap : int
        Coats counted at most.

    Returns
    -------
    str
    """
    return f">{cap}" if coats is None or coats > cap else f"{coats}"


def interval_in_brief(outlook: Outlook) -> str:
    """90 percent interval for a table, such as ``2-5`` or ``2->12``.

    Parameters
    ----------
    outlook : Outlook
        Of one undercoat.

    Returns
    -------
    str
    """
    cap = outlook.count.cap
    low = count_in_brief(outlook.count.low, cap)
    high = count_in_brief(outlook.count.high, cap)
    return low if low == high else f"{low}-{high}"


def why(answer: Answer) -> str:
    """One sentence on the two picks.

    Parameters
    ----------
    answer : Answer
        The answer.

    Returns
    -------
    str
    """
    best, closest = answer.recommended, answer.closest
    if best.undercoat == closest.undercoat:
        return (
            f"{best.undercoat.name} is the closest in lightness and also needs the "
            "fewest coats here."
        )
    names = f"{_named(best.undercoat)} and {_named(closest.undercoat)}"
    if best.coats == closest.coats:
        return (
            f"{names} both need {coats_in_words(best)}; over the first fewer paints of "
            f"this colour need more ({best.coats_average:.1f} coats on average, not "
            f"{closest.coats_average:.1f})."
        )
    saved = f"{coats_in_words(best)} instead of {coats_in_words(closest)}"
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
        f"Of the undercoat the eye sees most through this paint in {band.name} light, "
        f"of which the finished colour throws back {wanted:.0%}"
    )
    if abs(from_best - wanted) < abs(from_closest - wanted):
        return (
            f"{start}: {_named(best.undercoat)} throws back {from_best:.0%} and "
            f"{_named(closest.undercoat)}, though closer in lightness, "
            f"{from_closest:.0%}, so it takes {saved}."
        )
    if from_best > wanted:
        return (
            f"{start}. Over {_named(closest.undercoat)} ({from_closest:.0%}) the film "
            f"has to build that up by itself; over {_named(best.undercoat)} "
            f"({from_best:.0%}) it only dims what comes through, which takes {saved}."
        )
    return f"Counted coat by coat, {_named(best.undercoat)} takes {saved}."


def _named(undercoat: Undercoat) -> str:
    return "the blend" if undercoat.parts else undercoat.name
