"""What each undercoat costs in paint, time and money."""

import math
from dataclasses import dataclass, fields
from typing import Final

from shadecore.coats.answer import Answer, Outlook
from shadecore.errors import SettingError
from shadecore.undercoats.prices import can_price
from shadecore.units import ML_PER_L

_MINUTES_PER_HOUR: Final = 60.0


@dataclass(frozen=True)
class Rates:
    """What things cost in a shop. The defaults are invented.

    Attributes
    ----------
    area_m2 : float
        Area to paint. [m2]
    topcoat_price_per_l : float
        Ready-to-spray base coat. [currency/L]
    sealer_ml_per_m2 : float
        Ready-to-spray sealer for its one coat. [ml/m2]
    minutes_per_coat : float
        Spraying and flashing one coat. [min]
    hourly_rate : float
        [currency/h]

    Raises
    ------
    SettingError
        If one of them is negative or no number.
    """

    area_m2: float = 10.0
    topcoat_price_per_l: float = 60.0
    sealer_ml_per_m2: float = 150.0
    minutes_per_coat: float = 15.0
    hourly_rate: float = 50.0

    def __post_init__(self) -> None:
        for field in fields(self):
            value = getattr(self, field.name)
            if not (math.isfinite(value) and value >= 0.0):
                name = field.name.replace("_", " ")
                message = f"The {name} must be zero or more, not {value:g}."
                raise SettingError(message)


@dataclass(frozen=True)
class Cost:
    """What one undercoat costs for the area.

    Attributes
    ----------
    outlook : Outlook
        The undercoat.
    topcoat_l : float
        Base coat, overspray included. [L]
    minutes : float
        Spraying and flashing the base coat. [min]
    money : float
        Base coat, time, and sealer where its price is known. [currency]
    more_than_best : float
        Money above the recommended undercoat's. [currency]
    """

    outlook: Outlook
    topcoat_l: float
    minutes: float
    money: float
    more_than_best: float


def costs(answer: Answer, rates: Rates) -> tuple[Cost, ...]:
    """What each undercoat that hides costs, in the answer's order.

    Parameters
    ----------
    answer : Answer
        The answer.
    rates : Rates
        What things cost.

    Returns
    -------
    tuple of Cost
        Undercoats that do not hide within the cap are left out.
    """
    film = answer.settings.film
    found = []
    for outlook in answer.lines:
        if outlook.coats is None:
            continue
        litres = film.sprayed_ml_per_m2(outlook.coats) * rates.area_m2 / ML_PER_L
        minutes = outlook.coats * rates.minutes_per_coat
        money = (
            litres * rates.topcoat_price_per_l
            + minutes / _MINUTES_PER_HOUR * rates.hourly_rate
            + _sealer_money(outlook, rates)
        )
        found.append((outlook, litres, minutes, money))
    best = next((row[3] for row in found if row[0] == answer.recommended), 0.0)
    return tuple(Cost(*row, row[3] - best) for row in found)


def _sealer_money(outlook: Outlook, rates: Rates) -> float:
    """Money for the sealer; nothing where its price or unit is not known."""
    price = can_price(outlook.undercoat)
    if price is None:
        return 0.0
    return price.per_l * rates.sealer_ml_per_m2 * rates.area_m2 / ML_PER_L
