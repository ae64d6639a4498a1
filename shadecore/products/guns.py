"""How guns are usually set, and what limits the air that they may use."""

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from shadecore.datafiles import data_file
from shadecore.errors import JobError
from shadecore.formats.table import Row, read_rows, read_text
from shadecore.products.product import Gun
from shadecore.units import CM_PER_INCH, PSI_PER_BAR

HVLP_MOST_CAP_BAR: Final = 10.0 / PSI_PER_BAR
"""Most pressure at the air cap for a gun to count as HVLP: 10 psi by US air rules, read
second-hand. It is shown with a test cap and a gauge."""
_SETTINGS: Final = "gun-settings.csv"
_COLUMNS: Final = (
    *("kind", "inlet_low_psi", "inlet_high_psi", "cap_low_psi", "cap_high_psi"),
    *("tip_mm", "distance_low_in", "distance_high_in", "overlap"),
)
_ROUNDING_BAR: Final = 0.005
"""A sheet gives bar with two decimals: 0.69 stands for 10 psi."""
_MOST_OVERLAP: Final = 0.95
_MOST_STROKES: Final = 10_000
_SLACK: Final = 1e-9
"""Rounding must not cost a stroke."""


@dataclass(frozen=True)
class UsualGun:
    """How a gun is usually set for a kind of product; common practice, no source.

    Attributes
    ----------
    kind : str
        Kind of product.
    inlet_bar : tuple of float
        Least and most air pressure at the inlet. [bar]
    cap_bar, distance_cm : tuple of float or None
        Least and most pressure at the air cap and distance; None where it is not told.
    tip_mm : float
        Fluid tip. [mm]
    overlap : float or None
        Share of the fan that covers the stroke before, 0..1.
    """

    kind: str
    inlet_bar: tuple[float, float]
    cap_bar: tuple[float, float] | None
    tip_mm: float
    distance_cm: tuple[float, float] | None
    overlap: float | None


@lru_cache(maxsize=1)
def usual_guns() -> dict[str, UsualGun]:
    """Usual settings by the kind of product, of ``data/gun-settings.csv``.

    Returns
    -------
    dict of str to UsualGun

    Raises
    ------
    TableError
        If the table cannot be used.
    """
    rows = read_rows(read_text(data_file(_SETTINGS)), _SETTINGS, _COLUMNS)
    return {row.text("kind"): _usual(row) for row in rows}


def _usual(row: Row) -> UsualGun:
    low, high = row.number("inlet_low_psi"), row.number("inlet_high_psi")
    return UsualGun(
        row.text("kind"),
        (low / PSI_PER_BAR, high / PSI_PER_BAR),
        _pair(row, "cap_{}_psi", 1.0 / PSI_PER_BAR),
        row.number("tip_mm"),
        _pair(row, "distance_{}_in", CM_PER_INCH),
        row.number("overlap") if row.filled("overlap") else None,
    )


def _pair(row: Row, column: str, factor: float) -> tuple[float, float] | None:
    low, high = column.format("low"), column.format("high")
    if not row.filled(low):
        return None
    return row.number(low) * factor, row.number(high) * factor


def over_hvlp_bar(gun: Gun) -> float:
    """How far a gun that is to be HVLP is above the pressure that it may have.

    Parameters
    ----------
    gun : Gun
        As the sheet sets it.

    Returns
    -------
    float
        At the air cap; 0 where it keeps to the limit, is of another type, or where its
        pressure at the cap is not told. [bar]
    """
    if gun.type != "hvlp" or gun.cap_bar is None:
        return 0.0
    over = gun.cap_bar - HVLP_MOST_CAP_BAR
    return over if over > _ROUNDING_BAR else 0.0


def stroke_places_cm(
    height_cm: float, fan_cm: float, overlap: float
) -> tuple[float, ...]:
    """Where the middle of the fan passes, so that an area is covered.

    The first stroke aims at the edge, so that half of its fan falls beside it and the
    edge gets as much as the middle; so does the last.

    Parameters
    ----------
    height_cm : float
        Of the area, across the strokes; above 0. [cm]
    fan_cm : float
        Width of the fan, above 0. [cm]
    overlap : float
        Share of the fan that covers the stroke before, 0 to 0.95.

    Returns
    -------
    tuple of float
        From one edge on, evenly spaced and overlapping at least so much. [cm]

    Raises
    ------
    JobError
        If one of them is outside its range.

    Examples
    --------
    >>> stroke_places_cm(30.0, 20.0, 0.5)
    (0.0, 10.0, 20.0, 30.0)
    """
    sizes = (height_cm, fan_cm)
    if not all(math.isfinite(each) and each > 0.0 for each in sizes):
        message = f"Area and fan must be above 0 cm, not {height_cm:g} and {fan_cm:g}."
        raise JobError(message)
    if not 0.0 <= overlap <= _MOST_OVERLAP:
        message = f"The overlap must be from 0 to {_MOST_OVERLAP}, not {overlap:g}."
        raise JobError(message)
    steps = math.ceil(height_cm / (fan_cm * (1.0 - overlap)) - _SLACK)
    if steps > _MOST_STROKES:
        message = f"The area would take over {_MOST_STROKES} strokes; check its size."
        raise JobError(message)
    return tuple(height_cm * each / steps for each in range(steps + 1))
