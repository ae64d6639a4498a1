"""Reading a CSV table row by row, so that one bad row costs only itself."""

import csv
import io
from collections.abc import Iterator
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
            return float(value.replace("\N{MINUS SIGN}", "-").replace(",", "."))
        except ValueError:
            message = f"column {column!r} holds {value!r}, which is not a number."
            raise TableError(message) from None

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
        message = f"{path} cannot be read: {reason.lower()}; check the name."
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
    lines = [
        (number, line)
        for number, line in enumerate(io.StringIO(text), start=1)
        if line.strip() and not line.lstrip().startswith("#")
    ]
    if not lines:
        message = f"{name} is empty; it needs the columns {', '.join(needed)}."
        raise TableError(message)
    heading_line = lines[0][1]
    delimiter = max(_DELIMITERS, key=heading_line.count)
    heading = [cell.strip().lower() for cell in _split(heading_line, delimiter)]
    missing = [column for column in needed if column not in heading]
    if missing:
        message = (
            f"{name} has no column {', '.join(map(repr, missing))} in its heading "
            f"(line {lines[0][0]}); it needs {', '.join(needed)}."
        )
        raise TableError(message)
    for number, line in lines[1:]:
        yield Row(number, dict(zip(heading, _split(line, delimiter), strict=False)))


def _split(line: str, delimiter: str) -> list[str]:
    return next(csv.reader([line.rstrip("\r\n")], delimiter=delimiter), [])
