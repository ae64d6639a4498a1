"""What a list in a TOML file must be: words of a choice, or rising numbers."""

from dataclasses import dataclass, field
from itertools import pairwise

from shadecore.formats.echo import choices
from shadecore.formats.toml_rules import Number, Whole, quoted
from shadecore.formats.toml_table import Wrong


@dataclass(frozen=True)
class Choices:
    """A list of some words, each at most once; it may be empty.

    Attributes
    ----------
    options : tuple of str
        The words.
    needed : bool
        Whether it may not be left out.
    """

    options: tuple[str, ...]
    needed: bool = True
    default: tuple[str, ...] = field(default=(), init=False)

    @property
    def expected(self) -> str:
        """In words."""
        named = choices(quoted(self.options))
        return f"a list, empty or of {named}, each at most once"

    def read(self, value: object) -> tuple[str, ...]:
        """The words."""
        if not isinstance(value, list) or any(one not in self.options for one in value):
            raise Wrong
        if len(set(value)) != len(value):
            raise Wrong
        return tuple(value)


@dataclass(frozen=True)
class Rising:
    """A list of numbers within limits, each above the one before.

    Attributes
    ----------
    each : Number or Whole
        What each must be.
    needed : bool
        Whether it may not be left out.
    empty : bool
        Whether it may be empty.
    """

    each: Number | Whole
    needed: bool = True
    empty: bool = False
    default: tuple[float, ...] = field(default=(), init=False)

    @property
    def expected(self) -> str:
        """In words."""
        return f"a list of rising numbers, each {self.each.expected}"

    def read(self, value: object) -> tuple[float, ...]:
        """The numbers."""
        if not isinstance(value, list) or not (value or self.empty):
            raise Wrong
        found = tuple(self.each.read(one) for one in value)
        if any(after <= before for before, after in pairwise(found)):
            raise Wrong
        return found
