"""Colours to teach with, and the colours of a lesson as a screen shows them."""

import csv
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from shadecore.colour.display import hex_from_lab, srgb_from_lab
from shadecore.colour.topcoat import Lab, Topcoat
from shadecore.datafiles import data_file

_KEPT: Final = 1024
"""Rows of colours kept ready."""
_BLACK_LETTERS_FROM: Final = 50.0
"""L* from which black letters take over from white ones; at 50 either has a contrast of
about 4.5:1, which WCAG 2.2 asks for (success criterion 1.4.3)."""
LESSON_COLOURS = "lesson-colours.csv"
"""Invented colours: three that matching by lightness gets wrong, four it gets right."""


@dataclass(frozen=True)
class Example:
    """A colour to teach with.

    Attributes
    ----------
    name : str
        What anybody calls it.
    topcoat : Topcoat
        The colour.
    """

    name: str
    topcoat: Topcoat


@cache
def examples() -> tuple[Example, ...]:
    """The example colours, in the order of the file.

    Returns
    -------
    tuple of Example

    Examples
    --------
    >>> [each.name for each in examples()][:3]
    ['red', 'orange', 'yellow']
    """
    text = data_file(LESSON_COLOURS).read_text("utf-8")
    rows = csv.DictReader(line for line in text.splitlines() if line[:1] != "#")
    return tuple(
        Example(
            row["name"],
            Topcoat(
                (float(row["L"]), float(row["a"]), float(row["b"])),
                f"Lab {row['L']} {row['a']} {row['b']}",
            ),
        )
        for row in rows
    )


@dataclass(frozen=True)
class Shown:
    """A colour as a screen shows it.

    Attributes
    ----------
    lab : tuple of float
        L*, a*, b* under the working condition.
    hex : str
        sRGB, clipped to what a screen can show, such as ``#b22234``.
    outside : bool
        Whether the screen's gamut does not hold the colour.
    """

    lab: Lab
    hex: str
    outside: bool

    @property
    def letters(self) -> str:
        """Black or white in CSS, whichever can be read on the colour."""
        return "#000" if self.lab[0] >= _BLACK_LETTERS_FROM else "#fff"


def shown(lab: ArrayLike) -> tuple[Shown, ...]:
    """Colours as a screen shows them.

    Parameters
    ----------
    lab : array, shape (n, 3)
        L*, a*, b* under the working condition.

    Returns
    -------
    tuple of Shown
        One for each.
    """
    rows = np.asarray(lab, dtype=np.float64).reshape(-1, 3)
    return _shown(tuple(map(tuple, rows.tolist())))


@lru_cache(maxsize=_KEPT)
def _shown(lab: tuple[Lab, ...]) -> tuple[Shown, ...]:
    """The same colours come up at every click, and in every phone of a class."""
    colours = np.array(lab)
    _, outside = srgb_from_lab(colours)
    return tuple(
        Shown((float(one[0]), float(one[1]), float(one[2])), code, bool(out))
        for one, code, out in zip(colours, hex_from_lab(colours), outside, strict=True)
    )
