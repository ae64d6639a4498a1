"""Writing a file so that it is there whole or not at all."""

import os
import re
import shutil
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final

from shadecore.errors import TableError
from shadecore.formats.echo import tail

_NAME: Final = 120
_STALE_S: Final = 3600.0
"""A write takes seconds: a part that is older was left behind, whoever has its process
number by now."""
_BESIDE: Final = ("", "-journal", "-wal", "-shm")
"""Ends of a part's name; SQLite keeps the latter beside a database that it writes."""


@contextmanager
def part_of(target: Path) -> Iterator[Path]:
    """A hidden part beside a file or folder, which takes its place in the end.

    It is called ``.NAME.PROCESS-THREAD.part``. Parts that a process left behind when it
    was ended in the middle are removed by the next write of the same name.

    Parameters
    ----------
    target : Path
        The file or folder.

    Yields
    ------
    Path
        What to write; it is not there yet, and gone in the end whatever happens.
    """
    remove_stale_parts(target)
    part = target.with_name(
        f".{target.name}.{os.getpid()}-{threading.get_ident()}.part"
    )
    parts = [part.with_name(f"{part.name}{beside}") for beside in _BESIDE]
    try:
        # What has our own number and is there already was left by another process.
        _remove(*parts)
        yield part
        part.replace(target)
    finally:
        _remove(*parts)


def write_whole(path: Path, content: bytes, *, private: bool = False) -> None:
    """Write a file, or leave what was there.

    Parameters
    ----------
    path : Path
        The file; a device or a pipe takes what it is given.
    content : bytes
        What goes into it.
    private : bool
        Whether nobody but its owner may ever read it; a file that was there keeps its
        readers unless given.

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
        with part_of(target) as part:
            if private:
                # The right to read is set as it is made, not after its content is in.
                part.touch(0o600, exist_ok=False)
            part.write_bytes(content)
            if target.exists() and not private:
                shutil.copymode(target, part)
    except (OSError, ValueError) as error:
        # A name with a zero character in it is refused as a value.
        reason = getattr(error, "strerror", None) or "no file can have this name"
        message = (
            f"{tail(str(path), _NAME)} cannot be written: {reason.lower()}; choose "
            "another place."
        )
        raise TableError(message) from error


def remove_stale_parts(path: Path) -> None:
    """Remove what writers that ended in the middle left beside a file or folder.

    Parameters
    ----------
    path : Path
        The file or folder; parts of those whose names start with its own count as
        well, such as copies of an earlier version.
    """
    pattern = re.compile(
        rf"\.{re.escape(path.name)}.*\.(\d+)(?:-\d+)?\.part(?:{'|'.join(_BESIDE)})"
    )
    # A folder that cannot be tidied is no reason not to write.
    with suppress(OSError):
        for each in path.parent.iterdir():
            found = pattern.fullmatch(each.name)
            if found and _is_stale(each, int(found[1])):
                _remove(each)


def _remove(*parts: Path) -> None:
    for part in parts:
        if part.is_dir():
            shutil.rmtree(part)
        else:
            part.unlink(missing_ok=True)


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
