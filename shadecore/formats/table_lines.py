"""Lines of a CSV table: comments between its rows left out, and none without end."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from shadecore.errors import TableError
from shadecore.formats.text_file import MOST_LINE

MOST_LINES: Final = 2_000_000
"""Of one table; what is longer takes too long to read."""
_MOST_LINES_OF_A_ROW: Final = 1000
"""A quoted cell may go over some lines; over more, its quote was never closed."""


@dataclass
class TableLines:
    """Lines of a table for the CSV reader, without comments between the rows.

    Attributes
    ----------
    source : iterator of str
        Lines with their ends.
    name : str
        What to call the table in a message.
    number : int
        Lines so far.
    start : int
        Line that the row starts on; 0 before it has started.
    """

    source: Iterator[str]
    name: str
    number: int = 0
    start: int = 0

    def __iter__(self) -> Iterator[str]:
        return self

    def __next__(self) -> str:
        while True:
            line = next(self.source)
            self.number += 1
            self._check(line)
            # A line in the middle of a quoted cell is never a comment.
            if self.start:
                return line
            if _counts(line):
                self.start = self.number
                return line

    def _check(self, line: str) -> None:
        reason = ""
        if len(line) > MOST_LINE:
            reason = f"line {self.number:,} has more than {MOST_LINE:,} characters"
        elif self.number > MOST_LINES:
            reason = f"it has more than {MOST_LINES:,} lines; split it"
        elif self.start and self.number - self.start >= _MOST_LINES_OF_A_ROW:
            reason = f"line {self.start:,}: a quote is opened and not closed; close it"
        if reason:
            message = f"{self.name} cannot be read as a table: {reason}."
            raise TableError(message)


def _counts(line: str) -> bool:
    """Whether a line is more than a blank, a comment or a note on separators."""
    start = line.lstrip()
    return bool(start) and not start.lower().startswith(("#", "sep="))
