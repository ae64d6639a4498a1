"""A database copied into a file that is there whole or not at all."""

import os
import sqlite3
from contextlib import closing
from pathlib import Path

from shadecore.book.errors import BookError
from shadecore.formats.whole import part_of


def copy_whole(source: sqlite3.Connection, path: Path) -> None:
    """Copy a database into a file of its own, or leave what was there.

    Parameters
    ----------
    source : sqlite3.Connection
        The database; it may be written meanwhile.
    path : Path
        The file.

    Raises
    ------
    BookError
        If it cannot be written.
    """
    try:
        with part_of(path) as part:
            with closing(sqlite3.connect(part, isolation_level=None)) as copy:
                part.chmod(0o600)
                source.backup(copy)
                # One file that stands by itself, without a log beside it.
                copy.execute("PRAGMA journal_mode = DELETE")
            with part.open("rb+") as file:
                os.fsync(file.fileno())
    except (OSError, sqlite3.Error) as error:
        reason = str(getattr(error, "strerror", None) or error).lower()
        message = f"{path} cannot be written: {reason}; choose another place."
        raise BookError(message) from error
