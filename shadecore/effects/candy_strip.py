"""Readings of a candy as CSV: its ground, one strip of it, and the target."""

from dataclasses import dataclass

from shadecore.colour.angle_table import row_readings
from shadecore.colour.angles import AngleReadings
from shadecore.colour.condition import WORKING, Condition
from shadecore.errors import CardError
from shadecore.formats.bad_rows import at_row
from shadecore.formats.echo import tail
from shadecore.formats.table import Row, read_rows
from shadecore.formats.text_file import TableText

_TARGET = ("target", "car")


@dataclass(frozen=True)
class CandyStrip:
    """A candy sprayed once, and what it should look like.

    Attributes
    ----------
    ground, strip, target : AngleReadings
        All under clear.
    coats : float
        Coats on the strip.
    """

    ground: AngleReadings
    strip: AngleReadings
    target: AngleReadings
    coats: float


def parse_candy_strip(
    text: TableText, name: str, condition: Condition = WORKING
) -> CandyStrip:
    """Read a candy from CSV text.

    Parameters
    ----------
    text : str or TextFile
        Columns ``area`` (``target``, 0 for the ground, and the coats of one strip) and
        ``L15``, ``a15``, ``b15``, ``L25``, ... for each angle, 45 at least.
    name : str
        What to call the file in a message.
    condition : Condition
        How it was read.

    Returns
    -------
    CandyStrip

    Raises
    ------
    TableError
        If the file is not such a table.
    CardError
        If a row cannot be used, or one of the three is missing.
    """
    found: dict[float | None, AngleReadings] = {}
    for row in read_rows(text, name, ("area", "l45", "a45", "b45")):
        with at_row(row, name, CardError):
            area = _area(row)
            if area in found:
                message = "a second row for this area; keep one."
                raise CardError(message)
            found[area] = row_readings(row, condition)
    strips = [each for each in found if each]
    if None not in found or 0.0 not in found or len(strips) != 1:
        message = (
            f"{tail(name)} needs a row for the target, one for the bare ground (0) and "
            "one for a strip with coats on it."
        )
        raise CardError(message)
    coats = float(strips[0] or 0.0)
    return CandyStrip(found[0.0], found[coats], found[None], coats)


def _area(row: Row) -> float | None:
    """Coats of a row; None for the target."""
    if row.text("area").lower() in _TARGET:
        return None
    coats = row.number("area")
    if coats < 0.0:
        message = "the area is neither 'target' nor a number of coats."
        raise CardError(message)
    return coats
