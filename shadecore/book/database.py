"""A book's file: opened, brought to this version, read and written whole or not."""

import os
import sqlite3
import threading
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any, Final

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.exc import DBAPIError
from sqlalchemy.pool import QueuePool

from shadecore.book.errors import BookError
from shadecore.book.migrate import migrate
from shadecore.book.schema import APPLICATION_ID, MIGRATIONS, Migration
from shadecore.book.whole_file import copy_whole
from shadecore.formats.whole import remove_stale_parts

_WAIT_S: Final = 30.0
"""How long to wait for another program that is writing; this tool's own."""
_NEW_FILE: Final = 0o600
"""A book holds customers' cars: the user's own eyes only."""
_SENTENCES: Final = (
    (
        ("SQLITE_FULL", "SQLITE_IOERR", "SQLITE_TOOBIG"),
        "cannot be written, as the disk is full or fails; make room and do it again",
    ),
    (
        ("SQLITE_BUSY", "SQLITE_LOCKED"),
        "is being written by another program; try again in a moment",
    ),
    (("SQLITE_READONLY",), "may only be read; change the file's permissions"),
    (
        ("SQLITE_CORRUPT", "SQLITE_NOTADB", "SQLITE_FORMAT"),
        "is damaged or is not a book; restore a backup",
    ),
    (
        ("SQLITE_CANTOPEN", "SQLITE_PERM", "SQLITE_AUTH"),
        "cannot be opened; check the folder and its permissions",
    ),
    (
        ("SQLITE_CONSTRAINT_FOREIGNKEY",),
        "does not hold what this belongs to; add that first",
    ),
    (
        ("SQLITE_CONSTRAINT_UNIQUE",),
        "holds something else by that name already; choose another name",
    ),
)


def said(path: Path, error: BaseException) -> str:
    """What a database's error means, in a sentence.

    Parameters
    ----------
    path : Path
        The book.
    error : Exception
        Of SQLite or of SQLAlchemy around one.

    Returns
    -------
    str
    """
    inner = getattr(error, "orig", None) or error
    code = str(getattr(inner, "sqlite_errorname", ""))
    for codes, words in _SENTENCES:
        if code.startswith(codes):
            return f"The book {path} {words}."
    return f"The book {path} cannot be used: {inner}."


class Database:
    """A book's file, open.

    Parameters
    ----------
    path : Path
        The file; made where it is not there.
    migrations : tuple of Migration
        What brings it to this version.

    Attributes
    ----------
    path : Path
        The file.
    read_only : bool
        Whether the file may only be read.

    Raises
    ------
    BookError
        If it cannot be opened, is no book, or was written by a newer version.
    """

    def __init__(
        self, path: Path, migrations: tuple[Migration, ...] = MIGRATIONS
    ) -> None:
        self.path = path
        self.read_only = _make_file(path)
        self._migrations = migrations
        self._here = threading.local()
        self._engine = _engine(path, read_only=self.read_only)
        try:
            with _in_words(path):
                self._prepare()
        except BaseException:
            self.close()
            raise

    def close(self) -> None:
        """Give back the file."""
        self._engine.dispose()

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """One state of the book, while it is read; in a change what it did so far.

        Yields
        ------
        Connection

        Raises
        ------
        BookError
            If it cannot be read.
        """
        writer = self._writer
        if writer is not None:
            yield writer
            return
        with _in_words(self.path), self._engine.connect() as connection:
            yield connection

    @property
    def _writer(self) -> Connection | None:
        """Connection of the transaction that this thread has open."""
        found: Connection | None = getattr(self._here, "writer", None)
        return found

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """A transaction: what is done in it is kept whole, or not at all.

        One inside another of the same thread is a part of it.

        Yields
        ------
        Connection

        Raises
        ------
        BookError
            If it cannot be written.
        """
        if self.read_only:
            message = (
                f"The book {self.path} may only be read; change the file's permissions "
                "or name another one."
            )
            raise BookError(message)
        outer = self._writer
        if outer is not None:
            with outer.begin_nested():
                yield outer
            return
        with _in_words(self.path), self._engine.connect() as connection:
            writer = connection.execution_options(write=True)
            with writer.begin():
                self._here.writer = writer
                try:
                    yield writer
                finally:
                    self._here.writer = None

    @contextmanager
    def raw(self) -> Iterator[sqlite3.Connection]:
        """The database's own connection, for copying it whole.

        Yields
        ------
        sqlite3.Connection
        """
        with _in_words(self.path):
            pooled = self._engine.raw_connection()
            try:
                found = pooled.driver_connection
                assert isinstance(found, sqlite3.Connection)  # noqa: S101 - for types
                yield found
            finally:
                pooled.close()

    def _prepare(self) -> None:
        version = self._version()
        newest = self._migrations[-1].version
        if not self.read_only:
            remove_stale_parts(self.path)
        if version == newest:
            return
        if version > newest:
            message = (
                f"The book {self.path} was written by a newer shadecore; open it with "
                "that one."
            )
            raise BookError(message)
        if self.read_only:
            message = (
                f"The book {self.path} is of an earlier version and may only be read; "
                "change the file's permissions once, so that it can be brought up to "
                "date."
            )
            raise BookError(message)
        if version:
            # An older shadecore cannot read the new version, so a copy of the old one
            # is kept beside it.
            kept = self.path.with_name(f"{self.path.name}.version-{version}")
            with self.raw() as source:
                copy_whole(source, kept)
        with self.raw() as connection:
            migrate(connection, self._migrations)

    def _version(self) -> int:
        with self.raw() as connection:
            version = int(connection.execute("PRAGMA user_version").fetchone()[0])
            mark = int(connection.execute("PRAGMA application_id").fetchone()[0])
            filled = connection.execute("SELECT count(*) FROM sqlite_schema")
            if int(filled.fetchone()[0]) and mark != APPLICATION_ID:
                message = (
                    f"{self.path} is a database of another program; name another file."
                )
                raise BookError(message)
        return version


