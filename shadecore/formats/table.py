"""Reading a CSV table row by row, so that one bad row costs only itself."""

import csv
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from shadecore.errors import TableError

_DELIMITERS = ",;\t"


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
        return value

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
            message = f"column {column!r} holds {value!r}, which is not a number."
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
        return self.number(column) if self.cells.get(column, "").strip() else default


@dataclass(frozen=True)
class BadRow:
    """A row that could not be used.

    Attributes
    ----------
    line : int
        Line of the file it stands on, counted from 1.
    reason : str
        What is wrong with it.
    """

    line: int
    reason: str

    def __str__(self) -> str:
        """Say where and why, for a list of problems."""
        return f"line {self.line}: {self.reason}"


def read_text(path: str | Path) -> str:
    """Text of a file, whatever common encoding it has.

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
        If it cannot be read, or is not text.
    """
    try:
        return decode(Path(path).read_bytes(), str(path))
    except OSError as error:
        reason = error.strerror or "it cannot be opened"
        message = f"{str(path)!r} cannot be read: {reason.lower()}; check the name."
        raise TableError(message) from error


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
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return content.decode("utf-16", errors="replace")
    if b"\0" in content:
        message = f"{name} is not a text file; save it as CSV."
        raise TableError(message)
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("cp1252", errors="replace")


def read_rows(text: str, name: str, needed: tuple[str, ...]) -> Iterator[Row]:
    """Rows of a CSV table with a heading line.

    Empty lines and lines that start with ``#`` are passed over. Cells may be
    separated by comma, semicolon or tab; columns that are not needed are kept.

    Parameters
    ----------
    text : str
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
        If it has no heading or misses a column.
    """
    table = _numbered(text, name)
    if not table:
        message = f"{name} is empty; it needs the columns {_listed(needed)}."
        raise TableError(message)
    heading_line, cells = table[0]
    heading = [_column(cell) for cell in cells]
    missing = [column for column in needed if column not in heading]
    if missing:
        message = (
            f"{name} has no column {_listed(missing)} in its heading (line "
            f"{heading_line}); it needs {_listed(needed)}."
        )
        raise TableError(message)
    twice = next((each for each in heading if each and heading.count(each) > 1), None)
    if twice is not None:
        message = f"{name} has two columns called {twice!r}; remove or rename one."
        raise TableError(message)
    for line, cells in table[1:]:
        yield Row(line, dict(zip(heading, cells, strict=False)))


def _numbered(text: str, name: str) -> list[tuple[int, list[str]]]:
    """Rows with the line each starts on, without empty ones and comments."""
    plain = text.replace("\r\n", "\n").replace("\r", "\n")
    # Comments are blanked, not dropped, so that the lines keep their numbers.
    lines = [line if _counts(line) else "" for line in plain.split("\n")]
    first = next((line for line in lines if line.strip()), "")
    delimiter = max(_DELIMITERS, key=first.count)
    reader = csv.reader((f"{line}\n" for line in lines), delimiter=delimiter)
    rows, line = [], 1
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                rows.append((line, cells))
            line = reader.line_num + 1
    except csv.Error as error:
        message = f"{name}, line {line}, cannot be read as CSV ({error}); mend it."
        raise TableError(message) from error
    return rows


def _counts(line: str) -> bool:
    """Whether a line is more than a comment or a spreadsheet's note on separators."""
    return not line.lstrip().lower().startswith(("#", "sep="))


def _column(cell: str) -> str:
    """Column by its plain name: ``L*`` is ``l`` and ``400 nm`` is ``400``."""
    return cell.strip().lower().removesuffix("nm").strip().rstrip("*")


def _listed(columns: Iterable[str]) -> str:
    return ", ".join("L" if column == "l" else column for column in columns)
