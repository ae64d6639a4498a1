"""Colours and the angles that they are seen from, in words."""

from collections.abc import Sequence
from typing import Final

import numpy as np

from shadecore.colour.topcoat import Lab

_NEUTRAL_CHROMA: Final = 10.0
_LIGHT, _MIDDLE, _DARK = 87.0, 55.0, 25.0
_BROWN_BELOW: Final = 45.0
_BROWN_CHROMA: Final = 45.0
_HUES: Final = (
    (15.0, "pink"),
    (42.0, "red"),
    (78.0, "orange"),
    (105.0, "yellow"),
    (195.0, "green"),
    (312.0, "blue"),
    (345.0, "violet"),
    (360.0, "pink"),
)
"""Hue angles of CIELAB up to which a name is used, from memory. [degrees]"""
_PINK_ABOVE: Final = 60.0
_PINK_CHROMA: Final = 35.0
"""L* and C* between which a red is called pink, from memory."""

_APART: Final = (
    ("",),
    ("darker ", "lighter "),
    ("darkest ", "middle ", "lightest "),
    ("darkest ", "darker ", "lighter ", "lightest "),
)
_SEEN_FROM: Final = ((30.0, "face"), (60.0, "halfway"), (180.0, "flop"))
"""Angles from the mirror reflection up to which a word is used. [degrees]"""


def colour_word(lab: Lab) -> str:
    """What anybody would call a colour, roughly.

    Parameters
    ----------
    lab : tuple of float
        L*, a*, b* under the working condition.

    Returns
    -------
    str
        A noun such as ``red`` or ``light grey``.

    Examples
    --------
    >>> colour_word((48.0, 62.0, 40.0)), colour_word((66.0, 0.0, -1.0))
    ('red', 'light grey')
    """
    lightness, a, b = lab
    if np.hypot(a, b) < _NEUTRAL_CHROMA:
        steps = ((_LIGHT, "white"), (_MIDDLE, "light grey"), (_DARK, "dark grey"))
        return next((word for above, word in steps if lightness > above), "black")
    hue = float(np.degrees(np.arctan2(b, a)) % 360.0)
    word = next(name for limit, name in _HUES if hue <= limit)
    pale = lightness >= _PINK_ABOVE and np.hypot(a, b) < _PINK_CHROMA
    if word in {"pink", "red"}:
        strong = word == "red" or lightness < _PINK_ABOVE
        return "pink" if pale or not strong else "red"
    brownish = lightness < _BROWN_BELOW and np.hypot(a, b) < _BROWN_CHROMA
    return "brown" if word in {"orange", "yellow"} and brownish else word


def words_apart(labs: Sequence[Lab]) -> tuple[str, ...]:
    """Names of several colours, none of them twice.

    Parameters
    ----------
    labs : sequence of tuple of float
        L*, a*, b* of each.

    Returns
    -------
    tuple of str
        What :func:`colour_word` says; colours that share a word are told apart by
        their lightness.

    Examples
    --------
    >>> words_apart([(48.0, 62.0, 40.0), (30.0, 0.0, -40.0), (60.0, 0.0, -30.0)])
    ('red', 'darker blue', 'lighter blue')
    """
    words = [colour_word(each) for each in labs]
    names = list(words)
    for word in set(words):
        same = [place for place, each in enumerate(words) if each == word]
        same.sort(key=lambda place: labs[place][0])
        for place, mark in zip(same, _marks(len(same)), strict=True):
            names[place] = f"{mark}{word}"
    return tuple(names)


def _marks(count: int) -> tuple[str, ...]:
    """What stands before a word that several colours share, from the darkest on."""
    if count <= len(_APART):
        return _APART[count - 1]
    steps = (f"{place}th darkest " for place in range(4, count))
    return ("darkest ", "second darkest ", "third darkest ", *steps, "lightest ")


def lab_words(lab: Lab) -> str:
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


def angle_words(aspecular: float) -> str:
    """From where an effect colour is seen, in a painter's words.

    Parameters
    ----------
    aspecular : float
        Angle from the mirror reflection, above 0 and up to 110. [degrees]

    Returns
    -------
    str
        Such as ``face (15°)``.

    References
    ----------
    .. [1] ASTM E2194: 15, 45 and 110 degrees describe a metallic colour. That painters
       say face and flop is common practice, no source.
    """
    word = next(name for limit, name in _SEEN_FROM if aspecular <= limit)
    return f"{word} ({aspecular:g}°)"
