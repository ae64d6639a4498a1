"""Arrays that take long to work out, kept in the user's cache folder between runs.

All of them can be worked out again: where the folder cannot be read or written, or the
disk is full, everything works without it. They belong to the code and data that made
them, so a new version never meets the arrays of an old one.
"""

import contextlib
import hashlib
import os
import shutil
from collections.abc import Callable, Iterable
from functools import cache
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray
from platformdirs import user_cache_path

from shadecore.datafiles import data_file
from shadecore.formats.whole import part_of

FOLDER_VARIABLE: Final = "SHADECORE_CACHE"
"""Environment variable that names another folder; empty for keeping nothing."""
_PACKAGE: Final = Path(__file__).resolve().parent
_MADE_BY: Final = ("film", "recipes", "colour/appearance.py", "colour/surface.py")
_COUNTED_BY: Final = (
    "colour/ciede2000.py",
    "coats/thickness.py",
    "coats/grey_table.py",
)
_DATA: Final = ("colorant-families.toml", "tristimulus-weights-d65-10deg-10nm.csv")
_VERSIONS_KEPT: Final = 2
_DIGITS: Final = 16


@cache
def _version() -> str:
    """A name that changes with the code and the data behind the arrays."""
    places = [_PACKAGE / name for name in (*_MADE_BY, *_COUNTED_BY)]
    code = [
        file
        for place in places
        for file in (place.glob("*.py") if place.is_dir() else [place])
    ]
    return content_key([*code, *(data_file(name) for name in _DATA)])


def content_key(files: Iterable[Path]) -> str:
    """Key that changes with the content of files.

    Parameters
    ----------
    files : iterable of pathlib.Path
        Code and data that arrays come from.

    Returns
    -------
    str
    """
    digest = hashlib.sha256(np.__version__.encode())
    for each in sorted(files):
        digest.update(each.name.encode())
        digest.update(each.read_bytes())
    return digest.hexdigest()[:_DIGITS]


def cache_folder() -> Path | None:
    """Folder for what can be worked out again.

    Returns
    -------
    pathlib.Path or None
        It need not exist yet; None where nothing is to be kept.
    """
    named = os.environ.get(FOLDER_VARIABLE)
    if named is not None and not named.strip():
        return None
    try:
        return Path(named) if named else user_cache_path("shadecore")
    except (OSError, RuntimeError):
        return None


def kept_folder() -> Path | None:
    """Folder of this version's arrays.

    Returns
    -------
    pathlib.Path or None
        It need not exist yet; None where nothing is to be kept.
    """
    home = cache_folder()
    try:
        return None if home is None else home / _version()
    except OSError:
        return None


def kept_array(name: str, shape: tuple[int, ...]) -> NDArray[np.float32] | None:
    """Open an array that was kept.

    Parameters
    ----------
    name : str
        Its name.
    shape : tuple of int
        What it must have.

    Returns
    -------
    array of float32 or None
        Read from the file where it is looked at; changes stay in memory. None where
        there is no such array, or a damaged one.
    """
    folder = kept_folder()
    if folder is None:
        return None
    try:
        found = np.load(folder / f"{name}.npy", mmap_mode="c", allow_pickle=False)
    except (OSError, ValueError, EOFError):
        return None
    fits = found.shape == shape and found.dtype == np.float32
    return found if fits else None


def keep_array(name: str, array: NDArray[np.float32]) -> None:
    """Keep an array, or leave it where that cannot be done.

    It is written beside its place and moved there whole, so that another process
    never reads half of it.

    Parameters
    ----------
    name : str
        Its name.
    array : array of float32
        What to keep.
    """
    folder = kept_folder()
    if folder is None:
        return
    with contextlib.suppress(OSError):
        folder.mkdir(parents=True, exist_ok=True)
        with part_of(folder / f"{name}.npy") as part, part.open("wb") as file:
            np.save(file, np.ascontiguousarray(array), allow_pickle=False)
        _forget_old_versions(folder)


def _forget_old_versions(current: Path) -> None:
    """Delete the folders of all but the versions used last."""
    others = [
        each
        for each in current.parent.iterdir()
        if each.is_dir() and len(each.name) == _DIGITS and each != current
    ]
    others.sort(key=lambda each: each.stat().st_mtime, reverse=True)
    for each in others[_VERSIONS_KEPT - 1 :]:
        shutil.rmtree(each, ignore_errors=True)


def kept_or_made(
    names: tuple[str, ...],
    shapes: tuple[tuple[int, ...], ...],
    make: Callable[[], tuple[NDArray[np.float32], ...]],
) -> tuple[NDArray[np.float32], ...]:
    """Open arrays that were kept, or make and keep them.

    Parameters
    ----------
    names : tuple of str
        Their names.
    shapes : tuple of tuple of int
        What they must have.
    make : callable
        Works them out, in that order.

    Returns
    -------
    tuple of array of float32
    """
    found = [kept_array(name, shape) for name, shape in zip(names, shapes, strict=True)]
    whole = tuple(each for each in found if each is not None)
    if len(whole) == len(names):
        return whole
    made = make()
    for name, array in zip(names, made, strict=True):
        keep_array(name, array)
    return made
