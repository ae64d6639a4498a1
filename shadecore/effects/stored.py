"""Arrays that take a while to work out, kept in the user's cache folder."""

import shutil
from collections.abc import Callable, Mapping
from contextlib import suppress
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from shadecore.formats.whole import part_of, remove_stale_parts
from shadecore.kept import cache_folder

Arrays = Mapping[str, NDArray[np.generic]]


def stored_arrays(
    name: str, key: str, build: Callable[[], Arrays], folder: Path | None = None
) -> Arrays:
    """Arrays from the cache folder, or built and put there.

    Parameters
    ----------
    name : str
        What they are; older keys of the same name are removed.
    key : str
        What they were built from.
    build : callable
        Works them out.
    folder : pathlib.Path, optional
        Where to keep them; :func:`shadecore.kept.cache_folder` unless given.

    Returns
    -------
    mapping of str to array
        Read from the disk where they were stored, so shared between processes. Where
        there is no such folder, or it cannot be written, they are built each time.
    """
    home = folder or cache_folder()
    if home is None:
        return build()
    place = home / f"{name}-{key}"
    with suppress(OSError, ValueError):
        return _load(place)
    # There, but not to be read: it would stand in the way of the new ones.
    shutil.rmtree(place, ignore_errors=True)
    arrays = build()
    with suppress(OSError):
        _save(arrays, home, place)
        _forget_others(home, name, place)
    return arrays


def _load(place: Path) -> Arrays:
    files = sorted(place.glob("*.npy"))
    if not files:
        raise FileNotFoundError(place)
    return {each.stem: np.load(each, mmap_mode="r") for each in files}


def _save(arrays: Arrays, home: Path, place: Path) -> None:
    """Write to a folder of its own and rename it, so that no half is ever read."""
    home.mkdir(parents=True, exist_ok=True)
    # Where another process was first its folder stays, and is as good.
    with part_of(place) as unfinished:
        unfinished.mkdir()
        for name, array in arrays.items():
            np.save(unfinished / f"{name}.npy", array)


def _forget_others(home: Path, name: str, place: Path) -> None:
    remove_stale_parts(home / name)
    for each in home.glob(f"{name}-*"):
        if each.is_dir() and each != place:
            shutil.rmtree(each, ignore_errors=True)
