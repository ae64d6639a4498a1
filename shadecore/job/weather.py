"""Whether the weather in the shop allows spraying, and which speed grade suits it."""

import math
from dataclasses import dataclass
from typing import Final

from shadecore.errors import JobError
from shadecore.products.product import ProductSheet, SpeedGrade
from shadecore.products.ranges import AIR_C, HUMIDITY, PANEL_C, Range
from shadecore.units import percent

MARGIN_K: Final = 3.0
"""How far the panel must stay above the dew point."""
MARGIN_NOTE: Final = (
    "That a panel must stay 3 K (5 F) above the dew point is customary; trade "
    "articles credit ISO 8502-4 and ISO 12944-7, whose own text was not read for this."
)
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
class NearDewPoint:
    """A panel that is not far enough above the dew point.

    Attributes
    ----------
    margin_k : float
        Panel above the dew point. [K]
    dew_point_c : float
        [degrees C]
    """

    margin_k: float
    dew_point_c: float


@dataclass(frozen=True)
class OutsideSheet:
    """A temperature that the sheet does not allow.

    Attributes
    ----------
    what : str
        ``air`` or ``panel``.
    value_c, coldest_c, warmest_c : float
        As it is, and what the sheet allows. [degrees C]
    """

    what: str
    value_c: float
    coldest_c: float
    warmest_c: float


@dataclass(frozen=True)
class TooHumid:
    """Air that is more humid than the sheet allows.

    Attributes
    ----------
    humidity, most : float
        Relative humidity as it is, and at most. [0..1]
    """

    humidity: float
    most: float


@dataclass(frozen=True)
class NoGrade:
    """Products that cannot be mixed for a temperature.

    Attributes
    ----------
    air_c : float
        [degrees C]
    lacking : tuple of (str, str)
        ``reducer`` or ``hardener``, and the name of the product.
    """

    air_c: float
    lacking: tuple[tuple[str, str], ...]


Stop = NearDewPoint | OutsideSheet | TooHumid | NoGrade
"""Why not to spray."""


@dataclass(frozen=True)
class PanelApart:
    """A panel that has not the temperature of the air yet.

    Attributes
    ----------
    apart_k : float
        [K]
    """

    apart_k: float


Advice = NearDewPoint | PanelApart
"""What to mind when spraying: a margin that is kept, but just so, among them."""


@dataclass(frozen=True)
class WeatherAnswer:
    """What the weather allows.

    Attributes
    ----------
    dew_point_c : float
        Below it water settles on the panel. [degrees C]
    margin_k : float
        Panel above the dew point. [K]
    stops : tuple of Stop
        Why not to spray now; empty where nothing speaks against it.
    advice : tuple of Advice
        What to mind when spraying.
    """

    dew_point_c: float
    margin_k: float
    stops: tuple[Stop, ...]
    advice: tuple[Advice, ...]


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


def check_weather(weather: Weather, sheet: ProductSheet) -> WeatherAnswer:
    """Whether to spray, and what to mind.

    Parameters
    ----------
    weather : Weather
        Air and panel.
    sheet : ProductSheet
        The products and the weather they take.

    Returns
    -------
    WeatherAnswer
    """
    dew = dew_point_c(weather.air_c, weather.humidity)
    margin = weather.panel_c - dew
    near = NearDewPoint(margin, dew)
    wet = (near,) if margin < MARGIN_K else ()
    close = (near,) if MARGIN_K <= margin < MARGIN_K + _WATCH_K else ()
    lacking = _without_grade(sheet, weather.air_c)
    stops = (*wet, *_outside(weather, sheet), *lacking)
    return WeatherAnswer(dew, margin, stops, (*close, *_unsettled(weather)))


def _outside(weather: Weather, sheet: ProductSheet) -> list[Stop]:
    allowed = (sheet.coldest_c, sheet.warmest_c)
    found: list[Stop] = [
        OutsideSheet(what, value, *allowed)
        for what, value in (("air", weather.air_c), ("panel", weather.panel_c))
        if not sheet.coldest_c <= value <= sheet.warmest_c
    ]
    if weather.humidity > sheet.most_humidity:
        found.append(TooHumid(weather.humidity, sheet.most_humidity))
    return found


def _unsettled(weather: Weather) -> tuple[PanelApart, ...]:
    apart = abs(weather.panel_c - weather.air_c)
    return (PanelApart(apart),) if apart > _PANEL_APART_K else ()


def _without_grade(sheet: ProductSheet, air_c: float) -> tuple[NoGrade, ...]:
    lacking = tuple(
        (kind, product.name)
        for product in sheet.products
        for kind, grades in (
            ("reducer", product.reducers),
            ("hardener", product.hardeners),
        )
        if grades and pick_grade(grades, air_c) is None
    )
    return (NoGrade(air_c, lacking),) if lacking else ()


def _check_humidity(humidity: float) -> None:
    if humidity not in HUMIDITY:
        message = (
            "The relative humidity must be from 1 to 100 percent, not "
            f"{percent(humidity)}; read the hygrometer again."
        )
        raise JobError(message)
