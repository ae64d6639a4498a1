"""Verbs over any kind of thing in the book: list, show, add, change, remove, undo."""

import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any, TypeVar

from sqlalchemy import delete

from shadecore.book import ledger, names, rows
from shadecore.book.database import Database
from shadecore.book.errors import BookError
from shadecore.book.in_use import out_of_use
from shadecore.book.kept import Change, Kept
from shadecore.book.kinds import KINDS, Kind, kind_of
from shadecore.book.schema import CHANGES, MIGRATIONS, TABLES, Migration

T = TypeVar("T")


class Things:
    """Things of a book by their kind.

    Each verb is one transaction. A thing is named by its record's class and what tells
    it from others: ``uid``, code or name. Verbs that change a thing take it as it was
    read and refuse if somebody changed it since.

    Parameters
    ----------
    path : Path
        Its file; made where it is not there.
    migrations : tuple of Migration
        What brings a file to this version.

    Raises
    ------
    BookError
        If it cannot be opened, is no book, or was written by a newer version.
    """

    def __init__(
        self, path: Path, migrations: tuple[Migration, ...] = MIGRATIONS
    ) -> None:
        self._migrations = migrations
        self._database = Database(path, migrations)
        self._here = threading.local()
        self._once: dict[str, tuple[int, Any]] = {}

    def list(
        self,
        record: type[T],
        *,
        limit: int | None = None,
        belongs: dict[str, str] | None = None,
    ) -> tuple[Kept[T], ...]:
        """Things of a kind, those changed last first; none from the bin.

        Parameters
        ----------
        record : type
            Class of their record.
        limit : int, optional
            How many at most.
        belongs : dict of str to str, optional
            What they belong to, by the field and the ``uid`` in it, such as
            ``{"colour": uid}``.

        Returns
        -------
        tuple of Kept

        Raises
        ------
        BookError
            If there are no such things, or they have no such field.
        """
        with self._database.reading() as connection:
            return rows.in_use(connection, kind_of(record), belongs or {}, limit)

    def holds_any(self, records: Sequence[type], belongs: dict[str, str]) -> bool:
        """Whether there is a thing of one of some kinds; none from the bin counts.

        Parameters
        ----------
        records : sequence of type
            Classes of their records.
        belongs : dict of str to str
            As for :meth:`list`.

        Returns
        -------
        bool

        Raises
        ------
        BookError
            If such things have no such field.
        """
        with self._database.reading() as connection:
            return rows.is_any_in_use(connection, records, belongs)

    def show(self, record: type[T], which: str) -> Kept[T]:
        """One thing.

        Parameters
        ----------
        record : type
            Class of its record.
        which : str
            Its ``uid`` (also from the bin), its code or its name, or else the first
            eight characters or more of its ``uid``.

        Returns
        -------
        Kept

        Raises
        ------
        BookError
            If there is none, or more than one.
        """
        with self._database.reading() as connection:
            return names.find(connection, kind_of(record), which)

    def called(self, record: type[T], name: str) -> tuple[Kept[T], ...]:
        """Things of a name or a code, whatever its capitals; none from the bin.

        Parameters
        ----------
        record : type
            Class of their record.
        name : str
            The name or the code.

        Returns
        -------
        tuple of Kept
            Those changed last first; twenty at most.
        """
        with self._database.reading() as connection:
            return names.called(connection, kind_of(record), name)

    def add(self, thing: T) -> Kept[T]:
        """Keep a thing.

        Parameters
        ----------
        thing : object
            Its record.

        Returns
        -------
        Kept

        Raises
        ------
        BookError
            If it cannot be kept, or another thing of its kind has its name.
        """
        kind = kind_of(type(thing))
        with self.changing(_adding(kind, thing)) as book:
            names.refuse_taken(book.connection, kind, thing)
            return book.add(kind, (thing,))[0]

    def add_all(self, things: Sequence[T]) -> tuple[Kept[T], ...]:
        """Keep things of one kind, all or none.

        Unlike one that is added, several may share a name where their kind has no own
        names: colours of a file are told apart by their codes.

        Parameters
        ----------
        things : sequence
            Their records.

        Returns
        -------
        tuple of Kept
            In the same order.

        Raises
        ------
        BookError
            If one of them cannot be kept.
        """
        if not things:
            return ()
        kind = kind_of(type(things[0]))
        one = len(things) == 1
        what = _adding(kind, things[0]) if one else f"added {len(things)} {kind.table}"
        with self.changing(what) as book:
            return book.add(kind, things)

    def change(self, kept: Kept[T], thing: T) -> Kept[T]:
        """Write a thing anew.

        Parameters
        ----------
        kept : Kept
            As it was read.
        thing : object
            What it becomes.

        Returns
        -------
        Kept

        Raises
        ------
        BookConflict
            If somebody changed it since; it carries both.
        BookError
            If it cannot be kept, or another thing of its kind has its new name.
        """
        return self._put("changed", kept, thing, removed=kept.removed is not None)

    def rename(self, kept: Kept[T], name: str) -> Kept[T]:
        """Give a thing another name.

        Parameters
        ----------
        kept : Kept
            As it was read.
        name : str
            The name.

        Returns
        -------
        Kept

        Raises
        ------
        BookConflict
            If somebody changed it since; it carries both.
        BookError
            If it has no name, or cannot have this one, as another thing of its kind
            does.
        """
        thing: Any = kept.thing
        if not hasattr(thing, "name"):
            message = f"A {kind_of(type(thing)).word} has no name to change."
            raise BookError(message)
        renamed: T = replace(thing, name=name.strip())
        return self._put("renamed", kept, renamed, removed=kept.removed is not None)

    def remove(self, kept: Kept[T]) -> Kept[T]:
        """Put a thing into the bin, and out of use, as one change.

        Parameters
        ----------
        kept : Kept
            As it was read.

        Returns
        -------
        Kept

        Raises
        ------
        BookConflict
            If somebody changed it since; it carries both.
        """
        return self._put("removed", kept, kept.thing, removed=True)

    def put_back(self, kept: Kept[T]) -> Kept[T]:
        """Take a thing out of the bin.

        Parameters
        ----------
        kept : Kept
            As it was read.

        Returns
        -------
        Kept

        Raises
        ------
        BookConflict
            If somebody changed it since; it carries both.
        BookError
            If its name is taken meanwhile.
        """
        return self._put("put back", kept, kept.thing, removed=False)

    def bin(self) -> tuple[Kept[Any], ...]:
        """What lies in the bin, kind by kind, last removed first.

        Returns
        -------
        tuple of Kept
        """
        with self._database.reading() as connection:
            return rows.in_bin(connection)

    def empty_bin(self) -> int:
        """Remove what lies in the bin for good.

        The cards, photos and records of a colour go with it. This cannot be undone,
        nor can what was changed before.

        Returns
        -------
        int
            How many things lay in the bin.
        """
        count = 0
        with self._database.writing() as connection:
            for kind in KINDS.values():
                table = TABLES[kind.table]
                gone = delete(table).where(table.c.removed.is_not(None))
                count += connection.execute(gone).rowcount
            connection.execute(delete(CHANGES))
            ledger.count_up(connection)
        return count

    def changes(self, limit: int = 20) -> tuple[Change, ...]:
        """The last changes that can be undone, newest first.

        Parameters
        ----------
        limit : int
            How many at most.

        Returns
        -------
        tuple of Change
        """
        with self._database.reading() as connection:
            return ledger.changes(connection, limit)

    def undo(self, change: Change | None = None) -> Change:
        """Take the last change back; done again, the one before it.

        Parameters
        ----------
        change : Change, optional
            The change that is meant; the last one, whichever it is, unless given.

        Returns
        -------
        Change
            What was taken back.

        Raises
        ------
        BookError
            If there is none.
        BookConflict
            If another change came after the one that is meant.
        """
        with self._database.writing() as connection:
            return ledger.undo(connection, change)

    @contextmanager
    def changing(self, what: str) -> Iterator[ledger.Ledger]:
        """One change made of several, kept whole or not at all.

        What verbs do inside it belongs to it, and so does another such block.

        Parameters
        ----------
        what : str
            What is done, for the list of changes.

        Yields
        ------
        Ledger
        """
        outer: ledger.Ledger | None = getattr(self._here, "change", None)
        with self._database.writing() as connection:
            change = outer or ledger.begin(connection, what)
            self._here.change = change
            try:
                yield change
            finally:
                self._here.change = outer

    @property
    def in_change(self) -> bool:
        """Whether this thread is inside a change that is not kept yet."""
        return getattr(self._here, "change", None) is not None

    def _put(self, verb: str, kept: Kept[T], thing: T, *, removed: bool) -> Kept[T]:
        kind, name = kind_of(type(thing)), getattr(kept.thing, "name", "")
        with self.changing(f"{verb} the {kind.word} {name}".strip()) as book:
            names.refuse_taken(book.connection, kind, thing, kept)
            if removed:
                out_of_use(book, kept.uid)
            return book.put(kind, kept, thing, removed=removed)


def _adding(kind: Kind[T], thing: T) -> str:
    return f"added the {kind.word} {getattr(thing, 'name', '')}".strip()
