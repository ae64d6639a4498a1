"""Where the shop's book lies."""

import os
from pathlib import Path
from typing import Final

VARIABLE: Final = "SHADECORE_BOOK"
"""Environment variable that names another file."""
FILE_NAME: Final = "book.sqlite"


def book_path() -> Path:
    """File of the shop's book, whether it is there or not.

    Returns
    -------
    Path
        As ``SHADECORE_BOOK`` says, else ``book.sqlite`` in the user's data folder.
    """
    from platformdirs import user_data_path  # noqa: PLC0415 - only where it is needed

    named = os.environ.get(VARIABLE, "").strip()
    if named:
        return Path(named).expanduser()
    return user_data_path("shadecore", appauthor=False) / FILE_NAME
