"""CGATS text (ISO 28178) taken apart: keywords, and tables of fields and rows."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Final

from shadecore.book.errors import BookError

MOST_LINES: Final = 400_000
MOST_FIELDS: Final = 1000
MOST_ROWS: Final = 100_000
LONGEST_LINE: Final = 100_000
MOST_TABLES: Final = 1000
_LONGEST_SAID: Final = 2000
"""Limits of a file; this tool's own, far above what instruments write."""

_WORD: Final = re.compile(r'"((?:[^"]|"")*)"|(\S+)')
_FORMAT: Final = ("BEGIN_DATA_FORMAT", "END_DATA_FORMAT")
_DATA: Final = ("BEGIN_DATA", "END_DATA")


@dataclass(frozen=True)
class CgatsTable:
    """One table.

    Attributes
    ----------
    keywords : dict of str to str
        What is said before it, by keyword in capitals; what is said of an earlier
        table holds until it is said anew. Of one said twice, both, joined by a line
        break.
    fields : tuple of str
        Names of its columns, in capitals.
    rows : tuple of (int, tuple of str)
        Its rows, each with the line it ends on.
    bad : tuple of str
        Rows that cannot be read: a sentence each.
    """

    keywords: dict[str, str]
    fields: tuple[str, ...]
    rows: tuple[tuple[int, tuple[str, ...]], ...]
    bad: tuple[str, ...] = field(default=())


def is_cgats(text: str) -> bool:
    """Whether a text is CGATS by its looks.

    Parameters
    ----------
    text : str
        Of a file.

    Returns
    -------
    bool
    """
    return "BEGIN_DATA_FORMAT" in text.upper()


def parse_cgats(text: str, name: str) -> tuple[CgatsTable, ...]:
    """Take a CGATS file apart.

    Parameters
    ----------
    text : str
        The file.
    name : str
        What to call it in a message.

    Returns
    -------
    tuple of CgatsTable

    Raises
    ------
    BookError
        If it is no such file, breaks off, or is larger than any instrument's.
    """
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    if len(lines) > MOST_LINES:
        message = f"{name} has over {MOST_LINES} lines; split it into several files."
        raise BookError(message)
    numbered = _meaningful(lines, name)
    tables: list[CgatsTable] = []
    keywords: dict[str, str] = {}
    fresh: set[str] = set()
    fields: tuple[str, ...] = ()
    for number, line in numbered:
        word = line.split(maxsplit=1)[0].upper()
        if word == _FORMAT[0]:
            fields = _fields(numbered, name, number)
        elif word == _DATA[0]:
            if not fields:
                message = (
                    f"{name}, line {number}: the data come before their format; write "
                    "BEGIN_DATA_FORMAT first."
                )
                raise BookError(message)
            rows, bad = _rows(numbered, name, number, fields)
            tables.append(CgatsTable(dict(keywords), fields, rows, bad))
            fresh.clear()
            if len(tables) > MOST_TABLES:
                message = f"{name} has over {MOST_TABLES} tables; split it."
                raise BookError(message)
        else:
            _note(keywords, fresh, word, line)
    if not tables:
        message = (
            f"{name} holds no table of data; a CGATS file has one between BEGIN_DATA "
            "and END_DATA."
        )
        raise BookError(message)
    return tuple(tables)


def _meaningful(lines: list[str], name: str) -> Iterator[tuple[int, str]]:
    """Lines with their number, without comments and empty ones."""
    for number, line in enumerate(lines, start=1):
        if len(line) > LONGEST_LINE:
            message = (
                f"{name}, line {number}, is longer than {LONGEST_LINE} characters; "
                "export the file anew."
            )
            raise BookError(message)
        if line.strip() and not line.lstrip().startswith("#"):
            yield number, line


def _note(keywords: dict[str, str], fresh: set[str], word: str, line: str) -> None:
    """Keep what a keyword says."""
    if len(keywords) >= MOST_FIELDS and word not in keywords:
        return
    rest = line.split(maxsplit=1)[1:]
    said = " ".join(_words(rest[0][:_LONGEST_SAID])) if rest else ""
    before = f"{keywords[word]}\n" if word in fresh else ""
    if len(before) <= _LONGEST_SAID:
        keywords[word] = f"{before}{said}"
    fresh.add(word)


def _words(line: str) -> list[str]:
    return [
        found[2] if found[1] is None else found[1].replace('""', '"')
        for found in _WORD.finditer(line)
    ]


def _fields(
    numbered: Iterator[tuple[int, str]], name: str, start: int
) -> tuple[str, ...]:
    found: list[str] = []
    for _number, line in numbered:
        if line.split(maxsplit=1)[0].upper() == _FORMAT[1]:
            break
        found.extend(word.upper() for word in _words(line))
        if len(found) > MOST_FIELDS:
            message = (
                f"{name}, line {start}: the data format has too many fields; export it "
                f"with at most {MOST_FIELDS}."
            )
            raise BookError(message)
    else:
        message = (
            f"{name} breaks off inside its data format (line {start}); export it anew."
        )
        raise BookError(message)
    return tuple(found)


def _rows(
    numbered: Iterator[tuple[int, str]], name: str, start: int, fields: tuple[str, ...]
) -> tuple[tuple[tuple[int, tuple[str, ...]], ...], tuple[str, ...]]:
    """Rows, which may go over several lines, and what cannot be read as one."""
    rows: list[tuple[int, tuple[str, ...]]] = []
    bad: list[str] = []
    waiting: list[str] = []
    for number, line in numbered:
        if line.split(maxsplit=1)[0].upper() == _DATA[1]:
            break
        waiting.extend(_cells(line, len(fields) if not waiting else 0))
        if len(waiting) > len(fields):
            bad.append(
                f"line {number}: {len(waiting)} values stand where the format has "
                f"{len(fields)} fields."
            )
        elif len(waiting) == len(fields):
            rows.append((number, tuple(waiting)))
        if len(waiting) >= len(fields):
            waiting = []
        if len(rows) + len(bad) > MOST_ROWS:
            message = f"{name} has over {MOST_ROWS} samples; split it."
            raise BookError(message)
    else:
        message = f"{name} breaks off inside its data (line {start}); export it anew."
        raise BookError(message)
    if waiting:
        bad.append(f"The last row has only {len(waiting)} of {len(fields)} values.")
    return tuple(rows), tuple(bad)


def _cells(line: str, expected: int) -> list[str]:
    """Values of a line; between tabs there may be none."""
    if "\t" in line:
        cells = [cell.strip() for cell in line.strip("\n").split("\t")]
        if len(cells) == expected:
            return [cell.strip('"') for cell in cells]
    return _words(line)
