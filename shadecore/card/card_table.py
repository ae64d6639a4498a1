"""Readings of a test card as CSV: ``area,coats`` and Lab, Y or a spectrum."""

from collections.abc import Iterator
from typing import Final

from shadecore.card.reading import (
    DEFAULT_BLACK,
    DEFAULT_WHITE,
    LAB,
    LUMINANCE,
    Card,
    Reading,
    Step,
    check_card,
    luminous_reflectance,
)
from shadecore.colour.condition import WORKING, Condition
from shadecore.colour.convert import lab_from_lab
from shadecore.errors import CardError, TableError
from shadecore.formats.bad_rows import at_row
from shadecore.formats.echo import shown, tail
from shadecore.formats.table import Row, read_rows
from shadecore.formats.table_writer import Cell, write_records
from shadecore.formats.text_file import TableText
from shadecore.undercoats.shelf_table import (
    LAB_COLUMNS,
    SPECTRUM_COLUMNS,
    has_spectrum,
    spectrum_of,
)

AREAS: Final = ("black", "white", "full")
MOST_READINGS: Final = 1000
"""Of one card; this tool's own limit."""
MOST_COATS: Final = 100
"""On one step; this tool's own limit."""
_BARE: Final = 0
_REFLECTANCE: Final = "reflectance"


def parse_card(text: TableText, name: str, condition: Condition = WORKING) -> Card:
    """Read a card from CSV text.

    Parameters
    ----------
    text : str or TextFile
        Columns ``area`` (black, white, or full for the paint where it hides) and
        ``coats`` (0 for the bare card), and ``L``, ``a``, ``b``, or ``Y`` alone, or
        columns headed by wavelengths in nm with reflectances 0..1. The bare card may
        have its ``reflectance`` 0..1 instead. Where a row has several, its spectrum
        goes before Lab, and Lab before Y.
    name : str
        What to call the file in a message.
    condition : Condition
        How it was read.

    Returns
    -------
    Card
        Checked.

    Raises
    ------
    TableError
        If the file is not such a table.
    CardError
        If a row cannot be used, or the readings cannot be right.
    """
    readings: dict[tuple[str, int], Reading] = {}
    bare = {"black": DEFAULT_BLACK, "white": DEFAULT_WHITE}
    for row in read_rows(text, name, ("area",)):
        with at_row(row, name, CardError):
            place = _place(row)
            if place in readings:
                message = f"a second reading of {place[0]} at {place[1]} coats."
                raise CardError(message)
            if len(readings) >= MOST_READINGS:
                message = f"more than {MOST_READINGS:,} readings; leave some out."
                raise CardError(message)
            readings[place] = reading = _reading(row, place, condition)
            if place in _BARE_AREAS:
                bare[place[0]] = _bare_reflectance(row, reading)
    coats = sorted({n for area, n in readings if area != "full" and n != _BARE})
    return check_card(
        Card(
            tuple(_step(readings, n, name) for n in coats),
            bare["black"],
            bare["white"],
            readings.get(("full", _BARE)),
        )
    )


_BARE_AREAS: Final = (("black", _BARE), ("white", _BARE))


def write_card(card: Card) -> str:
    """A card as CSV text under the working condition.

    Parameters
    ----------
    card : Card
        Its readings.

    Returns
    -------
    str
        What :func:`parse_card` reads back equal, under the working condition.
    """
    records = list(_records(card))
    columns = [
        column
        for column in ("area", "coats", _REFLECTANCE, "Y", *LAB_COLUMNS)
        if any(column in each for each in records)
    ]
    if any(SPECTRUM_COLUMNS[0] in each for each in records):
        columns += SPECTRUM_COLUMNS
    return write_records(columns, records)


def _records(card: Card) -> Iterator[dict[str, Cell]]:
    for area, level in (("black", card.black), ("white", card.white)):
        yield {"area": area, "coats": _BARE, _REFLECTANCE: level}
    for step in card.steps:
        for area, reading in (("black", step.over_black), ("white", step.over_white)):
            yield {"area": area, "coats": step.coats, **_cells(reading)}
    if card.full is not None:
        yield {"area": "full", **_cells(card.full)}


def _cells(reading: Reading) -> dict[str, Cell]:
    if len(reading) == LUMINANCE:
        return {"Y": reading[0]}
    names = LAB_COLUMNS if len(reading) == LAB else SPECTRUM_COLUMNS
    return dict(zip(names, reading, strict=True))


def _place(row: Row) -> tuple[str, int]:
    area = row.text("area").lower()
    if area not in AREAS:
        message = f"the area {shown(area)} is none of {', '.join(AREAS)}."
        raise TableError(message)
    coats = row.number_or("coats", float(_BARE))
    if area == "full":
        return area, _BARE
    if coats != int(coats) or not _BARE <= coats <= MOST_COATS:
        message = (
            f"{coats:g} coats; give a whole number up to {MOST_COATS}, 0 for the bare "
            "card."
        )
        raise TableError(message)
    return area, int(coats)


def _reading(row: Row, place: tuple[str, int], condition: Condition) -> Reading:
    if has_spectrum(row):
        return tuple(float(v) for v in spectrum_of(row, condition))
    if row.filled("l"):
        lab = (row.number("l"), row.number_or("a", 0.0), row.number_or("b", 0.0))
        return tuple(float(v) for v in lab_from_lab(lab, condition))
    if row.filled("y"):
        return (row.number("y"),)
    if place in _BARE_AREAS and row.filled(_REFLECTANCE):
        return (100.0 * row.number(_REFLECTANCE),)
    message = "no reading; give L, a, b, or Y, or a spectrum."
    raise TableError(message)


def _bare_reflectance(row: Row, reading: Reading) -> float:
    """Luminous reflectance of a bare area; as it stands there, to the last digit."""
    others = has_spectrum(row) or row.filled("l") or row.filled("y")
    return luminous_reflectance(reading) if others else row.number(_REFLECTANCE)


def _step(readings: dict[tuple[str, int], Reading], coats: int, name: str) -> Step:
    missing = [area for area in ("black", "white") if (area, coats) not in readings]
    if missing:
        message = (
            f"{tail(name)} has no reading over {missing[0]} at {coats} coats; each "
            "step needs one over black and one over white."
        )
        raise CardError(message)
    return Step(coats, readings["black", coats], readings["white", coats])
