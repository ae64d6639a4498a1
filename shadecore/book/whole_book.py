"""The book as a whole: copied into one file, restored from one, checked."""

import sqlite3
import tempfile
from contextlib import closing
from datetime import datetime
from itertools import chain, count
from pathlib import Path
from typing import Final

from sqlalchemy import select

from shadecore.book.database import Database, check_sqlite, open_sqlite, other_book
from shadecore.book.errors import BookError
from shadecore.book.kinds import KINDS
from shadecore.book.migrate import migrate
from shadecore.book.schema import APPLICATION_ID, TABLES, Migration
from shadecore.book.whole_file import copy_whole

_MOST_PROBLEMS: Final = 20
_AT_ONCE: Final = 500
"""Rows read at once in a check, so that memory does not grow with the book."""


def back_up(database: Database, path: Path) -> None:
    """Write a book into one file.

    Parameters
    ----------
    database : Database
        The book.
    path : Path
        The file, which is there whole afterwards or as it was.

    Raises
    ------
    BookError
        If it cannot be written, or is the book itself.
    """
    if path.exists() and path.samefile(database.path):
        message = f"{path} is the book itself; name another file for the backup."
        raise BookError(message)
    with database.raw() as source:
        copy_whole(source, path)


def restore_book(
    database: Database, path: Path, migrations: tuple[Migration, ...]
) -> Path:
    """Put a backup in the place of all that a book holds.

    Parameters
    ----------
    database : Database
        The book.
    path : Path
        The backup.
    migrations : tuple of Migration
        What brings it to this version.

    Returns
    -------
    Path
        A backup of what the book held before.

    Raises
    ------
    BookError
        If the backup is no book, damaged or newer; the book then stays as it is.
    """
    if database.read_only:
        message = (
            f"The book {database.path} may only be read, so nothing was restored; "
            "change the file's permissions."
        )
        raise BookError(message)
    with tempfile.TemporaryDirectory() as folder:
        draft = Path(folder) / "draft"
        with other_book(path) as source:
            _check_source(source, path, migrations[-1].version)
            copy_whole(source, draft)
        with closing(open_sqlite(draft)) as ready:
            migrate(ready, migrations)
            if check_sqlite(ready):
                message = f"{path} is damaged; try another backup."
                raise BookError(message)
            while True:
                try:
                    return _take_its_place(database, ready)
                except _WrittenMeanwhile:
                    continue


class _WrittenMeanwhile(Exception):  # noqa: N818 - a reason to try again
    """Somebody wrote into the book just before it was locked."""


def _take_its_place(database: Database, ready: sqlite3.Connection) -> Path:
    """Copy a book into the place of another, and that one beside it.

    Nobody can write between the two copies: the first page that is copied locks the
    book until the last one, and the copy of what it held before is made meanwhile.
    """
    kept: list[Path] = []
    with database.raw() as target, database.raw() as source:
        number = _number(target)
        # A restored book counts on from the one that it takes the place of.
        highest = max(number, _number(ready))
        ready.execute("UPDATE state SET number = ?", (highest + 1,))

        def keep(status: int, _left: int, _all: int) -> None:
            if kept or status != sqlite3.SQLITE_OK:
                return
            if _number(source) != number:
                raise _WrittenMeanwhile
            kept.append(_free_name(database.path))
            copy_whole(source, kept[0])

        ready.backup(target, pages=1, progress=keep)
    return kept[0]


def _number(connection: sqlite3.Connection) -> int:
    """The book's count of changes."""
    return int(connection.execute("SELECT number FROM state").fetchone()[0])


def _free_name(book: Path) -> Path:
    """A name beside the book that no earlier copy has.

    It begins with the book's own, so that what a killed restore leaves of a copy goes
    with what is left of the book.
    """
    now = datetime.now().astimezone()
    start = f"{book.name}-before-restore-{now:%Y%m%d-%H%M%S}"
    names = chain([start], (f"{start}-{each}" for each in count(2)))
    places = (book.with_name(f"{name}.sqlite") for name in names)
    return next(place for place in places if not place.exists())


def _check_source(source: sqlite3.Connection, path: Path, newest: int) -> None:
    try:
        mark = source.execute("PRAGMA application_id").fetchone()[0]
        version = source.execute("PRAGMA user_version").fetchone()[0]
        problems = check_sqlite(source) if mark == APPLICATION_ID else ()
    except sqlite3.DatabaseError as error:
        message = f"{path} is not a book that can be read; try another backup."
        raise BookError(message) from error
    if mark != APPLICATION_ID or not version:
        message = f"{path} is not a book of this tool; name a backup."
        raise BookError(message)
    if version > newest:
        message = f"{path} was written by a newer shadecore; restore it with that one."
        raise BookError(message)
    if problems:
        message = f"{path} is damaged; try another backup."
        raise BookError(message)


def check_book(database: Database) -> tuple[str, ...]:
    """What is wrong with a book.

    Parameters
    ----------
    database : Database
        The book.

    Returns
    -------
    tuple of str
        A sentence each, the first twenty; empty where all is well.
    """
    with database.raw() as connection:
        problems = list(check_sqlite(connection))
    with database.reading() as connection:
        for kind in KINDS.values():
            rows = connection.execution_options(yield_per=_AT_ONCE).execute(
                select(TABLES[kind.table])
            )
            for row in rows.mappings():
                try:
                    kind.kept(row)
                except (BookError, ValueError, TypeError):
                    problems.append(
                        f"The {kind.word} {row['name']!r} ({row['uid']}) cannot be "
                        "read; restore a backup."
                    )
                if len(problems) >= _MOST_PROBLEMS:
                    return tuple(problems)
    return tuple(problems)
