"""Checked reading of TOML: what is wrong is named by its line and its key."""

import bisect
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final, NoReturn, Protocol

from shadecore.errors import JobError

Key = tuple[str | int, ...]
"""Names and places, from the file's top: ``("product", "base", "components", 0)``."""

_SHOWN_CHARACTERS: Final = 40
_AT_LINE: Final = re.compile(r"\(at line (\d+)")


class Wrong(Exception):  # noqa: N818 - it is caught here and never leaves
    """A value is not what a rule asks for."""


class Rule(Protocol):
    """What a value must be."""

    @property
    def expected(self) -> str:
        """In words, as the end of "must be ..."."""

    @property
    def needed(self) -> bool:
        """Whether it may not be left out."""

    @property
    def default(self) -> Any:  # noqa: ANN401 - of any type
        """What it is where it is left out."""

    def read(self, value: object) -> Any:  # noqa: ANN401 - of any type
        """The value as it is used; raises ``Wrong``."""


@dataclass(frozen=True)
class Table:
    """A table of a TOML file.

    Attributes
    ----------
    text, name : str
        The whole file, and what to call it in a message.
    key : tuple
        Where the table is in it.
    values : dict
        What it holds.
    """

    text: str
    name: str
    key: Key
    values: dict[str, Any]

    def read(
        self, rules: Mapping[str, Rule], also: tuple[str, ...] = ()
    ) -> dict[str, Any]:
        """Values by rules.

        Parameters
        ----------
        rules : mapping of str to Rule
            What its values must be.
        also : tuple of str
            Names of tables in it, which are read apart.

        Returns
        -------
        dict

        Raises
        ------
        JobError
            If one is missing, not known or not by its rule.
        """
        known = (*rules, *also)
        unknown = next((name for name in self.values if name not in known), None)
        if unknown is not None:
            self.refuse(unknown, f"is not known; take one of {', '.join(known)}")
        return {name: self._value(name, rule) for name, rule in rules.items()}

    def tables(self, name: str) -> tuple["Table", ...]:
        """Tables of a list ``[[name]]``; none where it is left out.

        Parameters
        ----------
        name : str
            Of the list.

        Returns
        -------
        tuple of Table

        Raises
        ------
        JobError
            If it is not a list of tables.
        """
        found = self.values.get(name, [])
        if not isinstance(found, list) or not all(
            isinstance(one, dict) for one in found
        ):
            self.refuse(name, f"must be a list of tables, each under [[{name}]]")
        return tuple(
            Table(self.text, self.name, (*self.key, name, index), each)
            for index, each in enumerate(found)
        )

    def table(self, name: str) -> "Table | None":
        """A table in this one; None where it is left out.

        Parameters
        ----------
        name : str
            Of the table.

        Returns
        -------
        Table or None

        Raises
        ------
        JobError
            If it is not a table.
        """
        if name not in self.values:
            return None
        found = self.values[name]
        if not isinstance(found, dict):
            self.refuse(name, f"must be a table, under [{name}]")
        return Table(self.text, self.name, (*self.key, name), found)

    def refuse(self, name: str, reason: str) -> NoReturn:
        """Say what is wrong with a key.

        Parameters
        ----------
        name : str
            The key; where it is missing, the line is that of the table.
        reason : str
            What is wrong and what to do, as the end of a sentence.

        Raises
        ------
        JobError
            Always.
        """
        key = (*self.key, name)
        message = (
            f"{self.name}, line {line_of(self.text, key)}: {spelled(key)} {reason}."
        )
        raise JobError(message)

    def _value(self, name: str, rule: Rule) -> Any:  # noqa: ANN401 - of any type
        if name not in self.values:
            if rule.needed:
                self.refuse(name, f"is missing; give {rule.expected}")
            return rule.default
        value = self.values[name]
        try:
            return rule.read(value)
        except Wrong:
            self.refuse(name, f"must be {rule.expected}, not {_shown(value)}")


def parse_table(text: str, name: str) -> Table:
    """Read a TOML file.

    Parameters
    ----------
    text : str
        The file.
    name : str
        What to call it in a message.

    Returns
    -------
    Table
        Its top.

    Raises
    ------
    JobError
        If it is not TOML.
    """
    text = text.removeprefix("\N{ZERO WIDTH NO-BREAK SPACE}").replace("\r\n", "\n")
    try:
        return Table(text, name, (), tomllib.loads(text))
    # What no parser of numbers or nesting takes raises more than the decode error.
    except (ValueError, RecursionError) as error:
        found = _AT_LINE.search(str(error))
        lines = text.split("\n")
        line = int(found.group(1)) if found else _first_unread(lines)
        message = (
            f"{name}, line {line}: {_shown(lines[line - 1].strip())} cannot be read as "
            f'TOML, where a line is like coats = 2 or name = "Clear"; correct it.'
        )
        raise JobError(message) from error


def line_of(text: str, key: Key) -> int:
    r"""Line of a TOML file on which a key is given.

    The file is cut after ever fewer lines until the key is gone: that follows TOML's
    own grammar through strings, comments and lists over many lines.

    Parameters
    ----------
    text : str
        A file that can be read as TOML.
    key : tuple of str or int
        Names of tables and keys, and places in lists.

    Returns
    -------
    int
        Counted from 1. Where the key is missing, the line of the nearest table around
        it that is there; where that is the file itself, 1.

    Examples
    --------
    >>> line_of("# mine\n[gun]\ntip_mm = 1.3\n", ("gun", "tip_mm"))
    3
    >>> line_of("# mine\n[gun]\ntip_mm = 1.3\n", ("gun", "inlet_bar"))
    2
    """
    lines = text.replace("\r\n", "\n").split("\n")
    while key and not _holds(tomllib.loads(text), key):
        key = key[:-1]
    if not key:
        return 1
    last = bisect.bisect_left(
        range(len(lines)), 1, key=lambda count: _holds(_head(lines, count)[1], key)
    )
    # A value over several lines is given where it begins.
    return _head(lines, last - 1)[0] + 1


def spelled(key: Key) -> str:
    """A key as TOML writes it, the first of a list counted as 1.

    Parameters
    ----------
    key : tuple of str or int
        Names of tables and keys, and places in lists.

    Returns
    -------
    str

    Examples
    --------
    >>> spelled(("product", "base", "components", 0, "parts"))
    'product.base.components[1].parts'
    """
    said = ""
    for part in key:
        said += f"[{part + 1}]" if isinstance(part, int) else f".{part}"
    return said.removeprefix(".")


def _head(lines: list[str], count: int) -> tuple[int, dict[str, Any]]:
    """The most lines, up to a count, that can be read by themselves, and their data."""
    for upto in range(count, 0, -1):
        try:
            return upto, tomllib.loads("\n".join(lines[:upto]))
        except (ValueError, RecursionError):
            continue
    return 0, {}


def _first_unread(lines: list[str]) -> int:
    return min(_head(lines, len(lines))[0] + 1, len(lines))


def _holds(data: object, key: Key) -> bool:
    for part in key:
        if isinstance(part, int):
            if not isinstance(data, list) or part >= len(data):
                return False
            data = data[part]
        else:
            if not isinstance(data, dict) or part not in data:
                return False
            data = data[part]
    return True


def _shown(value: object) -> str:
    said = repr(value)
    if len(said) > _SHOWN_CHARACTERS:
        return f"{said[:_SHOWN_CHARACTERS]}..."
    return said
