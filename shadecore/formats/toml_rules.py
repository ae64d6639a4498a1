"""What a value in a TOML file must be, each in words that can be shown."""

import math
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any

from shadecore.formats.echo import choices
from shadecore.formats.toml_table import Rule, Wrong


@dataclass(frozen=True)
class Number:
    """A number within limits.

    Attributes
    ----------
    low, high : float
        Limits, both allowed.
    unit : str
        As it is written; empty where it has none.
    needed : bool
        Whether it may not be left out.
    default : float or None
        What it is where it is left out.
    """

    low: float
    high: float
    unit: str = ""
    needed: bool = True
    default: float | None = None

    @property
    def expected(self) -> str:
        """In words."""
        unit = f" {self.unit}" if self.unit else ""
        return f"a number from {self.low:g} to {self.high:g}{unit}"

    def read(self, value: object) -> float:
        """The number."""
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise Wrong
        # Also refuses what is not a number, which compares with nothing.
        if not self.low <= value <= self.high:
            raise Wrong
        return float(value)


@dataclass(frozen=True)
class Whole:
    """A whole number within limits.

    Attributes
    ----------
    low, high : int
        Limits, both allowed.
    needed : bool
        Whether it may not be left out.
    default : int
        What it is where it is left out.
    """

    low: int
    high: int
    needed: bool = True
    default: int = 0

    @property
    def expected(self) -> str:
        """In words."""
        return f"a whole number from {self.low} to {self.high}"

    def read(self, value: object) -> int:
        """The number."""
        if isinstance(value, bool) or not isinstance(value, int):
            raise Wrong
        if not self.low <= value <= self.high:
            raise Wrong
        return value


@dataclass(frozen=True)
class Text:
    """Text on one line that is not blank.

    Attributes
    ----------
    needed : bool
        Whether it may not be left out.
    default : str
        What it is where it is left out.
    most : int
        Characters that it may have.
    """

    needed: bool = True
    default: str = ""
    most: int = 1000

    @property
    def expected(self) -> str:
        """In words."""
        return f"text in quotes, on one line, of at most {self.most} characters"

    def read(self, value: object) -> str:
        """The text without blanks about it."""
        if not isinstance(value, str) or not value.strip():
            raise Wrong
        if not value.strip().isprintable() or len(value) > self.most:
            raise Wrong
        return value.strip()


@dataclass(frozen=True)
class FreeText:
    """Text of any kind, also empty and over several lines; it stays as it is.

    Attributes
    ----------
    needed : bool
        Whether it may not be left out.
    default : str
        What it is where it is left out.
    most : int
        Characters that it may have.
    """

    needed: bool = False
    default: str = ""
    most: int = 200_000

    @property
    def expected(self) -> str:
        """In words."""
        return f"text in quotes of at most {self.most} characters"

    def read(self, value: object) -> str:
        """The text."""
        if not isinstance(value, str) or len(value) > self.most:
            raise Wrong
        return value


@dataclass(frozen=True)
class Flag:
    """True or false.

    Attributes
    ----------
    needed : bool
        Whether it may not be left out.
    default : bool
        What it is where it is left out.
    """

    needed: bool = True
    default: bool = False

    @property
    def expected(self) -> str:
        """In words."""
        return "true or false"

    def read(self, value: object) -> bool:
        """The flag."""
        if not isinstance(value, bool):
            raise Wrong
        return value


@dataclass(frozen=True)
class Choice:
    """One of some words.

    Attributes
    ----------
    options : tuple of str
        The words.
    needed : bool
        Whether it may not be left out.
    default : str
        What it is where it is left out.
    """

    options: tuple[str, ...]
    needed: bool = True
    default: str = ""

    @property
    def expected(self) -> str:
        """In words."""
        return f"one of {choices(quoted(self.options))}"

    def read(self, value: object) -> str:
        """The word."""
        if not isinstance(value, str) or value not in self.options:
            raise Wrong
        return value


