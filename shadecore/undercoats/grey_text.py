"""Undercoats typed in a line: a name with its L*, its Munsell N, or its L*, a*, b*."""

import re
from typing import Final

from shadecore.colour.topcoat import parse_topcoat
from shadecore.errors import ShadecoreError, ShelfError
from shadecore.formats.echo import shown
from shadecore.undercoats.shelf import Shelf, Undercoat, munsell_value, undercoat

HOW_TO_WRITE: Final = "write a name and L* or Munsell N, like White 90 or Mid N 5.5"
_LARGEST_MUNSELL: Final = 10.0
_NUMBER: Final = r"-?\d+(?:[.,]\d+)?"
_ENTRY: Final = re.compile(
    rf"(?P<name>.*?)[\s:=]*\b(?P<scale>N|L\*?)?[\s=]*(?P<values>{_NUMBER}"
    rf"(?:[\s/]+{_NUMBER}[\s/]+{_NUMBER})?)",
    re.IGNORECASE,
)
_LINES: Final = re.compile(r"[;\n]")
_COMMA: Final = re.compile(r",(?!\d)")
"""A comma between entries; a decimal one stands before a digit."""


def read_greys(text: str) -> Shelf:
    """Undercoats of a line that somebody typed.

    Parameters
    ----------
    text : str
        Such as ``White 90, Mid N 5.5``. A bare number up to 10 is a Munsell N, as no
        undercoat has so low an L*.

    Returns
    -------
    tuple of Undercoat
        In that order; one without a name is called by its value.

    Raises
    ------
    ShelfError
        If there is none, or one cannot be read.

    Examples
    --------
    >>> [(each.name, round(each.lightness)) for each in read_greys("Snow 92, N 4")]
    [('Snow', 92), ('Grey N 4', 41)]
    """
    entries = [each for line in _LINES.split(text) for each in _entries(line)]
    if not entries:
        message = f"There is no sealer in it; {HOW_TO_WRITE}."
        raise ShelfError(message)
    return tuple(_undercoat(each) for each in entries)


def _entries(line: str) -> list[str]:
    """Entries of a line; a comma between a name and its number parts none."""
    found: list[str] = []
    for part in filter(None, map(str.strip, _COMMA.split(line))):
        if found and _ENTRY.fullmatch(found[-1]) is None:
            found[-1] = f"{found[-1]} {part}"
        else:
            found.append(part)
    return found


def _undercoat(entry: str) -> Undercoat:
    found = _ENTRY.fullmatch(entry)
    if found is None:
        message = f"{shown(entry)} has no number at its end; {HOW_TO_WRITE}."
        raise ShelfError(message)
    scale = (found["scale"] or "").upper()
    values = [float(v.replace(",", ".")) for v in re.findall(_NUMBER, found["values"])]
    lightness = values[0]
    by_munsell = scale == "N" or (
        not scale and len(values) == 1 and lightness <= _LARGEST_MUNSELL
    )
    if by_munsell:
        lightness = _from_munsell(lightness, entry)
    name = found["name"].strip()
    if not name:
        name = f"Grey N {munsell_value(lightness):.1f}".removesuffix(".0")
    a, b = values[1:] if len(values) > 1 else (0.0, 0.0)
    return undercoat(name, (lightness, a, b))


def _from_munsell(value: float, entry: str) -> float:
    """L* of a Munsell grey."""
    try:
        return parse_topcoat(f"N {value:g}").lab[0]
    except ShadecoreError as error:
        message = f"{shown(entry)} is no Munsell grey, N 0 to N 10; {HOW_TO_WRITE}."
        raise ShelfError(message) from error
