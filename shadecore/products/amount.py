"""An amount of paint as people write it: "600 ml", "180 g", "1 qt"."""

import math
import re
from dataclasses import dataclass
from typing import Final

from shadecore.errors import JobError
from shadecore.formats.echo import shown
from shadecore.units import (
    G_PER_L_PER_LB_PER_GAL,
    L_PER_US_GALLON,
    ML_PER_L,
    ML_PER_US_FLUID_OUNCE,
)

_ML_PER_GALLON: Final = ML_PER_L * L_PER_US_GALLON
_VOLUMES: Final = {
    "ml": 1.0,
    "cl": 10.0,
    "l": ML_PER_L,
    "floz": ML_PER_US_FLUID_OUNCE,
    "pt": _ML_PER_GALLON / 8.0,
    "qt": _ML_PER_GALLON / 4.0,
    "gal": _ML_PER_GALLON,
}
"""Millilitres in each; fluid ounce, pint, quart and gallon are the US ones."""
_MASSES: Final = {
    "g": 1.0,
    "kg": 1000.0,
    "lb": G_PER_L_PER_LB_PER_GAL * L_PER_US_GALLON,
}
"""Grams in each."""
_WRITTEN: Final = re.compile(r"\s*(\d+(?:[.,]\d+)?)\s*([a-z. ]+?)\s*", re.IGNORECASE)
_THOUSANDS: Final = re.compile(r"[1-9]\d{0,2},\d{3}")
"""What some read as thousands and others as thousandths."""
_HOW: Final = "write it like 600 ml, 0.5 L, 20 fl oz, 1 qt, 180 g or 1 lb"


@dataclass(frozen=True)
class Amount:
    """A volume or a mass.

    Attributes
    ----------
    ml : float or None
        Volume; None where a mass was given. [ml]
    g : float or None
        Mass; None where a volume was given. [g]
    """

    ml: float | None = None
    g: float | None = None


def parse_amount(text: str) -> Amount:
    """Read an amount.

    Parameters
    ----------
    text : str
        A number and its unit: ml, cl, l, fl oz, pt, qt, gal, g, kg or lb.

    Returns
    -------
    Amount

    Raises
    ------
    JobError
        If it is none, or its unit is missing or could mean two things.

    Examples
    --------
    >>> parse_amount("0.5 L").ml, parse_amount("180 g").g
    (500.0, 180.0)
    """
    found = _WRITTEN.fullmatch(text)
    if found is None:
        message = f"The amount {shown(text)} cannot be read; {_HOW}."
        raise JobError(message)
    if _THOUSANDS.fullmatch(found[1]):
        message = (
            f"The comma of {shown(text)} may mark thousands or decimals; write it "
            "without one, like 1000 ml or 1.5 L."
        )
        raise JobError(message)
    number = float(found[1].replace(",", "."))
    unit = found[2].lower().replace(" ", "").replace(".", "")
    if unit == "oz":
        message = (
            f"The amount {shown(text)} may be fluid or by weight; write fl oz, or "
            "weigh in g."
        )
        raise JobError(message)
    if not (math.isfinite(number) and number > 0.0):
        message = f"The amount {shown(text)} must be above 0; {_HOW}."
        raise JobError(message)
    if unit in _VOLUMES:
        return Amount(ml=number * _VOLUMES[unit])
    if unit in _MASSES:
        return Amount(g=number * _MASSES[unit])
    message = f"The unit of {shown(text)} is not known; {_HOW}."
    raise JobError(message)


def volume_ml(text: str, what: str) -> float:
    """Read a volume.

    Parameters
    ----------
    text : str
        As :func:`parse_amount` takes it.
    what : str
        What it is of, as the start of a sentence.

    Returns
    -------
    float
        [ml]

    Raises
    ------
    JobError
        If it is none, or a mass.
    """
    amount = parse_amount(text)
    if amount.ml is None:
        message = f"{what} is a volume, not {shown(text)}; write it like 600 ml."
        raise JobError(message)
    return amount.ml


def ml_of(text: str, what: str) -> float:
    """Read a volume whose unit may be left out.

    Parameters
    ----------
    text : str
        As :func:`parse_amount` takes it; a number alone is in millilitres.
    what : str
        What it is of, as the start of a sentence.

    Returns
    -------
    float
        [ml]

    Raises
    ------
    JobError
        If it is none, or a mass.

    Examples
    --------
    >>> ml_of("200", "What is left"), ml_of("0.2 L", "What is left")
    (200.0, 200.0)
    """
    bare = re.fullmatch(r"\s*\d+(?:[.,]\d+)?\s*", text)
    return volume_ml(f"{text} ml" if bare else text, what)
