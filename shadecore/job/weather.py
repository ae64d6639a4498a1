"""Whether the weather in the shop allows spraying, and which speed grade suits it."""

import math
from dataclasses import dataclass
from typing import Final

from shadecore.errors import JobError
from shadecore.formats.echo import brief
from shadecore.products.product import ProductSheet, SpeedGrade
from shadecore.products.ranges import AIR_C, HUMIDITY, PANEL_C, Range
from shadecore.units import UNITS, Units

MARGIN_K: Final = 3.0
"""How far the panel must stay above the dew point."""
MARGIN_NOTE: Final = (
    "That a panel must stay 3 K (5 F) above the dew point is customary; trade "
    "articles credit ISO 8502-4 and ISO 12944-7, whose own text was not read for this."
)
NOT_TO_BE_SPRAYED: Final = "DO NOT SPRAY"
"""How a plan is marked that the weather stops."""
_WATCH_K: Final = 2.0
"""So little above the margin is worth a second reading; this tool's own limit."""
_PANEL_APART_K: Final = 5.0
"""Panel and air this far apart have not settled; this tool's own limit."""

# Magnus form over water with the constants that the WMO recommends.
_MAGNUS_SLOPE: Final = 17.62
_MAGNUS_C: Final = 243.12

_MAGNUS_RANGE: Final = Range(-45.0, 60.0, "degrees C")
"""Of the air, where the WMO says that the constants hold."""


@dataclass(frozen=True)
class Weather:
    """Air and panel as measured beside the job.

    Attributes
    ----------
    air_c : float
        Temperature of the air, within ``AIR_C``. [degrees C]
    panel_c : float
        Temperature of the panel, within ``PANEL_C``. [degrees C]
    humidity : float
        Relative humidity of the air, within ``HUMIDITY``.

    Raises
    ------
    JobError
        If one of them is outside its range.
    """

    air_c: float
    panel_c: float
    humidity: float

    def __post_init__(self) -> None:
        AIR_C.check(self.air_c, "The air temperature")
        PANEL_C.check(self.panel_c, "The panel temperature")
        _check_humidity(self.humidity)


@dataclass(frozen=True)
class WeatherAnswer:
    """What the weather allows.

    Attributes
    ----------
    dew_point_c : float
        Below it water settles on the panel. [degrees C]
    margin_k : float
        Panel above the dew point. [K]
    stops : tuple of str
        Why not to spray now; empty where nothing speaks against it.
    advice : tuple of str
        What to mind when spraying.
    """

    dew_point_c: float
    margin_k: float
    stops: tuple[str, ...]
    advice: tuple[str, ...]


def dew_point_c(air_c: float, relative_humidity: float) -> float:
    """Dew point of air, over water also below freezing.

    Parameters
    ----------
    air_c : float
        Air temperature, -45 to 60. [degrees C]
    relative_humidity : float
        Within ``HUMIDITY``.

    Returns
    -------
    float
        Degrees C, not above the air temperature.

    Raises
    ------
    JobError
        If one of them is outside its range.

    Examples
    --------
    >>> dew_point_c(20.0, 0.5)
    9.26
    """
    _MAGNUS_RANGE.check(air_c, "The air temperature")
    _check_humidity(relative_humidity)
    exponent = _MAGNUS_SLOPE * air_c / (_MAGNUS_C + air_c)
    damped = math.log(relative_humidity) + exponent
    return _MAGNUS_C * damped / (_MAGNUS_SLOPE - damped)


def pick_grade(grades: tuple[SpeedGrade, ...], air_c: float) -> SpeedGrade | None:
    """Speed grade for a temperature.

    Parameters
    ----------
    grades : tuple of SpeedGrade
        The grades there are.
    air_c : float
        Air temperature. [degrees C]

    Returns
    -------
    SpeedGrade or None
        Where several fit, the one whose middle lies nearest; None where none does.
    """
    fitting = [each for each in grades if each.from_c <= air_c <= each.to_c]
    return min(
        fitting,
        key=lambda each: abs((each.from_c + each.to_c) / 2.0 - air_c),
        default=None,
    )


