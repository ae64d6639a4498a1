"""Writing CSV tables that no spreadsheet takes for formulas, and read back as written.

A text that starts with ``=``, ``+``, ``-``, ``@``, a tab or a line break, blanks aside,
would run as a formula in a spreadsheet. Such a text gets an apostrophe before it, the
mark by which spreadsheets know plain text, and a text that starts with an apostrophe
itself gets a second one. :func:`unmarked`, which the reader of
:mod:`shadecore.formats.table` puts every cell through, takes it off again. Numbers are
written as they are, with all their digits.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Final

Cell = str | float | int | bool | None
"""What may stand in a cell; None is an empty one."""

_MARK: Final = "'"
_LIVE: Final = re.compile("[ \u00a0]*[=+\\-@\t\r\n\uff1d\uff0b\uff0d\uff20]")
"""How a formula starts, full-width signs included, which some spreadsheets take too."""
_PLAIN: Final = re.compile(r"\w(?:[\w .*/%-]*[\w.*/%-])?")
"""What needs no quotes and cannot be taken for a comment."""


def marked(text: str) -> str:
    """A text that no spreadsheet takes for a formula.

    Parameters
    ----------
    text : str
        Any text.

    Returns
    -------
    str

    Examples
    --------
    >>> marked("=1+1"), marked("Grey"), unmarked(marked("=1+1"))
    ("'=1+1", 'Grey', '=1+1')
    """
    return f"{_MARK}{text}" if _needs_mark(text) else text


def unmarked(text: str) -> str:
    """A text as it was before :func:`marked`.

    Parameters
    ----------
    text : str
        A cell.

    Returns
    -------
    str
    """
    if text.startswith(_MARK) and _needs_mark(text[1:]):
        return text[1:]
    return text


def write_table(columns: Sequence[str], rows: Iterable[Sequence[Cell]]) -> str:
    r"""A table as CSV.

    Parameters
    ----------
    columns : sequence of str
        Names of the columns.
    rows : iterable of sequence
        Cells of each row, as many as there are columns.

    Returns
    -------
    str
        Lines end in a line feed.

    Examples
    --------
    >>> write_table(["name", "L"], [["@grey", 61.5], ['5" tin', None]])
    'name,L\n"\'@grey",61.5\n"5"" tin",\n'
    """
    lines = [",".join(_text(column) for column in columns)]
    lines += [",".join(_cell(cell) for cell in row) for row in rows]
    return "".join(f"{line}\n" for line in lines)


def write_records(columns: Sequence[str], records: Iterable[Mapping[str, Cell]]) -> str:
    """A table of records as CSV.

    Parameters
    ----------
    columns : sequence of str
        Names of the columns, in their order.
    records : iterable of mapping
        Cells by the column's name; what is missing is left empty.

    Returns
    -------
    str
        As :func:`write_table` gives it.
    """
    return write_table(
        columns, ([each.get(column) for column in columns] for each in records)
    )


def _needs_mark(text: str) -> bool:
    return text.startswith(_MARK) or _LIVE.match(text) is not None


def _cell(cell: Cell) -> str:
    match cell:
        case None:
            return ""
        case bool():
            return "true" if cell else "false"
        case str():
            return _text(cell)
        case int():
            return str(int(cell))
        case _:
            return repr(float(cell))


def _text(text: str) -> str:
    safe = marked(text)
    if not safe or _PLAIN.fullmatch(safe):
        return safe
    quoted = safe.replace('"', '""')
    return f'"{quoted}"'
