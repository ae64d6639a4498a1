"""Rows of the book written with what stood before, so that a change can be undone."""

import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any, Final, TypeVar

import msgspec
from sqlalchemy import Connection, bindparam, delete, insert, select, update

from shadecore.book.errors import BookConflict, BookError
from shadecore.book.kept import Change, Kept
from shadecore.book.kinds import Kind
from shadecore.book.schema import BEFORE, CHANGES, STATE, TABLES

T = TypeVar("T")
Row = Mapping[Any, Any]

CHANGES_KEPT: Final = 200
"""Changes that can be undone, one after the other; this tool's own number."""


def now() -> str:
    """The moment in UTC, as the book writes it."""
    return datetime.now(UTC).isoformat(timespec="microseconds")


@dataclass(frozen=True)
class Ledger:
    """One change to the book, inside its transaction.

    Attributes
    ----------
    connection : Connection
        Of the transaction.
    number : int
        Of the change.
    at : str
        When.
    """

    connection: Connection
    number: int
    at: str

    def add(self, kind: Kind[T], things: Sequence[T]) -> tuple[Kept[T], ...]:
        """Write new things.

        Parameters
        ----------
        kind : Kind
            Their kind.
        things : sequence
            Their records.

        Returns
        -------
        tuple of Kept
            In the same order.
        """
        return self.add_as(kind, [(str(uuid.uuid4()), thing) for thing in things])

    def add_as(
        self, kind: Kind[T], things: Sequence[tuple[str, T]]
    ) -> tuple[Kept[T], ...]:
        """Write new things that have a ``uid`` already.

        Parameters
        ----------
        kind : Kind
            Their kind.
        things : sequence of (str, object)
            ``uid`` and record of each.

        Returns
        -------
        tuple of Kept
            In the same order.
        """
        rows = [self._new_row(kind, thing, uid) for uid, thing in things]
        self._insert(kind.table, rows)
        return tuple(kind.kept(row) for row in rows)

    def put(self, kind: Kind[T], kept: Kept[T], thing: T, *, removed: bool) -> Kept[T]:
        """Write a thing anew, if it still is as it was read.

        Parameters
        ----------
        kind : Kind
            Its kind.
        kept : Kept
            As it was read.
        thing : object
            What it becomes.
        removed : bool
            Whether it lies in the bin afterwards.

        Returns
        -------
        Kept
            As it stands then.

        Raises
        ------
        BookConflict
            If somebody changed it since.
        """
        row = kind.row(thing)
        there = read_row(self.connection, kind.table, kept.uid)
        if there is None and kept.version == 0:
            return self.add_as(kind, ((kept.uid, thing),))[0]
        if there is None or there["version"] != kept.version:
            raise conflict(kind, thing, there)
        self._remember(kind.table, kept.uid, there)
        gone = (there["removed"] or self.at) if removed else None
        values = {
            **row,
            "version": kept.version + 1,
            "changed": self.at,
            "removed": gone,
            "change_number": self.number,
        }
        table = TABLES[kind.table]
        self.connection.execute(
            update(table).where(table.c.uid == kept.uid).values(values)
        )
        return kind.kept({**there, **values})

    def _new_row(self, kind: Kind[T], thing: T, uid: str) -> dict[str, Any]:
        return {
            "uid": uid,
            "version": 1,
            "created": self.at,
            "changed": self.at,
            "removed": None,
            "change_number": self.number,
            **kind.row(thing),
        }

    def _insert(self, table: str, rows: list[dict[str, Any]]) -> None:
        if not rows:
            return
        self.connection.execute(insert(TABLES[table]), rows)
        self.connection.execute(
            insert(BEFORE),
            [
                {"number": self.number, "kind": table, "uid": row["uid"], "row": None}
                for row in rows
            ],
        )

    def _remember(self, table: str, uid: str, row: Row) -> None:
        written = msgspec.json.encode(dict(row)).decode("utf-8")
        self.connection.execute(
            insert(BEFORE).values(number=self.number, kind=table, uid=uid, row=written)
        )


def begin(connection: Connection, what: str) -> Ledger:
    """Begin a change.

    Parameters
    ----------
    connection : Connection
        Of a transaction that writes.
    what : str
        What is done.

    Returns
    -------
    Ledger
    """
    at = now()
    count_up(connection)
    result = connection.execute(insert(CHANGES).values(what=what, at=at))
    number = int(result.lastrowid)
    connection.execute(delete(CHANGES).where(CHANGES.c.number <= number - CHANGES_KEPT))
    return Ledger(connection, number, at)


