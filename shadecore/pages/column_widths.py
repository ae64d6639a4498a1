"""Widths of a table's columns, so that it takes little of the page."""

from collections.abc import Sequence
from itertools import product
from typing import Final

import numpy as np
from numpy.typing import NDArray

_SLICES: Final = 80
"""In how many parts the free width is given out."""
_AT_ONCE: Final = (1, 2, 4, 8, 16, 32)
"""How many slices a column is offered: one may not be enough to save a line."""
_SLACK: Final = 1e-9
_AIR: Final = 5.0
"""Beside the text of a field. [points]"""
_LOOSE: Final = 1e-3
"""Weight of how full lines are, which decides where no line is saved at once."""


def fewest_lines(
    least: Sequence[float], texts: NDArray[np.float64], width: float
) -> list[float]:
    """Give the width of a page to the columns of a table.

    Parameters
    ----------
    least : sequence of float
        What each column must have. [points]
    texts : array, shape (columns, rows, paragraphs)
        Width of each paragraph of a field on one line; 0 for none. [points]
    width : float
        Of the page. [points]

    Returns
    -------
    list of float
        Their sum is the width of the page. Slice by slice the width goes to the column
        where it saves most lines; a row is as high as its highest field. [points]

    Examples
    --------
    >>> texts = np.array([[[10.0]], [[200.0]]])
    >>> short, long = fewest_lines([10.0, 10.0], texts, 120.0)
    >>> long > 3.0 * short, short + long
    (True, 120.0)
    """
    widths = np.asarray(least, dtype=np.float64)
    rest = width - widths.sum()
    if rest <= 0.0:
        return list(widths * width / widths.sum())
    left = _SLICES
    while left:
        sizes = [each for each in _AT_ONCE if each <= left]
        tries = np.concatenate([np.eye(len(widths)) * each for each in sizes])
        lines, full = _lines(texts, widths + tries * rest / _SLICES)
        now, full_now = _lines(texts, widths[None])
        saved = now - lines + _LOOSE * (full_now - full)
        best = int(np.argmax(saved / tries.sum(axis=1)))
        widths = widths + tries[best] * rest / _SLICES
        left -= int(tries[best].sum())
    return [float(each) for each in _moved(texts, widths, np.asarray(least))]


def _moved(
    texts: NDArray[np.float64], widths: NDArray[np.float64], least: NDArray[np.float64]
) -> NDArray[np.float64]:
    """The widths after what saves lines was moved from one column to another.

    What is given out slice by slice may end where only two columns together can save.
    """
    places = range(len(widths))
    unit = np.eye(len(widths))
    moves = np.array(
        [
            each * (unit[to] - unit[start])
            for start, to in product(places, places)
            for each in _AT_ONCE
            if start != to
        ]
    )
    while moves.size:
        tries = widths + moves * widths.sum() / _SLICES
        tries = tries[(tries >= least - _SLACK).all(axis=1)]
        if not len(tries):
            break
        (now,), _ = _lines(texts, widths[None])
        lines, full = _lines(texts, tries)
        if lines.min() >= now:
            break
        widths = tries[int(np.argmin(lines + _LOOSE * full))]
    return widths


def _lines(
    texts: NDArray[np.float64], widths: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Lines of the table, and how full they are, for several sets of widths."""
    full = texts / np.maximum(widths - _AIR, 1.0)[:, :, None, None]
    high = np.ceil(full - _SLACK).clip(min=0.0).sum(axis=3).clip(min=1.0)
    return high.max(axis=1).sum(axis=1), full.sum(axis=(1, 2, 3))
