"""A database copied into a file that is there whole or not at all."""

import os
import re
import sqlite3
import time
from contextlib import closing
from pathlib import Path
from typing import Final

from shadecore.book.errors import BookError

_STALE_S: Final = 3600.0
"""A copy takes seconds: a part that is older was left behind."""


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
    part = path.with_name(f".{path.name}.{os.getpid()}.part")
    remove_stale_parts(path)
    try:
        part.unlink(missing_ok=True)
        with closing(sqlite3.connect(part, isolation_level=None)) as copy:
            part.chmod(0o600)
            source.backup(copy)
            # One file that stands by itself, without a log beside it.
            copy.execute("PRAGMA journal_mode = DELETE")
        with part.open("rb+") as file:
            os.fsync(file.fileno())
        part.replace(path)
    except (OSError, sqlite3.Error) as error:
        reason = str(getattr(error, "strerror", None) or error).lower()
        message = f"{path} cannot be written: {reason}; choose another place."
        raise BookError(message) from error
    finally:
        part.unlink(missing_ok=True)
        part.with_name(f"{part.name}-journal").unlink(missing_ok=True)


def remove_stale_parts(path: Path) -> None:
    """Remove what copies of a file left behind that were ended in the middle.

    Parameters
    ----------
    path : Path
        The file; the copies beside it, such as those of an earlier version, count.
    """
    pattern = re.compile(rf"\.{re.escape(path.name)}.*\.(\d+)\.part(?:-journal)?")
    try:
        for each in path.parent.iterdir():
            found = pattern.fullmatch(each.name)
            if found and _is_stale(each, int(found[1])):
                each.unlink(missing_ok=True)
    except OSError:
        return  # A folder that cannot be tidied is no reason not to write.


def _is_stale(part: Path, process: int) -> bool:
    if process == os.getpid():
        return False
    if time.time() - part.stat().st_mtime > _STALE_S:
        return True
    if os.name != "posix":
        # Elsewhere asking for a process by a signal can end it: age decides alone.
        return False
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return True
    except (PermissionError, OverflowError):
        return False
    return False