def check_weather(
    weather: Weather, sheet: ProductSheet, shop: Units = UNITS["metric"]
) -> WeatherAnswer:
    """Whether to spray, and what to mind.

    Parameters
    ----------
    weather : Weather
        Air and panel.
    sheet : ProductSheet
        The products and the weather they take.
    shop : Units
        What temperatures are told in.

    Returns
    -------
    WeatherAnswer
    """
    dew = dew_point_c(weather.air_c, weather.humidity)
    margin = weather.panel_c - dew
    lacking = _without_grade(sheet, weather.air_c, shop)
    stops = (*_wet(margin, dew, shop), *_outside(weather, sheet, shop), *lacking)
    return WeatherAnswer(dew, margin, stops, tuple(_mind(weather, margin, shop)))


def _wet(margin: float, dew: float, shop: Units) -> tuple[str, ...]:
    if margin >= MARGIN_K:
        return ()
    # Rounded down, so that it never reads as the margin it misses.
    scale = 10.0**shop.margin.decimals
    short = math.floor(scale * shop.margin.number(margin)) / scale
    far = shop.margin.show(shop.margin.metric(short))
    side = f"only {far} above" if short > 0.0 else "not above"
    return (
        (
            f"The panel is {side} the dew point of {_tenth(dew, shop)}, so water may "
            "settle on it; warm the panel or dry the air until it is "
            f"{_least(shop)} above."
        ),
    )


def _outside(weather: Weather, sheet: ProductSheet, shop: Units) -> list[str]:
    show = shop.temperature
    span = (
        f"{show.number(sheet.coldest_c):.3g} to "
        f"{show.number(sheet.warmest_c):.3g} {show.unit}"
    )
    found = []
    for name, value in (("air", weather.air_c), ("panel", weather.panel_c)):
        if not sheet.coldest_c <= value <= sheet.warmest_c:
            change = "warm" if value < sheet.coldest_c else "cool"
            found.append(
                f"The {name} is at {_tenth(value, shop)} and the sheet allows {span}; "
                f"{change} it first."
            )
    if weather.humidity > sheet.most_humidity:
        found.append(
            f"The air holds {weather.humidity:.0%} relative humidity and the sheet "
            f"allows {sheet.most_humidity:.0%}; dry or warm the air first."
        )
    return found


def _mind(weather: Weather, margin: float, shop: Units) -> list[str]:
    found = []
    if MARGIN_K <= margin < MARGIN_K + _WATCH_K:
        found.append(
            f"The panel is {shop.margin.show(margin)} above the dew point, close to "
            f"the least of {_least(shop)}; measure again before each coat."
        )
    if abs(weather.panel_c - weather.air_c) > _PANEL_APART_K:
        apart = shop.margin.number(abs(weather.panel_c - weather.air_c))
        found.append(
            f"Panel and air are {apart:.0f} {shop.margin.unit} apart; let the panel "
            "settle, or go by the panel for drying times."
        )
    return found


def _without_grade(sheet: ProductSheet, air_c: float, shop: Units) -> tuple[str, ...]:
    """Products that cannot be mixed for a temperature, in one sentence."""
    lacking = [
        f"{kind} of {brief(product.name)}"
        for product in sheet.products
        for kind, grades in (
            ("reducer", product.reducers),
            ("hardener", product.hardeners),
        )
        if grades and pick_grade(grades, air_c) is None
    ]
    if not lacking:
        return ()
    return (
        (
            f"For {shop.temperature.show(air_c)} the sheet has no "
            f"{', no '.join(lacking)}; wait for other weather or ask the maker."
        ),
    )


def _tenth(temperature_c: float, shop: Units) -> str:
    show = shop.temperature
    return f"{show.number(temperature_c):.1f} {show.unit}"


def _least(shop: Units) -> str:
    return f"{shop.margin.number(MARGIN_K):.2g} {shop.margin.unit}"


def _check_humidity(humidity: float) -> None:
    if humidity not in HUMIDITY:
        message = (
            f"The relative humidity must be from 1 to 100 percent, not {humidity:.0%}; "
            "read the hygrometer again."
        )
        raise JobError(message)
