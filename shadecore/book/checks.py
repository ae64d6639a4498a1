"""What a text or a number in the book must be."""

import math
from collections.abc import Sequence
from typing import Final

from shadecore.book.errors import BookError

LONGEST_NAME: Final = 200
LONGEST_NOTE: Final = 10_000
LONGEST_TEXT: Final = 1_000_000
"""Characters that a name, a note, and a job or a product sheet may have; this tool's
own limits, far above what people write."""


def name(
    value: str, what: str, *, needed: bool = False, most: int = LONGEST_NAME
) -> None:
    """Refuse what is not a text on one line.

    Parameters
    ----------
    value : str
        A name or a code.
    what : str
        What to call it in a message.
    needed : bool
        Whether it may not be blank.
    most : int
        Characters that it may have.

    Raises
    ------
    BookError
        If it is too long, blank where it may not be, or has characters that cannot
        be printed.
    """
    if needed and not value.strip():
        message = f"{what} is empty; write at least one character."
        raise BookError(message)
    if len(value) > most:
        message = (
            f"{what} has {len(value)} characters; {most} are the most, so shorten it."
        )
        raise BookError(message)
    if not value.isprintable():
        message = f"{what} holds a line break or an invisible character; remove it."
        raise BookError(message)


def text(value: str, what: str, longest: int = LONGEST_NOTE) -> None:
    """Refuse what is not a text of several lines.

    Parameters
    ----------
    value : str
        The text.
    what : str
        What to call it in a message.
    longest : int
        Characters it may have.

    Raises
    ------
    BookError
        If it is too long or cannot be stored.
    """
    if len(value) > longest:
        message = (
            f"{what} has {len(value)} characters; {longest} are the most, so shorten "
            "it."
        )
        raise BookError(message)
    # A NUL or half a character (a lone surrogate) cannot be written as text.
    if "\0" in value or any("\ud800" <= each <= "\udfff" for each in value):
        message = f"{what} holds a character that cannot be stored; remove it."
        raise BookError(message)


def number(value: float | None, what: str, low: float, high: float) -> None:
    """Refuse a number outside its range.

    Parameters
    ----------
    value : float or None
        The number; None passes.
    what : str
        What to call it in a message.
    low, high : float
        Between what it may lie.

    Raises
    ------
    BookError
        If it lies outside, or is not a number.
    """
    # Also refuses what is not a number, which compares with nothing.
    if value is not None and not low <= value <= high:
        message = f"{what} must lie between {low:g} and {high:g}; correct it."
        raise BookError(message)


def numbers(values: Sequence[float], what: str, sizes: tuple[int, ...]) -> None:
    """Refuse numbers that are not finite or not as many as they must be.

    Parameters
    ----------
    values : sequence of float
        The numbers.
    what : str
        What to call them in a message.
    sizes : tuple of int
        How many there may be.

    Raises
    ------
    BookError
        If one is not finite, or there are more or fewer.
    """
    if len(values) not in sizes:
        message = (
            f"{what} has {len(values)} numbers; it needs "
            f"{' or '.join(str(size) for size in sizes)}."
        )
        raise BookError(message)
    if not all(math.isfinite(value) for value in values):
        message = f"{what} holds something that is not a number; correct it."
        raise BookError(message)


def choice(value: str, what: str, choices: tuple[str, ...]) -> None:
    """Refuse what is none of some words.

    Parameters
    ----------
    value : str
        The word.
    what : str
        What to call it in a message.
    choices : tuple of str
        What it may be.

    Raises
    ------
    BookError
        If it is none of them.
    """
    if value not in choices:
        message = f"{what} must be one of {', '.join(choices)}; correct it."
        raise BookError(message)
