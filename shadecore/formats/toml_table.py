"""Checked reading of TOML: what is wrong is named by its file, line and key."""

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any, Final, NoReturn, Protocol

from shadecore.errors import ShadecoreError, TableError
from shadecore.formats.echo import choices, cut, shown, tail
from shadecore.formats.toml_scan import (
    Key,
    Limits,
    excess,
    key_lines,
    last_statement,
    spelled,
)

_AT_LINE: Final = re.compile(r"\(at line (\d+)")
_NAME: Final = 80
"""Characters of a file's name or of a key that are repeated."""
_LIMITS: Final = Limits()


class Wrong(Exception):  # noqa: N818 - it is caught here and never leaves
    """A value is not what a rule asks for.

    Parameters
    ----------
    inside : tuple of str or int
        Where in the value the fault lies; empty where it is the value itself.
    expected : str
        What must stand there, where that is not what the whole value must be.
    """

    def __init__(self, inside: Key = (), expected: str = "") -> None:
        super().__init__()
        self.inside = inside
        self.expected = expected


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
class Source:
    """A TOML text that is being read.

    Attributes
    ----------
    text, name : str
        The whole text, and what to call it in a message.
    error : type
        Class of the errors to raise.
    """

    text: str
    name: str
    error: type[ShadecoreError]

    @cached_property
    def lines(self) -> dict[Key, int]:
        """Line of each key; the text is scanned once, and only for a message."""
        return key_lines(self.text)

    def line_of(self, key: Key) -> int:
        """Line on which a key is given.

        Parameters
        ----------
        key : tuple of str or int
            Names of tables and keys, and places in lists.

        Returns
        -------
        int
            Counted from 1. Where the key is missing, the line of the nearest table
            around it that is there; where that is the file itself, 1.
        """
        while key and key not in self.lines:
            key = key[:-1]
        return self.lines[key] if key else 1

    def refuse(self, line: int, reason: str) -> NoReturn:
        """Say what is wrong on a line.

        Parameters
        ----------
        line : int
            Counted from 1.
        reason : str
            What is wrong and what to do, as the end of a sentence.

        Raises
        ------
        ShadecoreError
            Always, of the class that the source names.
        """
        message = f"{tail(self.name, _NAME)}, line {line}: {reason}."
        raise self.error(message)


@dataclass(frozen=True)
class Table:
    """A table of a TOML file.

    Attributes
    ----------
    source : Source
        The whole file.
    key : tuple
        Where the table is in it.
    values : dict
        What it holds.
    """

    source: Source
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
            A value for each rule.

        Raises
        ------
        ShadecoreError
            If one is missing, not known or not by its rule.
        """
        known = (*rules, *also)
        unknown = next((name for name in self.values if name not in known), None)
        if unknown is not None:
            self.refuse(unknown, f"is not known; take one of {choices(known, unknown)}")
        return {name: self._value(name, rule) for name, rule in rules.items()}

    def tables(self, name: str, most: int = 1000) -> tuple["Table", ...]:
        """Tables of a list ``[[name]]``; none where it is left out.

        Parameters
        ----------
        name : str
            Of the list.
        most : int
            How many there may be.

        Returns
        -------
        tuple of Table

        Raises
        ------
        ShadecoreError
            If it is not a list of tables, or too long.
        """
        found = self.values.get(name, [])
        if not isinstance(found, list) or not all(
            isinstance(one, dict) for one in found
        ):
            self.refuse(name, f"must be a list of tables, each under [[{cut(name)}]]")
        if len(found) > most:
            self.refuse(name, f"has {len(found):,} tables; leave at most {most:,}")
        return tuple(
            Table(self.source, (*self.key, name, index), each)
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
        ShadecoreError
            If it is not a table.
        """
        if name not in self.values:
            return None
        found = self.values[name]
        if not isinstance(found, dict):
            self.refuse(name, f"must be a table, under [{cut(name)}]")
        return Table(self.source, (*self.key, name), found)

    def each_table(self) -> Iterator[tuple[str, "Table"]]:
        """Tables in this one by their names, as the file has them.

        Yields
        ------
        str, Table

        Raises
        ------
        ShadecoreError
            If one of its values is no table.
        """
        for name in self.values:
            found = self.table(name)
            if found is not None:
                yield name, found

    def refuse(self, name: str | int, reason: str, *inside: str | int) -> NoReturn:
        """Say what is wrong with a key.

        Parameters
        ----------
        name : str or int
            The key; where it is missing, the line is that of the table.
        reason : str
            What is wrong and what to do, as the end of a sentence.
        *inside : str or int
            Where in the key's value it is.

        Raises
        ------
        ShadecoreError
            Always, of the class that the source names.
        """
        key = (*self.key, name, *inside)
        self.source.refuse(
            self.source.line_of(key), f"{cut(spelled(key), _NAME)} {reason}"
        )

    def _value(self, name: str, rule: Rule) -> Any:  # noqa: ANN401 - of any type
        if name not in self.values:
            if rule.needed:
                self.refuse(name, f"is missing; give {rule.expected}")
            return rule.default
        value = self.values[name]
        try:
            return rule.read(value)
        except Wrong as wrong:
            for part in wrong.inside:
                value = value[part]
            expected = wrong.expected or rule.expected
            reason = f"must be {expected}, not {shown(value)}"
            self.refuse(name, reason, *wrong.inside)


