"""What can go wrong with what a user gives, one class per mistake.

Each message is one sentence that says what was wrong, where, and what to do.
"""

import re
from typing import Final

MOST_MESSAGE: Final = 300
"""Characters of a message; more is not read."""
_UNSEEN: Final = re.compile(
    "[\x00-\x1f\x7f-\x9f\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff]+"
)
"""Breaks, marks that steer a terminal, and marks that turn the way a line is read."""


def sentence(text: str, most: int = MOST_MESSAGE) -> str:
    """A message on one line that is not too long to be read.

    Parameters
    ----------
    text : str
        The message.
    most : int
        Characters that it may have.

    Returns
    -------
    str
        Cut in its middle where it is too long: how it ends says what to do.
    """
    text = _UNSEEN.sub(" ", text)
    if len(text) <= most:
        return text
    half = (most - 3) // 2
    return f"{text[:half]}...{text[-half:]}"


class ShadecoreError(ValueError):
    """Base of all errors about a user's input; show its text as it stands.

    Parameters
    ----------
    message : str
        What is wrong; kept on one line and cut in its middle beyond 300 characters,
        whatever of a file or a link it repeats.
    """

    def __init__(self, message: str = "") -> None:
        super().__init__(sentence(message))


class ColourError(ShadecoreError):
    """A colour that cannot be read or cannot exist."""


class SpectrumError(ShadecoreError):
    """A reflectance spectrum that cannot be used."""


class ShelfError(ShadecoreError):
    """An undercoat or a shelf that cannot be used."""


class SettingError(ShadecoreError):
    """A film, tolerance or other setting outside its range."""


class TableError(ShadecoreError):
    """A file that cannot be read as a table."""


class CardError(ShadecoreError):
    """Readings of a test card that cannot be right."""


class JobError(ShadecoreError):
    """A product sheet or a job that cannot be planned from."""


class PhotoError(ShadecoreError):
    """A photo, or an area marked on one, that cannot be measured."""