def count_up(connection: Connection) -> None:
    """Give the state of the book another number.

    Parameters
    ----------
    connection : Connection
        Of a transaction that writes.
    """
    connection.execute(update(STATE).values(number=STATE.c.number + 1))


def state_number(connection: Connection) -> int:
    """Number of the state of the book.

    Parameters
    ----------
    connection : Connection
        To the book.

    Returns
    -------
    int
        Rises with whatever is changed, undone, restored or removed for good.
    """
    return int(connection.execute(select(STATE.c.number)).scalar_one())


def read_row(connection: Connection, table: str, uid: str) -> Row | None:
    """Row of a thing.

    Parameters
    ----------
    connection : Connection
        To the book.
    table : str
        Of its kind.
    uid : str
        Of the thing.

    Returns
    -------
    mapping or None
        None where it is not in the book.
    """
    found = TABLES[table]
    query = select(found).where(found.c.uid == uid)
    return connection.execute(query).mappings().one_or_none()


def conflict(kind: Kind[T], mine: T, there: Row | None) -> BookConflict:
    """The error for a change on a state that is no longer there.

    Parameters
    ----------
    kind : Kind
        Of the thing.
    mine : object
        What was to be written.
    there : mapping or None
        Its row now.

    Returns
    -------
    BookConflict
    """
    name = getattr(mine, "name", "")
    named = f"the {kind.word} {name!r}" if name else f"the {kind.word}"
    if there is None:
        message = (
            f"Somebody removed {named} for good meanwhile, so nothing was written; add "
            "it again to keep it."
        )
        return BookConflict(message, mine, None)
    message = (
        f"Somebody changed {named} meanwhile, so nothing was written; look at what "
        "stands there now and change that."
    )
    return BookConflict(message, mine, kind.kept(there))


def changes(connection: Connection, limit: int) -> tuple[Change, ...]:
    """The last changes, newest first.

    Parameters
    ----------
    connection : Connection
        To the book.
    limit : int
        How many at most.

    Returns
    -------
    tuple of Change
    """
    query = select(CHANGES).order_by(CHANGES.c.number.desc()).limit(limit)
    return tuple(
        Change(row.number, row.what, datetime.fromisoformat(row.at))
        for row in connection.execute(query)
    )


def undo(connection: Connection, change: Change | None) -> Change:
    """Take the last change back.

    Parameters
    ----------
    connection : Connection
        Of a transaction that writes.
    change : Change or None
        The change that is meant; None for the last one, whichever it is.

    Returns
    -------
    Change
        What was taken back.

    Raises
    ------
    BookError
        If there is none.
    BookConflict
        If another one came after the one that is meant.
    """
    last = next(iter(changes(connection, 1)), None)
    if last is None:
        message = "There is no change of the book left to undo."
        raise BookError(message)
    if change is not None and change.number != last.number:
        message = (
            f"Something else was changed meanwhile ({last.what}), so nothing was "
            "undone; undo that first."
        )
        raise BookConflict(message, change, last)
    query = (
        select(BEFORE)
        .where(BEFORE.c.number == last.number)
        .order_by(BEFORE.c.place.desc())
    )
    added: dict[str, list[dict[str, str]]] = {}
    for row in connection.execute(query).mappings().all():
        if row["row"] is None:
            added.setdefault(row["kind"], []).append({"gone": row["uid"]})
        else:
            _put_back(connection, row)
    for name, gone in added.items():
        table = TABLES[name]
        connection.execute(delete(table).where(table.c.uid == bindparam("gone")), gone)
    connection.execute(delete(CHANGES).where(CHANGES.c.number == last.number))
    count_up(connection)
    return last


def _put_back(connection: Connection, row: Row) -> None:
    table = TABLES[row["kind"]]
    there = read_row(connection, row["kind"], row["uid"])
    values = msgspec.json.decode(row["row"])
    # A number of its own: whoever still holds the state that is undone must not
    # write over this one unseen.
    values["version"] = 1 + (there["version"] if there else values["version"])
    connection.execute(update(table).where(table.c.uid == row["uid"]).values(values))
