"""A thing of the book with what the book knows of it, and a change to the book."""

from dataclasses import dataclass
from datetime import datetime
from typing import Generic, TypeVar

T = TypeVar("T")


@dataclass(frozen=True)
class Kept(Generic[T]):
    """A thing as it stands in the book.

    Attributes
    ----------
    uid : str
        A UUID that tells it from all others, in this book and in any other.
    version : int
        Rises with each change; 0 where it does not stand in the book yet.
    thing : object
        The record.
    created, changed : datetime
        In UTC.
    removed : datetime or None
        When it was put into the bin, in UTC.
    """

    uid: str
    version: int
    thing: T
    created: datetime
    changed: datetime
    removed: datetime | None = None


@dataclass(frozen=True)
class Change:
    """A change to the book that can be undone.

    Attributes
    ----------
    number : int
        Rises with each change.
    what : str
        What was done, such as ``added the colour Signal red``.
    at : datetime
        When, in UTC.
    """

    number: int
    what: str
    at: datetime
