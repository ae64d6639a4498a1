"""Where the tables in ``data/`` are, in a checkout and in an installed package."""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def data_file(name: str) -> Path:
    """Path of a file in ``data/``.

    Parameters
    ----------
    name : str
        File name.

    Returns
    -------
    pathlib.Path
    """
    installed = _PACKAGE / "data"
    folder = installed if installed.is_dir() else _PACKAGE.parent / "data"
    return folder / name
