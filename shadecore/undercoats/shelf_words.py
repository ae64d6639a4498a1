"""A shelf that changes by what somebody types in a line."""

from dataclasses import replace

import numpy as np

from shadecore.errors import ShelfError
from shadecore.undercoats.grey_text import HOW_TO_WRITE, read_greys
from shadecore.undercoats.shelf import NEUTRAL_CHROMA, Shelf, Undercoat, check_shelf
from shadecore.undercoats.shelf_table import demo_shelf


def words_of_undercoat(each: Undercoat) -> str:
    """An undercoat as it is typed.

    Parameters
    ----------
    each : Undercoat
        The undercoat.

    Returns
    -------
    str
        What :func:`shadecore.undercoats.grey_text.read_greys` reads, to one decimal.
    """
    lightness, a, b = each.lab
    if np.hypot(a, b) < NEUTRAL_CHROMA:
        return f"{each.name} L* {lightness:.1f}"
    return f"{each.name} {lightness:.1f} {a:.1f} {b:.1f}"


def with_added(shelf: Shelf, text: str) -> Shelf:
    """A shelf with more undercoats.

    Parameters
    ----------
    shelf : tuple of Undercoat
        The shelf; the invented greys give way to the first one of one's own.
    text : str
        One or more, as :func:`shadecore.undercoats.grey_text.read_greys` reads them.

    Returns
    -------
    tuple of Undercoat

    Raises
    ------
    ShelfError
        If it cannot be read, or a name is taken.
    """
    before = () if shelf == demo_shelf() else shelf
    return check_shelf((*before, *read_greys(text)))


def with_changed(shelf: Shelf, name: str, text: str) -> Shelf:
    """A shelf with one undercoat changed.

    Parameters
    ----------
    shelf : tuple of Undercoat
        The shelf.
    name : str
        The undercoat's name so far.
    text : str
        As :func:`shadecore.undercoats.grey_text.read_greys` reads it.

    Returns
    -------
    tuple of Undercoat
        Where its colour reads as before, what else is known of it stays.

    Raises
    ------
    ShelfError
        If it cannot be read, or its name is taken.
    """
    found = read_greys(text)
    if len(found) > 1:
        message = f"That is more than one sealer; {HOW_TO_WRITE}."
        raise ShelfError(message)
    return check_shelf(
        tuple(_changed(each, found[0]) if each.name == name else each for each in shelf)
    )


def new_names(before: Shelf, after: Shelf) -> dict[str, str]:
    """What undercoats of a shelf are called by now.

    Parameters
    ----------
    before, after : tuple of Undercoat
        The shelf before it was changed, and as it is.

    Returns
    -------
    dict of str to str
        By the name before; without those that are gone. On a shelf as long as before,
        one that nobody knows is the one that stood in its place under another name.
    """
    names, known = {each.name for each in after}, {each.name for each in before}
    found = {name: name for name in known & names}
    if len(before) == len(after):
        for was, now in zip(before, after, strict=True):
            if was.name not in names and now.name not in known:
                found[was.name] = now.name
    return found


def _changed(before: Undercoat, now: Undercoat) -> Undercoat:
    if words_of_undercoat(replace(before, name=now.name)) == words_of_undercoat(now):
        return replace(before, name=now.name)
    return replace(now, price=before.price, unit=before.unit, finish=before.finish)
