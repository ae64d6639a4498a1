"""One undercoat in a line that somebody types: its name, and its L* or Munsell N."""

import re
from dataclasses import replace
from typing import Final

import numpy as np

from shadecore.colour.condition import WORKING, Condition
from shadecore.errors import ShelfError
from shadecore.formats.echo import shown
from shadecore.undercoats.shelf import (
    NEUTRAL_CHROMA,
    Shelf,
    Undercoat,
    check_shelf,
    lightness_of_value,
    undercoat,
)
from shadecore.undercoats.shelf_table import demo_shelf

HOW_TO_WRITE_ONE: Final = "My white 92, or My white, N 9"
_NUMBER: Final = r"[-+]?\d+(?:[.,]\d+)?"
_GREY: Final = re.compile(
    rf"(?P<name>.*?)[\s,;:]*(?:(?<![^\s,;:])(?P<scale>L\*?|N)\s*)?(?P<number>{_NUMBER})",
    re.IGNORECASE | re.DOTALL,
)
_COLOURED: Final = re.compile(
    rf"(?P<name>.+?)\s*[,;:]\s*(?P<L>{_NUMBER})\s+(?P<a>{_NUMBER})\s+(?P<b>{_NUMBER})"
)
_LARGEST_VALUE: Final = 10.0


def undercoat_from_words(text: str, condition: Condition = WORKING) -> Undercoat:
    """Read an undercoat that was typed in one line.

    Parameters
    ----------
    text : str
        A name and its L* (``My white 92``) or Munsell value (``My white, N 9``), or
        L*, a*, b* after a comma; a grey without a name is called by its number.
    condition : Condition
        How it was measured.

    Returns
    -------
    Undercoat

    Raises
    ------
    ShelfError
        If there is no number, or one that no undercoat can have.
    """
    line = text.strip()
    coloured = _COLOURED.fullmatch(line)
    if coloured:
        lab = tuple(_value(coloured[axis]) for axis in ("L", "a", "b"))
        return undercoat(coloured["name"], lab, condition)
    grey = _GREY.fullmatch(line)
    if grey is None:
        message = (
            f"{shown(line)} has no L* or N; write a name and a number, such as "
            f"{HOW_TO_WRITE_ONE}."
        )
        raise ShelfError(message)
    number = _value(grey["number"])
    if (grey["scale"] or "").upper() != "N":
        return undercoat(grey["name"] or f"L* {number:g}", (number, 0, 0), condition)
    if not 0.0 <= number <= _LARGEST_VALUE:
        message = f"N lies between 0 (black) and 10 (white), not {number:g}."
        raise ShelfError(message)
    # Shops tell their greys apart by N, so it stays part of a name it is written in.
    own = grey["name"] if "," in line else line
    name = own or f"N {number:g}"
    return undercoat(name, (lightness_of_value(number), 0, 0), condition)


def words_of_undercoat(each: Undercoat) -> str:
    """An undercoat as it is typed.

    Parameters
    ----------
    each : Undercoat
        The undercoat.

    Returns
    -------
    str
        What :func:`undercoat_from_words` reads, to one decimal.
    """
    lightness, a, b = each.lab
    if np.hypot(a, b) < NEUTRAL_CHROMA:
        return f"{each.name}, L* {lightness:.1f}"
    return f"{each.name}, {lightness:.1f} {a:.1f} {b:.1f}"


def with_added(shelf: Shelf, text: str, condition: Condition = WORKING) -> Shelf:
    """A shelf with one more undercoat.

    Parameters
    ----------
    shelf : tuple of Undercoat
        The shelf; the invented greys give way to the first one of one's own.
    text : str
        As :func:`undercoat_from_words` reads it.
    condition : Condition
        How it was measured.

    Returns
    -------
    tuple of Undercoat

    Raises
    ------
    ShelfError
        If it cannot be read, or its name is taken.
    """
    before = () if shelf == demo_shelf() else shelf
    return check_shelf((*before, undercoat_from_words(text, condition)))


def with_changed(
    shelf: Shelf, name: str, text: str, condition: Condition = WORKING
) -> Shelf:
    """A shelf with one undercoat changed.

    Parameters
    ----------
    shelf : tuple of Undercoat
        The shelf.
    name : str
        The undercoat's name so far.
    text : str
        As :func:`undercoat_from_words` reads it.
    condition : Condition
        How it was measured.

    Returns
    -------
    tuple of Undercoat
        Where its colour reads as before, what else is known of it stays.

    Raises
    ------
    ShelfError
        If it cannot be read, or its name is taken.
    """
    return check_shelf(
        tuple(
            _changed(each, text, condition) if each.name == name else each
            for each in shelf
        )
    )


def _changed(before: Undercoat, text: str, condition: Condition) -> Undercoat:
    now = undercoat_from_words(text, condition)
    if words_of_undercoat(replace(before, name=now.name)) == words_of_undercoat(now):
        return replace(before, name=now.name)
    return replace(now, price=before.price, unit=before.unit, finish=before.finish)


def _value(number: str) -> float:
    return float(number.replace(",", "."))
