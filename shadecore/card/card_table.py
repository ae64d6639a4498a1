"""Readings of a test card as CSV: ``area,coats`` and Lab, Y or a spectrum."""

from shadecore.card.reading import (
    DEFAULT_BLACK,
    DEFAULT_WHITE,
    Card,
    Reading,
    Step,
    check_card,
    luminous_reflectance,
)
from shadecore.colour.condition import WORKING, Condition
from shadecore.colour.convert import lab_from_lab
from shadecore.errors import CardError, ShadecoreError, TableError
from shadecore.formats.table import Row, read_rows
from shadecore.undercoats.shelf_table import spectrum_of, wavelength_columns

AREAS = ("black", "white", "full")
_BARE = 0


def parse_card(text: str, name: str, condition: Condition = WORKING) -> Card:
    """Read a card from CSV text.

    Parameters
    ----------
    text : str
        Columns ``area`` (black, white, or full for the paint where it hides) and
        ``coats`` (0 for the bare card), and ``L``, ``a``, ``b``, or ``Y`` alone, or
        columns headed by wavelengths in nm with reflectances 0..1.
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
    for row in read_rows(text, name, ("area",)):
        try:
            place = _place(row)
            if place in readings:
                message = f"a second reading of {place[0]} at {place[1]} coats."
                raise CardError(message)
            readings[place] = _reading(row, condition)
        except ShadecoreError as error:
            message = f"{name}, line {row.line}: {error}"
            raise CardError(message) from error
    coats = sorted({n for area, n in readings if area != "full" and n != _BARE})
    return check_card(
        Card(
            tuple(_step(readings, n, name) for n in coats),
            _bare(readings, "black", DEFAULT_BLACK),
            _bare(readings, "white", DEFAULT_WHITE),
            readings.get(("full", _BARE)),
        )
    )


def _place(row: Row) -> tuple[str, int]:
    area = row.text("area").lower()
    if area not in AREAS:
        message = f"the area {area!r} is none of {', '.join(AREAS)}."
        raise TableError(message)
    coats = row.number_or("coats", float(_BARE))
    if area == "full":
        return area, _BARE
    if coats != int(coats) or coats < _BARE:
        message = f"{coats:g} coats; give a whole number, 0 for the bare card."
        raise TableError(message)
    return area, int(coats)


def _reading(row: Row, condition: Condition) -> Reading:
    if row.cells.get("l", "").strip():
        lab = (row.number("l"), row.number_or("a", 0.0), row.number_or("b", 0.0))
        return tuple(float(v) for v in lab_from_lab(lab, condition))
    if row.cells.get("y", "").strip():
        return (row.number("y"),)
    if wavelength_columns(row):
        return tuple(float(v) for v in spectrum_of(row, condition))
    message = "no reading; give L, a, b, or Y, or a spectrum."
    raise TableError(message)


def _step(readings: dict[tuple[str, int], Reading], coats: int, name: str) -> Step:
    missing = [area for area in ("black", "white") if (area, coats) not in readings]
    if missing:
        message = (
            f"{name} has no reading over {missing[0]} at {coats} coats; each step "
            "needs one over black and one over white."
        )
        raise CardError(message)
    return Step(coats, readings["black", coats], readings["white", coats])


def _bare(readings: dict[tuple[str, int], Reading], area: str, default: float) -> float:
    reading = readings.get((area, _BARE))
    return default if reading is None else luminous_reflectance(reading)
