"""A table that terminal and screens show alike."""

from dataclasses import dataclass

WIDEST_CELL = 44


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
        The table.

    Returns
    -------
    str
        Lines.
    """
    lines = [table.headings, *table.rows]
    cut = [[_cut(cell) for cell in line] for line in lines]
    widths = [max(len(line[i]) for line in cut) for i in range(len(table.headings))]
    laid = [
        "  ".join(
            cell.rjust(width) if i in table.numbers else cell.ljust(width)
            for i, (cell, width) in enumerate(zip(line, widths, strict=True))
        ).rstrip()
        for line in cut
    ]
    return "\n".join(laid) + "\n"


def _cut(cell: str) -> str:
    return cell if len(cell) <= WIDEST_CELL else f"{cell[: WIDEST_CELL - 1]}…"