def _make_file(path: Path) -> bool:
    """Make the file where there is none, and say whether it may only be read."""
    try:
        if not path.exists():
            path.parent.mkdir(parents=True, exist_ok=True)
            os.close(os.open(path, os.O_CREAT | os.O_WRONLY, _NEW_FILE))
    except OSError as error:
        reason = (error.strerror or "it failed").lower()
        message = f"The book {path} cannot be made: {reason}; name another place."
        raise BookError(message) from error
    if not path.is_file():
        message = f"{path} is not a file; name the book's file."
        raise BookError(message)
    return not (os.access(path, os.W_OK) and os.access(path.parent, os.W_OK))


def _engine(path: Path, *, read_only: bool) -> Engine:
    def connect() -> sqlite3.Connection:
        return open_sqlite(path, read_only=read_only)

    engine = create_engine("sqlite://", creator=connect, poolclass=QueuePool)

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        write = connection.get_execution_options().get("write", False)
        # A writer takes its turn at once: one that read first could be refused later.
        connection.exec_driver_sql("BEGIN IMMEDIATE" if write else "BEGIN")

    return engine


def open_sqlite(path: Path, *, read_only: bool = False) -> sqlite3.Connection:
    """A connection to a book's file, in autocommit, with the book's settings.

    Parameters
    ----------
    path : Path
        The file, which must be there.
    read_only : bool
        Whether it may only be read.

    Returns
    -------
    sqlite3.Connection
    """
    mode = "ro" if read_only else "rw"
    if read_only and not path.with_name(f"{path.name}-wal").exists():
        # A log cannot be made beside it; without one the file is all there is.
        mode += "&immutable=1"
    address = f"{path.resolve().as_uri()}?mode={mode}"
    connection = sqlite3.connect(
        address,
        timeout=_WAIT_S,
        isolation_level=None,
        uri=True,
        check_same_thread=False,
    )
    try:
        connection.execute("PRAGMA foreign_keys = ON")
        # Damage shows as an error in place of wrong rows, and a file from elsewhere
        # can run nothing through its schema.
        connection.execute("PRAGMA cell_size_check = ON")
        connection.execute("PRAGMA trusted_schema = OFF")
        if not read_only:
            with _damage_seen():
                _use_log(connection)
            # A change that was confirmed survives a power cut. Waiting for the disk
            # costs little, since people write seldom.
            connection.execute("PRAGMA synchronous = FULL")
    except BaseException:
        connection.close()
        raise
    return connection


@contextmanager
def _damage_seen() -> Iterator[None]:
    """Tell damage as damage where SQLite repeats bytes that Python cannot read."""
    try:
        yield
    except UnicodeDecodeError as error:
        damage = sqlite3.DatabaseError(str(error))
        damage.sqlite_errorname = "SQLITE_CORRUPT"
        raise damage from error


def _use_log(connection: sqlite3.Connection) -> None:
    """Set the write-ahead log, which SQLite does not wait for when others open too."""
    until = time.monotonic() + _WAIT_S
    while True:
        try:
            connection.execute("PRAGMA journal_mode = WAL")
        except sqlite3.OperationalError as error:
            busy = error.sqlite_errorname.startswith("SQLITE_BUSY")
            if not busy or time.monotonic() > until:
                raise
            time.sleep(0.02)
        else:
            return


@contextmanager
def _in_words(path: Path) -> Iterator[None]:
    try:
        with _damage_seen():
            yield
    except (DBAPIError, sqlite3.Error) as error:
        raise BookError(said(path, error)) from error


def check_sqlite(connection: sqlite3.Connection) -> tuple[str, ...]:
    """What is wrong with a database as a database.

    Parameters
    ----------
    connection : sqlite3.Connection
        To the file.

    Returns
    -------
    tuple of str
        A sentence each; empty where all is well.
    """
    found: list[Any] = connection.execute("PRAGMA integrity_check(20)").fetchall()
    problems = [
        f"The file is damaged ({row[0]}); restore a backup."
        for row in found
        if row[0] != "ok"
    ]
    for table, *_ in connection.execute("PRAGMA foreign_key_check").fetchmany(20):
        problems.append(
            f"An entry in {table!r} refers to one that is missing; restore a backup."
        )
    return tuple(problems)


@contextmanager
def other_book(path: Path) -> Iterator[sqlite3.Connection]:
    """Open another book, to be read whole.

    Parameters
    ----------
    path : Path
        Its file.

    Yields
    ------
    sqlite3.Connection

    Raises
    ------
    BookError
        If it cannot be opened.
    """
    if not path.is_file():
        message = f"There is no book {path}; check the name."
        raise BookError(message)
    with _in_words(path):
        address = f"{path.resolve().as_uri()}?mode=ro"
        opened = sqlite3.connect(address, isolation_level=None, uri=True)
        with closing(opened) as connection:
            yield connection
