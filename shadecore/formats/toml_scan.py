"""One pass over a TOML text: whether it is within limits, and where its keys stand.

The text is parsed by the standard library; this scan follows TOML 1.0's strings,
comments and brackets, which is enough to tell where a key is given.
"""

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Final, NamedTuple

Key = tuple[str | int, ...]
"""Names and places, from the file's top: ``("product", "base", "components", 0)``."""

_TOKEN: Final = re.compile(
    r'''
      (?P<text> """(?:[^"\\]+|\\[\s\S]|"(?!""))*+"{3,5}
              | \'\'\'(?:[^']+|'(?!\'\'))*+'{3,5} )
    | (?P<unclosed> """ | \'\'\' )
    | (?P<short> "(?:[^"\\\n]+|\\[^\n])*+" | '[^'\n]*+' )
    | (?P<comment> \#[^\n]* )
    | (?P<newline> \n )
    | (?P<mark> [\[\]{}=,.] )
    | (?P<word> [^\s\[\]{}=,."'\#]+ )
    ''',
    re.VERBOSE,
)


@dataclass(frozen=True)
class Limits:
    """How much a TOML text may hold, so that reading it stays quick.

    Attributes
    ----------
    characters : int
        Of the whole text.
    depth : int
        Of lists and tables in each other, and of names joined by dots.
    items : int
        Of one list or one table in braces.
    digits : int
        Of one number.
    """

    characters: int = 1_000_000
    depth: int = 16
    items: int = 10_000
    digits: int = 60


class Token(NamedTuple):
    """A piece of a TOML text.

    Attributes
    ----------
    kind : str
        ``text``, ``unclosed``, ``short``, ``comment``, ``newline``, ``mark`` or
        ``word``.
    value : str
        As it stands there.
    line : int
        Where it begins, counted from 1.
    """

    kind: str
    value: str
    line: int


def tokens(text: str) -> Iterator[Token]:
    """Pieces of a TOML text, up to a string that is never closed.

    Parameters
    ----------
    text : str
        Any text; what is no piece of TOML is passed over.

    Yields
    ------
    Token
    """
    line = 1
    for found in _TOKEN.finditer(text):
        kind, value = str(found.lastgroup), found.group()
        yield Token(kind, value, line)
        if kind == "unclosed":
            return
        if kind in {"newline", "text"}:
            line += value.count("\n")


def excess(text: str, limits: Limits) -> tuple[int, str] | None:
    """Where a TOML text is beyond its limits.

    Parameters
    ----------
    text : str
        Any text.
    limits : Limits
        What it may hold.

    Returns
    -------
    tuple of int and str, or None
        Line and what is too much there, as a part of a sentence; None where the text
        is within the limits.
    """
    if len(text) > limits.characters:
        return 1, (
            f"it has {len(text):,} characters, more than the {limits.characters:,} "
            "that are read"
        )
    gauge = _Gauge(limits)
    for token in tokens(text):
        reason = gauge.take(token)
        if reason:
            return token.line, reason
    return None


@dataclass
class _Gauge:
    """What is open at a place of the text."""

    limits: Limits
    items: list[int] = field(default_factory=list)
    dots: int = 0

    def take(self, token: Token) -> str:
        """Go on by a token; what is too much there, or nothing."""
        if token.kind == "word":
            return self._number(token.value)
        if token.kind == "mark":
            self.dots = self.dots + 1 if token.value == "." else 0
            return self._mark(token.value)
        if token.kind == "newline":
            self.dots = 0
        return ""

    def _number(self, word: str) -> str:
        digits = sum(letter.isdigit() for letter in word)
        if digits > self.limits.digits and word.lstrip("+-")[:1].isdigit():
            return f"a number has {digits:,} digits, more than {self.limits.digits}"
        return ""

    def _mark(self, mark: str) -> str:
        if mark in "[{":
            self.items.append(1)
        elif mark in "]}":
            del self.items[-1:]
        elif mark == "," and self.items:
            self.items[-1] += 1
            if self.items[-1] > self.limits.items:
                return f"a list has more than {self.limits.items:,} items"
        if max(len(self.items), self.dots) > self.limits.depth:
            return f"more than {self.limits.depth} lists or tables lie in each other"
        return ""


