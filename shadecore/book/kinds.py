"""Each kind of thing in the book: its table, its words, and its record as a row."""

import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from typing import Any, Final, Generic, TypeVar

import msgspec

from shadecore.book.errors import BookError
from shadecore.book.kept import Kept
from shadecore.book.records import BookCard, BookColour, BookPhoto, BookSeen, BookShelf
from shadecore.book.schema import columns_of, references_of
from shadecore.book.shop_records import (
    BookJob,
    BookLeftOver,
    BookSheet,
    BookSteps,
    PaintLine,
    ShopSettings,
    SprayGun,
)
from shadecore.errors import ShadecoreError

T = TypeVar("T")

_UNREADABLE: Final = (msgspec.MsgspecError, ShadecoreError, TypeError)
"""What reading a row raises where it is not what it must be."""


@dataclass(frozen=True)
class Kind(Generic[T]):
    """A kind of thing.

    Attributes
    ----------
    table : str
        Where it is kept.
    record : type
        Its record.
    word : str
        What one is called in a message.
    searched : tuple of str
        Its texts that a search looks in.
    """

    table: str
    record: type[T]
    word: str
    searched: tuple[str, ...] = ("name",)

    def row(self, thing: T) -> dict[str, Any]:
        """Columns that hold a record.

        Parameters
        ----------
        thing : object
            The record.

        Returns
        -------
        dict of str to object

        Raises
        ------
        BookError
            If it would not be read back as it is.
        """
        plain = _plain(self, thing)
        apart = {column: plain.pop(column) for column in self.columns}
        apart |= {column: apart[column] or None for column in self.references}
        row = {
            "name": getattr(thing, "name", ""),
            "name_key": folded(getattr(thing, "name", "")),
            "code_key": folded(getattr(thing, "code", "")),
            "search": folded(" ".join(getattr(thing, each) for each in self.searched)),
            "body": msgspec.json.encode(plain).decode("utf-8"),
            **apart,
        }
        try:
            same = self._read(row) == thing
        except _UNREADABLE:
            same = False
        if not same:
            message = f"The {self.word} holds a value that cannot be kept; correct it."
            raise BookError(message)
        return row

    def thing(self, row: Mapping[Any, Any]) -> T:
        """The record in a row.

        Parameters
        ----------
        row : mapping of str to object
            Its columns.

        Returns
        -------
        object

        Raises
        ------
        BookError
            If the row is damaged.
        """
        try:
            return self._read(row)
        except _UNREADABLE as error:
            message = (
                f"The {self.word} {row['name']!r} in the book is damaged; restore a "
                "backup."
            )
            raise BookError(message) from error

    def _read(self, row: Mapping[Any, Any]) -> T:
        body = msgspec.json.decode(row["body"])
        for column in self.columns:
            body[column] = row[column] or ""
        return msgspec.convert(body, self.record, str_keys=True)

    @property
    def references(self) -> tuple[str, ...]:
        """Its fields that hold the ``uid`` of another thing."""
        return references_of(self.table)

    @property
    def columns(self) -> tuple[str, ...]:
        """Its fields that have a column each, by which things are listed."""
        return columns_of(self.table)

    def kept(self, row: Mapping[Any, Any]) -> Kept[T]:
        """The thing in a row, with what the book knows of it.

        Parameters
        ----------
        row : mapping of str to object
            Its columns.

        Returns
        -------
        Kept
        """
        removed = row["removed"]
        return Kept(
            row["uid"],
            row["version"],
            self.thing(row),
            datetime.fromisoformat(row["created"]),
            datetime.fromisoformat(row["changed"]),
            datetime.fromisoformat(removed) if removed else None,
        )


def _plain(kind: Kind[T], thing: T) -> dict[str, Any]:
    """A record as texts, numbers, lists and tables."""
    if type(thing) is not kind.record:
        message = f"This is not a {kind.word}; give a {kind.record.__name__}."
        raise BookError(message)
    try:
        plain: dict[str, Any] = msgspec.to_builtins(thing)
    except (msgspec.MsgspecError, TypeError, ValueError) as error:
        message = f"The {kind.word} holds a value that cannot be kept; correct it."
        raise BookError(message) from error
    return plain


def folded(text: str) -> str:
    """A text as it is looked for: without capitals, accents and needless spaces.

    Parameters
    ----------
    text : str
        Any text.

    Returns
    -------
    str

    Examples
    --------
    >>> folded("  Rubín  RED ")
    'rubin red'
    """
    apart = unicodedata.normalize("NFKD", text)
    plain = "".join(each for each in apart if not unicodedata.combining(each))
    return " ".join(plain.casefold().split())


_COLOUR_TEXTS: Final = ("name", "code", "car", "who", "note")
_JOB_TEXTS: Final = (*_COLOUR_TEXTS, "step", "plate", "customer")

KINDS: Final[dict[type, Kind[Any]]] = {
    kind.record: kind
    for kind in (
        Kind("shelves", BookShelf, "shelf"),
        Kind("sheets", BookSheet, "product sheet"),
        Kind("lines", PaintLine, "paint line"),
        Kind("guns", SprayGun, "gun"),
        Kind("colours", BookColour, "colour", _COLOUR_TEXTS),
        Kind("cards", BookCard, "test card"),
        Kind("photos", BookPhoto, "photo"),
        Kind("jobs", BookJob, "job", _JOB_TEXTS),
        Kind("seen", BookSeen, "record of what was seen", ("who", "note")),
        Kind("settings", ShopSettings, "shop's settings", ()),
        Kind("leftovers", BookLeftOver, "left-over", ("name", "note")),
        Kind("step_sets", BookSteps, "set of steps"),
    )
}
"""Kinds by their record; each comes after those that it refers to."""


@cache
def by_table() -> dict[str, Kind[Any]]:
    """Kinds by their table.

    Returns
    -------
    dict of str to Kind
    """
    return {kind.table: kind for kind in KINDS.values()}


def kind_of(record: type[T]) -> Kind[T]:
    """The kind of a record.

    Parameters
    ----------
    record : type
        Its class.

    Returns
    -------
    Kind

    Raises
    ------
    BookError
        If the book holds no such things.
    """
    if record not in KINDS:
        message = f"The book holds no {record.__name__}."
        raise BookError(message)
    return KINDS[record]
