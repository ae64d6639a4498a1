"""Shares, grams, times, limits, lists and first letters as they are read."""

from collections.abc import Sequence
from typing import Final

from shadecore.units import percent

UNIT_NAMES: Final = {"metric": "Metric", "us": "US"}
"""What the systems of units are called where one is chosen."""
_MOST_DECIMALS: Final = 4
_MIN_PER_H: Final = 60
_LEAST_CHANCE, _MOST_CHANCE = 0.01, 0.99
"""Chances beyond these are told as under or over them: nothing here is that sure."""


def grams(mass_g: float) -> str:
    """What the scale at the mixing bench reads.

    Parameters
    ----------
    mass_g : float
        [g]

    Returns
    -------
    str
        To a tenth of a gram however much is on it, as such scales show it (common
        practice, no source).

    Examples
    --------
    >>> grams(181.24), grams(1234.0)
    ('181.2 g', '1234.0 g')
    """
    return f"{mass_g:.1f} g"


def chance_words(chance: float) -> str:
    """A chance in percent, never as certain.

    Parameters
    ----------
    chance : float
        0..1.

    Returns
    -------
    str

    Examples
    --------
    >>> chance_words(0.86), chance_words(0.9999), chance_words(0.0)
    ('86 %', 'over 99 %', 'under 1 %')
    """
    if chance > _MOST_CHANCE:
        return f"over {percent(_MOST_CHANCE)}"
    if chance < _LEAST_CHANCE:
        return f"under {percent(_LEAST_CHANCE)}"
    return percent(chance)


def time_words(minutes: float) -> str:
    """How long something takes.

    Parameters
    ----------
    minutes : float
        Zero or more. [min]

    Returns
    -------
    str

    Examples
    --------
    >>> time_words(100.0), time_words(780.0), time_words(10.0), time_words(0.0)
    ('1 h 40 min', '13 h', '10 min', '0 min')
    """
    hours, rest = divmod(round(minutes), _MIN_PER_H)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def beside_limit(value: float, limit: float, decimals: int) -> str:
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
    >>> beside_limit(0.978, 0.98, 2), beside_limit(0.97, 0.98, 2)
    ('0.978', '0.97')
    """
    text = f"{value:.{decimals}f}"
    apart = value != limit and decimals < _MOST_DECIMALS
    if apart and float(text) == round(limit, decimals):
        return beside_limit(value, limit, decimals + 1)
    return text


def capital(text: str) -> str:
    """Words as they begin a sentence, the rest of them left as it is.

    Parameters
    ----------
    text : str
        One character or more.

    Returns
    -------
    str

    Examples
    --------
    >>> capital("vapour mask A2-P3")
    'Vapour mask A2-P3'
    """
    return f"{text[0].upper()}{text[1:]}"


def listed(names: Sequence[str], last: str = "and") -> str:
    """Names in a sentence.

    Parameters
    ----------
    names : sequence of str
        One or more.
    last : str
        Stands before the last one.

    Returns
    -------
    str

    Examples
    --------
    >>> listed(["blue", "green", "red"]), listed(["blue"])
    ('blue, green and red', 'blue')
    """
    *first, final = names
    return f"{', '.join(first)} {last} {final}" if first else final