def key_lines(text: str) -> dict[Key, int]:
    r"""Line of each key and each item of a TOML text.

    Parameters
    ----------
    text : str
        TOML that the parser takes; of any other, what comes before its fault.

    Returns
    -------
    dict of tuple to int
        Lines counted from 1, tables at their first heading.

    Examples
    --------
    >>> key_lines("# mine\n[gun]\ntip_mm = 1.3\n")
    {('gun',): 2, ('gun', 'tip_mm'): 3}
    """
    walk = _Walk()
    for token in tokens(text):
        walk.take(token)
    return walk.lines


def last_statement(text: str) -> int:
    """Line where the last heading or key begins that a TOML text gives.

    Parameters
    ----------
    text : str
        Whose last value is never closed.

    Returns
    -------
    int
        Counted from 1.
    """
    walk = _Walk()
    for token in tokens(text):
        walk.take(token)
    return walk.began


@dataclass
class _Walk:
    """A way through a TOML text that notes where keys are given."""

    lines: dict[Key, int] = field(default_factory=dict)
    began: int = 1
    """Line of the statement."""
    _counts: dict[Key, int] = field(default_factory=dict)
    """Tables so far under each ``[[heading]]``."""
    _table: Key = ()
    _open: list[Key] = field(default_factory=list)
    """Keys of the lists and tables in brackets that are open."""
    _lists: list[int | None] = field(default_factory=list)
    """Place in each of them that is a list."""
    _parts: list[str] = field(default_factory=list)
    _part_line: int = 1
    _at: Key = ()
    _state: str = "key"
    _doubled: bool = False

    def take(self, token: Token) -> None:
        """Go on by a token."""
        if token.kind in {"word", "short", "text"}:
            self._word(token)
        elif token.kind == "newline":
            self._newline()
        elif token.kind == "mark":
            self._mark(token)

    def _word(self, token: Token) -> None:
        if self._state == "value":
            self.lines.setdefault(self._at, token.line)
            return
        if not self._parts:
            self._part_line = token.line
            self._begin(token)
        self._parts.append(_plain(token))

    def _begin(self, token: Token) -> None:
        if not self._open and self._state == "key":
            self.began = token.line

    def _newline(self) -> None:
        if not self._open:
            self._state, self._parts = "key", []

    def _mark(self, token: Token) -> None:
        if self._state == "heading":
            self._heading(token)
        elif self._state == "key":
            self._key(token)
        else:
            self._value(token)

    def _key(self, token: Token) -> None:
        if token.value == "=":
            self._at = self._open[-1] if self._open else self._table
            for part in self._parts:
                self._at = (*self._at, part)
                self.lines.setdefault(self._at, self._part_line)
            self._state, self._parts = "value", []
        elif token.value == "[" and not self._parts:
            self._begin(token)
            self._state, self._doubled = "heading", False
        elif token.value == "}":
            self._close()

    def _heading(self, token: Token) -> None:
        if token.value == "[":
            self._doubled = True
        elif token.value == "]" and self._parts:
            self._enter(token.line)
            self._parts = []

    def _enter(self, line: int) -> None:
        """Go into the table of a heading."""
        key: Key = ()
        for place, part in enumerate(self._parts, start=1):
            key = (*key, part)
            self.lines.setdefault(key, line)
            if self._doubled and place == len(self._parts):
                self._counts[key] = self._counts.get(key, 0) + 1
            if key in self._counts:
                key = (*key, self._counts[key] - 1)
                self.lines.setdefault(key, line)
        self._table = key

    def _value(self, token: Token) -> None:
        if token.value in "[{":
            self.lines.setdefault(self._at, token.line)
            self._open.append(self._at)
            self._lists.append(0 if token.value == "[" else None)
            if token.value == "[":
                self._at = (*self._at, 0)
            else:
                self._state = "key"
        elif token.value in "]}":
            self._close()
        elif token.value == "," and self._open:
            self._next()

    def _next(self) -> None:
        """Go on to the next item of what is open."""
        place = self._lists[-1]
        if place is None:
            self._state = "key"
            return
        self._lists[-1] = place + 1
        self._at = (*self._open[-1], place + 1)

    def _close(self) -> None:
        if self._open:
            self._at = self._open.pop()
            self._lists.pop()
        self._state = "value"


def _plain(token: Token) -> str:
    """A part of a key without its quotes."""
    if token.kind == "word":
        return token.value
    try:
        return str(tomllib.loads(f"key = {token.value}")["key"])
    except tomllib.TOMLDecodeError:
        return token.value


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