@dataclass(frozen=True)
class Above:
    """A number above zero.

    Attributes
    ----------
    high : float
        Most it may be.
    unit : str
        As it is written; empty where it has none.
    """

    high: float
    unit: str = ""
    needed: bool = field(default=True, init=False)
    default: float = field(default=math.nan, init=False)

    @property
    def expected(self) -> str:
        """In words."""
        unit = f" {self.unit}" if self.unit else ""
        return f"a number above 0 and up to {self.high:g}{unit}"

    def read(self, value: object) -> float:
        """The number."""
        number = Number(0.0, self.high).read(value)
        if number <= 0.0:
            raise Wrong
        return number


@dataclass(frozen=True)
class Moment:
    """A date and time, without a time zone.

    Attributes
    ----------
    needed : bool
        Whether it may not be left out.
    default : datetime or None
        What it is where it is left out.
    """

    needed: bool = True
    default: datetime | None = None

    @property
    def expected(self) -> str:
        """In words."""
        return "a date and time like 2026-12-01T08:00:00, without a zone"

    def read(self, value: object) -> datetime:
        """The moment."""
        if not isinstance(value, datetime) or value.tzinfo is not None:
            raise Wrong
        return value


@dataclass(frozen=True)
class Day:
    """A date without a time; it may not be left out."""

    needed: bool = field(default=True, init=False)
    default: None = field(default=None, init=False)

    @property
    def expected(self) -> str:
        """In words."""
        return "a date like 2026-12-01"

    def read(self, value: object) -> date:
        """The date."""
        if not isinstance(value, date) or isinstance(value, datetime):
            raise Wrong
        return value


@dataclass(frozen=True)
class ListOf:
    """A list; it may be empty and left out.

    Attributes
    ----------
    each : Rule
        What each item must be.
    most : int
        Items that it may have.
    """

    each: Rule
    most: int = 1000
    needed: bool = field(default=False, init=False)
    default: tuple[Any, ...] = field(default=(), init=False)

    @property
    def expected(self) -> str:
        """In words."""
        return f"a list of at most {self.most}, each {self.each.expected}"

    def read(self, value: object) -> tuple[Any, ...]:
        """The items."""
        if not isinstance(value, list) or len(value) > self.most:
            raise Wrong
        return tuple(
            _inside(place, item, self.each) for place, item in enumerate(value)
        )


@dataclass(frozen=True)
class MapOf:
    """A table from names to values of one kind; it may be empty and left out.

    Attributes
    ----------
    each : Rule
        What each value must be.
    most : int
        Names that it may have.
    """

    each: Rule
    most: int = 1000
    needed: bool = field(default=False, init=False)
    default: dict[str, Any] = field(default_factory=dict, init=False)

    @property
    def expected(self) -> str:
        """In words."""
        return f"a table of at most {self.most} names, each {self.each.expected}"

    def read(self, value: object) -> dict[str, Any]:
        """The values by their names."""
        if not isinstance(value, dict) or len(value) > self.most:
            raise Wrong
        return {name: _inside(name, item, self.each) for name, item in value.items()}


@dataclass(frozen=True)
class OrNone:
    """What may be left out, and is None then.

    Attributes
    ----------
    each : Rule
        What it must be where it is given.
    """

    each: Rule
    needed: bool = field(default=False, init=False)
    default: None = field(default=None, init=False)

    @property
    def expected(self) -> str:
        """In words."""
        return self.each.expected

    def read(self, value: object) -> Any:  # noqa: ANN401 - of any type
        """The value."""
        return self.each.read(value)


def _inside(place: str | int, item: object, rule: Rule) -> Any:  # noqa: ANN401 - of any type
    """An item by its rule; what is wrong is told where it lies."""
    try:
        return rule.read(item)
    except Wrong as wrong:
        expected = wrong.expected or rule.expected
        raise Wrong((place, *wrong.inside), expected) from None


def quoted(words: Iterable[str]) -> tuple[str, ...]:
    """Words as TOML writes them.

    Parameters
    ----------
    words : iterable of str
        The words.

    Returns
    -------
    tuple of str
    """
    return tuple(f'"{word}"' for word in words)
