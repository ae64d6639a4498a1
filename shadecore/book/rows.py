"""Things of a kind read from their table: those in use, those in the bin."""

from collections.abc import Mapping, Sequence
from typing import Any, TypeVar

from sqlalchemy import Connection, Select, or_, select

from shadecore.book.errors import BookError
from shadecore.book.kept import Kept
from shadecore.book.kinds import KINDS, Kind, kind_of
from shadecore.book.schema import TABLES

T = TypeVar("T")


def in_use(
    connection: Connection,
    kind: Kind[T],
    belongs: Mapping[str, str],
    limit: int | None = None,
) -> tuple[Kept[T], ...]:
    """Things of a kind, those changed last first; none from the bin.

    Parameters
    ----------
    connection : Connection
        To the book.
    kind : Kind
        Their kind.
    belongs : mapping of str to str
        What they belong to, by the field and the ``uid`` in it.
    limit : int, optional
        How many at most.

    Returns
    -------
    tuple of Kept

    Raises
    ------
    BookError
        If they have no such field.
    """
    return newest(connection, kind, _query(kind, belongs).limit(limit))


def is_any_in_use(
    connection: Connection, records: Sequence[type], belongs: Mapping[str, str]
) -> bool:
    """Whether there is a thing of one of some kinds; none from the bin counts.

    Parameters
    ----------
    connection : Connection
        To the book.
    records : sequence of type
        Classes of their records.
    belongs : mapping of str to str
        What it belongs to, by the field and the ``uid`` in it.

    Returns
    -------
    bool

    Raises
    ------
    BookError
        If such things have no such field.
    """
    there = (_query(kind_of(record), belongs).exists() for record in records)
    return bool(connection.execute(select(or_(*there))).scalar_one())


def in_bin(connection: Connection) -> tuple[Kept[Any], ...]:
    """What lies in the bin, kind by kind, last removed first.

    Parameters
    ----------
    connection : Connection
        To the book.

    Returns
    -------
    tuple of Kept
    """
    found: list[Kept[Any]] = []
    for kind in KINDS.values():
        table = TABLES[kind.table]
        query = select(table).where(table.c.removed.is_not(None))
        found.extend(newest(connection, kind, query))
    return tuple(found)


def newest(
    connection: Connection, kind: Kind[T], query: Select[Any]
) -> tuple[Kept[T], ...]:
    """Things that a query finds, those changed last first.

    Parameters
    ----------
    connection : Connection
        To the book.
    kind : Kind
        Their kind.
    query : Select
        Of rows of its table.

    Returns
    -------
    tuple of Kept
    """
    ordered = query.order_by(TABLES[kind.table].c.change_number.desc())
    return tuple(map(kind.kept, connection.execute(ordered).mappings()))


def _query(kind: Kind[Any], belongs: Mapping[str, str]) -> Select[Any]:
    table = TABLES[kind.table]
    query = select(table).where(table.c.removed.is_(None))
    for field, uid in belongs.items():
        if field not in kind.columns:
            message = f"A {kind.word} belongs to no {field!r}."
            raise BookError(message)
        query = query.where(table.c[field] == uid)
    return query
