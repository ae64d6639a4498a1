"""A table that terminal and screens show alike."""

from dataclasses import dataclass
from itertools import zip_longest
from textwrap import wrap
from typing import Final

WIDTH: Final = 79
"""Characters of a terminal's line."""
WIDEST_CELL: Final = 44
_GAP: Final = "  "


@dataclass(frozen=True)
class Table:
    """A table of texts.

    Attributes
    ----------
    headings : tuple of str
        One for each column.
    rows : tuple of tuple of str
        The cells; the first of each row names it.
    numbers : frozenset of int
        Columns that hold numbers and stand to the right.
    note : str
        What to know before believing it.
    """

    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numbers: frozenset[int] = frozenset()
    note: str = ""


def as_text(table: Table) -> str:
    """Lay a table out for a terminal.

    Parameters
    ----------
    table : Table
        The table, of up to 26 columns.

    Returns
    -------
    str
        Lines of at most 79 characters; what is too wide for them goes on below.
    """
    lines = [table.headings, *table.rows]
    cut = [[_cut(cell) for cell in line] for line in lines]
    widths = _widths(cut)
    laid: list[str] = []
    for line in cut:
        cells = [
            [cell] if len(cell) <= width else wrap(cell, width)
            for cell, width in zip(line, widths, strict=True)
        ]
        laid += [
            _GAP.join(
                part.rjust(width) if i in table.numbers else part.ljust(width)
                for i, (part, width) in enumerate(zip(parts, widths, strict=True))
            ).rstrip()
            for parts in zip_longest(*cells, fillvalue="")
        ]
    return "\n".join(laid) + "\n"


def _cut(cell: str) -> str:
    return cell if len(cell) <= WIDEST_CELL else f"{cell[: WIDEST_CELL - 1]}…"


def _widths(lines: list[list[str]]) -> list[int]:
    """Widths of the columns, taken in until the terminal holds them.

    Headings wrap before cells do, and the widest column before others.
    """
    heads, *rows = lines
    longest = [max([1, *map(len, column)]) for column in zip(*rows, strict=True)]
    longest = longest or [1] * len(heads)
    widths = [max(len(head), cell) for head, cell in zip(heads, longest, strict=True)]
    words = [
        max([cell, *map(len, head.split())])
        for head, cell in zip(heads, longest, strict=True)
    ]
    while sum(widths) + len(_GAP) * (len(widths) - 1) > WIDTH:
        loose = [i for i, width in enumerate(widths) if width > words[i]]
        widths[max(loose or range(len(widths)), key=widths.__getitem__)] -= 1
    return widths
