"""A let-down panel's readings as CSV: ``area`` and columns for each angle."""

from dataclasses import dataclass

from shadecore.colour.angle_table import row_readings
from shadecore.colour.angles import AngleReadings
from shadecore.colour.condition import WORKING, Condition
from shadecore.errors import CardError
from shadecore.formats.bad_rows import at_row
from shadecore.formats.echo import shown, tail
from shadecore.formats.table import Row, read_rows

_CAR = "car"


@dataclass(frozen=True)
class MidcoatPanel:
    """Readings of a car and of a let-down panel, all under clear.

    Attributes
    ----------
    car : AngleReadings
        The car.
    strips : dict of int to AngleReadings
        The panel by its mid-coats; 0 is the bare ground.
    """

    car: AngleReadings
    strips: dict[int, AngleReadings]


def parse_midcoat_panel(
    text: str, name: str, condition: Condition = WORKING
) -> MidcoatPanel:
    """Read a let-down panel from CSV text.

    Parameters
    ----------
    text : str
        Columns ``area`` (``car``, or the number of mid-coats from 0) and ``L15``,
        ``a15``, ``b15``, ``L25``, ... for each angle, 45 at least.
    name : str
        What to call the file in a message.
    condition : Condition
        How it was read.

    Returns
    -------
    MidcoatPanel

    Raises
    ------
    TableError
        If the file is not such a table.
    CardError
        If a row cannot be used, or the car or the panel is missing.
    """
    car: AngleReadings | None = None
    strips: dict[int, AngleReadings] = {}
    for row in read_rows(text, name, ("area", "l45", "a45", "b45")):
        with at_row(row, name, CardError):
            area = _area(row)
            again = car is not None if area is None else area in strips
            if again:
                given = shown(row.text("area"))
                message = f"a second row for the area {given}; keep one."
                raise CardError(message)
            readings = row_readings(row, condition)
        if area is None:
            car = readings
        else:
            strips[area] = readings
    if car is None:
        message = f"{tail(name)} has no row for the car; add one with the area 'car'."
        raise CardError(message)
    if 0 not in strips or len(strips) == 1:
        message = (
            f"{tail(name)} needs the bare ground (area 0) and at least one strip with "
            "mid-coats (area 1)."
        )
        raise CardError(message)
    return MidcoatPanel(car, strips)


def _area(row: Row) -> int | None:
    """Mid-coats of a row; None for the car."""
    if row.text("area").lower() == _CAR:
        return None
    number = row.number("area")
    if number < 0 or number != int(number):
        area = shown(row.text("area"))
        message = f"the area {area} is neither 'car' nor a number of coats."
        raise CardError(message)
    return int(number)