def parse_table(
    text: str,
    name: str,
    error: type[ShadecoreError] = TableError,
    limits: Limits = _LIMITS,
) -> Table:
    """Read a TOML text, each part of it once.

    Parameters
    ----------
    text : str
        The text.
    name : str
        What to call it in a message.
    error : type
        Class of the errors to raise, here and by the table.
    limits : Limits
        How much it may hold; checked before it is parsed.

    Returns
    -------
    Table
        Its top.

    Raises
    ------
    ShadecoreError
        If it is not TOML or beyond its limits; of the class given.
    """
    # Longer than it may be, it is not copied either.
    if len(text) <= limits.characters:
        text = text.removeprefix("\N{ZERO WIDTH NO-BREAK SPACE}")
        text = text.replace("\r\n", "\n")
    source = Source(text, name, error)
    beyond = excess(text, limits)
    if beyond is not None:
        line, reason = beyond
        source.refuse(line, f"{reason}; make it shorter or correct it")
    try:
        return Table(source, (), tomllib.loads(text))
    # A date that is none in the calendar raises more than the decode error.
    except (ValueError, RecursionError) as fault:
        found = _AT_LINE.search(str(fault))
        line = int(found.group(1)) if found else last_statement(text)
        written = shown(text.split("\n")[line - 1].strip())
        reason = (
            f"{written} cannot be read as TOML, where a line is like coats = 2 or "
            f'name = "Clear"; correct it'
        )
        source.refuse(line, reason)


def read_table(
    path: str | Path,
    error: type[ShadecoreError] = TableError,
    limits: Limits = _LIMITS,
) -> Table:
    """Read a TOML file; see :func:`parse_table`.

    Parameters
    ----------
    path : str or Path
        The file, in UTF-8.
    error : type
        Class of the errors to raise.
    limits : Limits
        How much it may hold.

    Returns
    -------
    Table

    Raises
    ------
    ShadecoreError
        If it cannot be opened or read; of the class given.
    """
    # Four octets are the most that a character takes in UTF-8.
    most = 4 * limits.characters
    named = tail(str(path), _NAME)
    try:
        with Path(path).open("rb") as file:
            content = file.read(most + 1)
        if len(content) > most:
            message = (
                f"{named} has more than the {limits.characters:,} characters that are "
                "read; make it shorter."
            )
            raise error(message)
        text = content.decode("utf-8-sig")
    except OSError as fault:
        reason = (fault.strerror or "it cannot be opened").lower()
        message = f"{named!r} cannot be read: {reason}; check the name."
        raise error(message) from fault
    except UnicodeDecodeError as fault:
        line = fault.object[: fault.start].count(b"\n") + 1
        message = f"{named}, line {line}, is not UTF-8 text; save it as UTF-8."
        raise error(message) from fault
    return parse_table(text, Path(path).name, error, limits)
