"""Writing a file so that it is there whole or not at all."""

import contextlib
import os
import re
import shutil
import threading
import time
from pathlib import Path
from typing import Final

from shadecore.errors import TableError
from shadecore.formats.echo import tail

_NAME: Final = 120
_STALE_S: Final = 3600.0
"""A write takes seconds: a part that is older was left behind, whoever has its process
number by now."""


def write_whole(path: Path, content: bytes) -> None:
    """Write a file, or leave what was there.

    The content goes to a hidden part file beside it, ``.NAME.PROCESS-THREAD.part``,
    which then takes its place. Parts that a process left behind when it was ended in
    the middle of this are removed by the next write of the same file.

    Parameters
    ----------
    path : Path
        The file; a device or a pipe takes what it is given.
    content : bytes
        What goes into it.

    Raises
    ------
    TableError
        If it cannot be written.
    """
    try:
        if path.exists() and not path.is_file():
            path.write_bytes(content)
            return
        target = path.resolve()
        remove_stale_parts(target)
        part = target.with_name(
            f".{target.name}.{os.getpid()}-{threading.get_ident()}.part"
        )
        try:
            part.write_bytes(content)
            if target.exists():
                shutil.copymode(target, part)
            part.replace(target)
        finally:
            part.unlink(missing_ok=True)
    except (OSError, ValueError) as error:
        # A name with a zero character in it is refused as a value.
        reason = getattr(error, "strerror", None) or "no file can have this name"
        message = (
            f"{tail(str(path), _NAME)} cannot be written: {reason.lower()}; choose "
            "another place."
        )
        raise TableError(message) from error


def remove_stale_parts(path: Path) -> None:
    """Remove what writers that ended in the middle left beside a file.

    Parameters
    ----------
    path : Path
        The file; parts of files whose names start with its own count as well, such as
        copies of an earlier version.
    """
    pattern = re.compile(
        rf"\.{re.escape(path.name)}.*\.(\d+)(?:-\d+)?\.part"
        # What SQLite keeps beside a database that it writes.
        r"(?:-(?:journal|wal|shm))?"
    )
    # A folder that cannot be tidied is no reason not to write.
    with contextlib.suppress(OSError):
        for each in path.parent.iterdir():
            found = pattern.fullmatch(each.name)
            if found and _is_stale(each, int(found[1])):
                each.unlink(missing_ok=True)


def _is_stale(part: Path, process: int) -> bool:
    try:
        if time.time() - part.stat().st_mtime > _STALE_S:
            return True
    except FileNotFoundError:
        return False
    return not _runs(process)


def _runs(process: int) -> bool:
    """Whether a process may still be running."""
    if os.name != "posix":
        # Elsewhere asking for a process by a signal can end it: age decides alone.
        return True
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except (PermissionError, OverflowError):
        return True
    return True
