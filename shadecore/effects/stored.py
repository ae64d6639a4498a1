"""Arrays that take a while to work out, kept in the user's cache folder."""

import hashlib
import shutil
import tempfile
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from platformdirs import user_cache_path

Arrays = Mapping[str, NDArray[np.generic]]

_FOLDER = "shadecore"
_KEY_LENGTH = 16


def cache_folder() -> Path:
    """Folder for what can be worked out again.

    Returns
    -------
    pathlib.Path
    """
    return user_cache_path(_FOLDER, appauthor=False)


def content_key(files: Iterable[Path]) -> str:
    """Key that changes with the content of files.

    Parameters
    ----------
    files : iterable of pathlib.Path
        Code and data that the arrays come from.

    Returns
    -------
    str
    """
    digest = hashlib.sha256(np.__version__.encode())
    for each in sorted(files):
        digest.update(each.name.encode())
        digest.update(each.read_bytes())
    return digest.hexdigest()[:_KEY_LENGTH]


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
        Where to keep them; the user's cache folder unless given.

    Returns
    -------
    mapping of str to array
        Read from the disk where they were stored, so shared between processes. Where
        the folder cannot be written they are built each time.
    """
    home = cache_folder() if folder is None else folder
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
    unfinished = Path(tempfile.mkdtemp(prefix=f".{place.name}-", dir=home))
    try:
        for name, array in arrays.items():
            np.save(unfinished / f"{name}.npy", array)
        # Where another process was first its folder stays, and is as good.
        unfinished.replace(place)
    except OSError:
        shutil.rmtree(unfinished, ignore_errors=True)
        raise


def _forget_others(home: Path, name: str, place: Path) -> None:
    for each in home.glob(f"{name}-*"):
        if each.is_dir() and each != place:
            shutil.rmtree(each, ignore_errors=True)
