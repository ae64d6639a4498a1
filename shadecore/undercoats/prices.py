"""What a shop pays for its undercoats: the volume that a price is for."""

import re
from dataclasses import dataclass
from typing import Final

from shadecore.undercoats.shelf import Undercoat
from shadecore.units import L_PER_US_GALLON, ML_PER_L, ML_PER_US_FLUID_OUNCE

ML_PER_UNIT: Final = {
    **dict.fromkeys(("l", "litre", "liter"), ML_PER_L),
    "ml": 1.0,
    **dict.fromkeys(("qt", "quart"), ML_PER_L * L_PER_US_GALLON / 4.0),
    **dict.fromkeys(("gal", "gallon"), ML_PER_L * L_PER_US_GALLON),
    "pt": ML_PER_L * L_PER_US_GALLON / 8.0,
    "fl oz": ML_PER_US_FLUID_OUNCE,
}
"""Units a price can be for, in millilitres."""
_SMALLEST_CAN_L, _LARGEST_CAN_L = 0.001, 1000.0
_CAN: Final = re.compile(r"(\d{1,6}(?:[.,]\d{1,6})?)\s*(.+)")


@dataclass(frozen=True)
class CanPrice:
    """What a shop pays for an undercoat.

    Attributes
    ----------
    name : str
        The undercoat.
    price : float
        Of one unit. [currency]
    unit : str
        As the shop wrote it.
    per_l : float
        [currency/L]
    can_l : float or None
        What its can holds, where the unit is a can; None where it is a measure. [L]
    """

    name: str
    price: float
    unit: str
    per_l: float
    can_l: float | None


def unit_ml(unit: str) -> tuple[float | None, bool]:
    """The volume that a price is for.

    Parameters
    ----------
    unit : str
        Such as ``L``, ``qt``, ``0.9 L`` or ``500 ml``.

    Returns
    -------
    volume : float or None
        None where it is no volume. [ml]
    can : bool
        Whether a number stands in it, so that it is a can of that size.

    Examples
    --------
    >>> unit_ml("0,9 L"), unit_ml("qt"), unit_ml("tin")
    ((900.0, True), (946.352946, False), (None, False))
    """
    written = " ".join(unit.lower().split())
    if written in ML_PER_UNIT:
        return ML_PER_UNIT[written], False
    found = _CAN.fullmatch(written)
    if found is None or found[2] not in ML_PER_UNIT:
        return None, False
    count = float(found[1].replace(",", "."))
    size_ml = count * ML_PER_UNIT[found[2]]
    if not _SMALLEST_CAN_L <= size_ml / ML_PER_L <= _LARGEST_CAN_L:
        return None, False
    return size_ml, True


def can_price(undercoat: Undercoat) -> CanPrice | None:
    """What a shop pays for an undercoat.

    Parameters
    ----------
    undercoat : Undercoat
        The undercoat.

    Returns
    -------
    CanPrice or None
        None where it has no price above 0, or that is for no volume.
    """
    size_ml, is_can = unit_ml(undercoat.unit)
    if not undercoat.price or size_ml is None:
        return None
    litres = size_ml / ML_PER_L
    return CanPrice(
        undercoat.name,
        undercoat.price,
        undercoat.unit.strip(),
        undercoat.price / litres,
        litres if is_can else None,
    )
