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


def screens_settings() -> Path:
    """Path of the settings that keep the screens private and give them their look.

    Returns
    -------
    pathlib.Path
        Of a TOML file as Streamlit reads it.
    """
    installed = _PACKAGE / "data" / "streamlit.toml"
    checkout = _PACKAGE.parent / ".streamlit" / "config.toml"
    return installed if installed.is_file() else checkout
