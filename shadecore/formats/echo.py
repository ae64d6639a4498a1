"""What a message repeats of a file: short enough, and in the file's own words."""

import difflib
from collections.abc import Collection
from datetime import date, time
from itertools import islice
from typing import Final

_SHOWN: Final = 40
"""Characters of what was given that are shown."""
_LISTED: Final = 120
"""Characters that a full list of words may take; beyond it the nearest are named."""
_BRIEF: Final = 48
_NEAREST: Final = 3
_COMPARED: Final = 500
"""Words that are compared with what was given; each takes half a millisecond."""


def cut(text: str, most: int = _SHOWN) -> str:
    """A text, cut where it is long.

    Parameters
    ----------
    text : str
        Any text.
    most : int
        Characters to keep.

    Returns
    -------
    str
        With three dots where something was left out.

    Examples
    --------
    >>> cut("abcdef", 3)
    'abc...'
    """
    return text if len(text) <= most else f"{text[:most]}..."


def tail(name: str, most: int = _SHOWN) -> str:
    """The name of a file, its end kept where it is long: that says which file it is.

    Parameters
    ----------
    name : str
        A name or a path.
    most : int
        Characters to keep.

    Returns
    -------
    str
        With three dots where something was left out.

    Examples
    --------
    >>> tail("/home/anna/colours.csv", 11)
    '...colours.csv'
    """
    return name if len(name) <= most else f"...{name[-most:]}"


def brief(name: str, most: int = _BRIEF) -> str:
    """A name that people give, cut where it would take the place from the rest.

    Parameters
    ----------
    name : str
        Of a job, a product.
    most : int
        Characters that there is room for; 48 unless given.

    Returns
    -------
    str
    """
    return name if len(name) <= most else f"{name[: most - 1]}…"


def shown(value: object) -> str:
    """A value as a message repeats it.

    Parameters
    ----------
    value : object
        As a TOML or CSV file gives it.

    Returns
    -------
    str
        On one line, at most 40 characters of the value, and no name of a type.

    Examples
    --------
    >>> shown(True), shown("wax"), shown([1, 2])
    ('true', "'wax'", 'a list')
    """
    match value:
        case bool():
            return "true" if value else "false"
        case str():
            return repr(cut(value))
        case list() | tuple():
            return "a list"
        case dict():
            return "a table"
        case date() | time():
            return cut(value.isoformat())
        case _:
            return cut(repr(value))


def choices(options: Collection[str], given: str | None = None) -> str:
    """Words to choose from, as the end of a sentence.

    Parameters
    ----------
    options : collection of str
        The words.
    given : str, optional
        What was given instead; a long list is shortened to what is spelled like it.

    Returns
    -------
    str
    """
    full = ", ".join(options)
    if len(full) <= _LISTED:
        return full
    compared = list(islice(options, _COMPARED))
    near = difflib.get_close_matches(cut(given or ""), compared, _NEAREST, 0.5)
    named = near or list(options)[:_NEAREST]
    return cut(f"{', '.join(named)} or {len(options) - len(named)} others", _LISTED)
