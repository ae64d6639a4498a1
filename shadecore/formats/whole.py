"""Writing a file so that it is there whole or not at all."""

import os
import shutil
from pathlib import Path

from shadecore.errors import TableError


def write_whole(path: Path, content: bytes) -> None:
    """Write a file, or leave what was there.

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
        part = target.with_name(f".{target.name}.{os.getpid()}.part")
        try:
            part.write_bytes(content)
            if target.exists():
                shutil.copymode(target, part)
            part.replace(target)
        finally:
            part.unlink(missing_ok=True)
    except OSError as error:
        reason = (error.strerror or "it failed").lower()
        message = f"{path} cannot be written: {reason}; choose another place."
        raise TableError(message) from error
