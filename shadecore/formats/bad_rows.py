"""Rows of a table that cannot be used: where they are and why."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Final

from shadecore.errors import ShadecoreError, sentence
from shadecore.formats.echo import tail
from shadecore.formats.table import Row

BAD_ROWS_KEPT: Final = 20
"""Rows that cannot be used and are named one by one."""


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


@dataclass
class BadRows:
    """Rows that could not be used: the first ones, and how many came after them."""

    _kept: list[BadRow] = field(default_factory=list)
    _more: int = 0
    _first_more: int = 0
    _last: int = 0

    def add(self, line: int, reason: str) -> None:
        """Note a row.

        Parameters
        ----------
        line : int
            Line of the file it stands on; not before the last one noted.
        reason : str
            What is wrong with it.
        """
        if len(self._kept) < BAD_ROWS_KEPT:
            self._kept.append(BadRow(line, reason))
            return
        self._first_more = self._first_more or line
        self._more += 1
        self._last = line

    def found(self) -> tuple[BadRow, ...]:
        """Rows that could not be used.

        Returns
        -------
        tuple of BadRow
            At most 21: the last one stands for all that are not named.
        """
        if not self._more:
            return tuple(self._kept)
        rest = (
            f"{self._more:,} more rows from here on cannot be used, the last on line "
            f"{self._last:,}; mend those above first."
        )
        return (*self._kept, BadRow(self._first_more, rest))

    def none_used(self, name: str, what: str) -> str:
        """Say that a table held nothing that can be used, and why.

        Parameters
        ----------
        name : str
            What to call the table.
        what : str
            What it should hold, as ``colour``.

        Returns
        -------
        str
            A sentence that names the first of the rows.
        """
        why = f" ({self._kept[0]})" if self._kept else ""
        return sentence(f"{tail(name)} holds no {what} that can be used{why}.")


@contextmanager
def at_row(row: Row, name: str, error: type[ShadecoreError]) -> Iterator[None]:
    """Say on which row of a table something is wrong.

    Parameters
    ----------
    row : Row
        The row.
    name : str
        What to call the table.
    error : type
        Class of the error to raise.

    Yields
    ------
    None

    Raises
    ------
    ShadecoreError
        Of that class, for any that is raised inside.
    """
    try:
        yield
    except ShadecoreError as fault:
        message = f"{tail(name)}, line {row.line}: {fault}"
        raise error(message) from fault
