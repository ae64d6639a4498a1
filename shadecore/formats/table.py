"""Reading a CSV table row by row, so that one bad row costs only itself.

Only one row is held at a time, and what a file may hold is limited: memory stays the
same for any size. Cells that :mod:`shadecore.formats.table_writer` marked, so that no
spreadsheet takes them for formulas, come back as they were.
"""

import csv
import math
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import chain
from pathlib import Path
from typing import Final

from shadecore.errors import TableError
from shadecore.formats.echo import choices, shown, tail
from shadecore.formats.table_lines import TableLines
from shadecore.formats.table_writer import unmarked
from shadecore.formats.text_file import (
    TableText,
    encoding_of,
    lines_of,
    refuse_file,
)

MOST_TEXT_BYTES: Final = 50_000_000
"""Of a file that is read as a whole."""
MOST_COLUMNS: Final = 1000
MOST_CELL: Final = 1000
"""Characters of a cell that is used."""
_DELIMITERS: Final = ",;\t"
_QUOTED: Final = re.compile(r'"[^"]*"')


@dataclass(frozen=True)
class Row:
    """One row of a table.

    Attributes
    ----------
    line : int
        Line of the file it stands on, counted from 1.
    cells : dict of str to str
        Its cells by the column's name in lower case.
    """

    line: int
    cells: dict[str, str]

    def text(self, column: str) -> str:
        """Cell that must not be empty.

        Parameters
        ----------
        column : str
            Name of the column, in lower case.

        Returns
        -------
        str

        Raises
        ------
        TableError
            If it is empty.
        """
        value = self.cells.get(column, "").strip()
        if not value:
            message = f"column {column!r} is empty; fill it in."
            raise TableError(message)
        if len(value) > MOST_CELL:
            message = (
                f"column {column!r} holds {len(value):,} characters, more than "
                f"{MOST_CELL:,}; shorten it."
            )
            raise TableError(message)
        return value

    def text_or(self, column: str, default: str) -> str:
        """Cell that may be empty or missing.

        Parameters
        ----------
        column : str
            Name of the column, in lower case.
        default : str
            What to take then.

        Returns
        -------
        str
        """
        return self.text(column) if self.filled(column) else default

    def filled(self, column: str) -> bool:
        """Whether a cell holds anything.

        Parameters
        ----------
        column : str
            Name of the column, in lower case.

        Returns
        -------
        bool
        """
        return bool(self.cells.get(column, "").strip())

    def number(self, column: str) -> float:
        """Cell that must hold a number.

        Parameters
        ----------
        column : str
            Name of the column, in lower case.

        Returns
        -------
        float

        Raises
        ------
        TableError
            If it does not.
        """
        value = self.text(column)
        try:
            number = float(value.replace("\N{MINUS SIGN}", "-").replace(",", "."))
        except ValueError:
            number = math.nan
        if not math.isfinite(number):
            message = f"column {column!r} holds {shown(value)}, which is not a number."
            raise TableError(message)
        return number

    def number_or(self, column: str, default: float) -> float:
        """Cell that may be empty or missing.

        Parameters
        ----------
        column : str
            Name of the column, in lower case.
        default : float
            What to take then.

        Returns
        -------
        float
        """
        return self.number(column) if self.filled(column) else default


def read_text(path: str | Path) -> str:
    """Text of a file of up to 50 MB, whatever common encoding it has.

    Parameters
    ----------
    path : str or Path
        The file.

    Returns
    -------
    str

    Raises
    ------
    TableError
        If it cannot be read, is too large, or is not text.
    """
    return decode(read_content(path, MOST_TEXT_BYTES), str(path))


def read_content(path: str | Path, most_bytes: int) -> bytes:
    """Content of a file, and never more of it than may be.

    Parameters
    ----------
    path : str or Path
        The file.
    most_bytes : int
        What it may hold.

    Returns
    -------
    bytes

    Raises
    ------
    TableError
        If it cannot be read or is too large.
    """
    try:
        with Path(path).open("rb") as file:
            content = file.read(most_bytes + 1)
    except OSError as error:
        refuse_file(path, error)
    if len(content) > most_bytes:
        message = (
            f"{tail(str(path))!r} has more than the {most_bytes / 1e6:.0f} MB that "
            "are read; give a smaller file."
        )
        raise TableError(message)
    return content


def decode(content: bytes, name: str) -> str:
    """Text of a file's content: UTF-8, UTF-16 with its mark, or Western.

    Parameters
    ----------
    content : bytes
        The file's content.
    name : str
        What to call it in a message.

    Returns
    -------
    str

    Raises
    ------
    TableError
        If it is not text.
    """
    return content.decode(encoding_of((content,), name), errors="replace")


def read_rows(text: TableText, name: str, needed: tuple[str, ...]) -> Iterator[Row]:
    """Rows of a CSV table with a heading line.

    Empty lines and lines that start with ``#`` are passed over. Cells may be
    separated by comma, semicolon or tab; columns that are not needed are kept.

    Parameters
    ----------
    text : str or TextFile
        The table.
    name : str
        What to call it in a message.
    needed : tuple of str
        Columns it must have, in lower case.

    Yields
    ------
    Row

    Raises
    ------
    TableError
        If it has no heading, misses a column or is beyond what is read.
    """
    table = _numbered(text, name)
    first = next(table, None)
    if first is None:
        message = f"{name} is empty; it needs the columns {_listed(needed)}."
        raise TableError(message)
    heading = _heading(*first, name, needed)
    for line, cells in table:
        yield Row(line, dict(zip(heading, map(unmarked, cells), strict=False)))


def _heading(
    line: int, cells: list[str], name: str, needed: tuple[str, ...]
) -> list[str]:
    """Names of the columns."""
    if len(cells) > MOST_COLUMNS:
        message = (
            f"{name} has {len(cells):,} columns (line {line}), more than "
            f"{MOST_COLUMNS:,}; remove what is not needed."
        )
        raise TableError(message)
    heading = [_column(unmarked(cell)) for cell in cells]
    missing = [column for column in needed if column not in heading]
    if missing:
        message = (
            f"{name} has no column {_listed(missing)} in its heading (line {line}); "
            f"it needs {_listed(needed)}."
        )
        raise TableError(message)
    seen: set[str] = set()
    for each in heading:
        if each and each in seen:
            message = f"{name} has two columns called {shown(each)}; rename one."
            raise TableError(message)
        seen.add(each)
    return heading


def _numbered(text: TableText, name: str) -> Iterator[tuple[int, list[str]]]:
    """Rows with the line each starts on, without empty ones and comments."""
    lines = TableLines(lines_of(text), name)
    first = next(lines, None)
    if first is None:
        return
    # What stands in quotes says nothing of what parts the cells.
    delimiter = max(_DELIMITERS, key=_QUOTED.sub("", first).count)
    reader = csv.reader(chain((first,), lines), delimiter=delimiter)
    try:
        for cells in reader:
            start = lines.start
            lines.start = 0
            if any(cell.strip() for cell in cells):
                yield start, cells
    except csv.Error as error:
        message = (
            f"{name}, line {lines.start}: a quote is opened and not closed; close it."
        )
        raise TableError(message) from error


def _column(cell: str) -> str:
    """Column by its plain name: ``L*`` is ``l`` and ``400 nm`` is ``400``."""
    return cell.strip().lower().removesuffix("nm").strip().rstrip("*")


def _listed(columns: Iterable[str]) -> str:
    return choices(["L" if column == "l" else column for column in columns])
