"""Names of files made from what people call things."""

import re
import unicodedata
from typing import Final

_MOST: Final = 60
"""Characters; every file system takes them, with an end behind."""


def file_stem(name: str, otherwise: str) -> str:
    """The name of a file, without its end, that any file system takes.

    Parameters
    ----------
    name : str
        What somebody calls a thing.
    otherwise : str
        What stands for a name that leaves nothing.

    Returns
    -------
    str
        Letters and digits of any script, joined by hyphens.

    Examples
    --------
    >>> file_stem("Deep red, A/B (2)", "job")
    'deep-red-a-b-2'
    >>> file_stem("//", "job")
    'job'
    """
    plain = unicodedata.normalize("NFC", name).lower()
    return re.sub(r"[\W_]+", "-", plain)[:_MOST].strip("-") or otherwise
