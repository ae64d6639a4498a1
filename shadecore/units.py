"""Metric and US units: the one place that turns quantities into numbers with a unit.

Everything is kept in metric units and shown in either system.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

G_PER_L_PER_LB_PER_GAL: Final = 453.59237 / 3.785411784
"""Grams in a pound by litres in a US gallon: 119.8264."""
ML_PER_L: Final = 1000.0
ML_PER_US_FLUID_OUNCE: Final = 29.5735295625
M2_PER_FT2: Final = 0.09290304
PSI_PER_BAR: Final = 14.5037738
CM_PER_INCH: Final = 2.54
L_PER_US_GALLON: Final = 3.785411784
G_PER_POUND: Final = 453.59237
M3_PER_FT3: Final = 0.3048**3
UM_PER_MIL: Final = 25.4
NONE: Final = "-"
"""Stands for a quantity that there is not."""
_QUARTS_PER_GALLON: Final = 4.0
_MIN_PER_H: Final = 60.0
_US_CANS: Final = (
    ("gal", 128.0),
    ("qt", 32.0),
    ("pt", 16.0),
)
"""Sizes that US shops name, in fluid ounces; largest first."""
LABEL_SLACK: Final = 0.005
"""A label rounds its litres: so much off is still the size it is called by, and four
quarts are still a gallon."""


def percent(share: float, decimals: int = 0) -> str:
    """A share in percent.

    Parameters
    ----------
    share : float
        0..1, or more.
    decimals : int
        Decimals worth showing.

    Returns
    -------
    str

    Examples
    --------
    >>> percent(0.5), percent(0.012, 1)
    ('50 %', '1.2 %')
    """
    return f"{100.0 * share:.{decimals}f} %"


@dataclass(frozen=True)
class Quantity:
    """How one kind of quantity is shown.

    Attributes
    ----------
    unit : str
        Name of the unit.
    factor, offset : float
        Shown = metric * factor + offset.
    decimals : int
        Decimals worth showing.
    """

    unit: str
    factor: float = 1.0
    offset: float = 0.0
    decimals: int = 0

    def show(self, metric: float | None) -> str:
        """Value with its unit; a dash for none.

        Parameters
        ----------
        metric : float or None
            In the metric unit.

        Returns
        -------
        str
        """
        bare = self.bare(metric)
        return bare if metric is None else f"{bare} {self.unit}"

    def bare(self, metric: float | None) -> str:
        """Value as it is shown, without its unit; a dash for none.

        Parameters
        ----------
        metric : float or None
            In the metric unit.

        Returns
        -------
        str
        """
        if metric is None:
            return NONE
        # Adding zero turns a rounded -0.0 into 0.0.
        return f"{round(self.number(metric), self.decimals) + 0.0:.{self.decimals}f}"

    def number(self, metric: float) -> float:
        """Value without its unit, not rounded.

        Parameters
        ----------
        metric : float
            In the metric unit.

        Returns
        -------
        float
        """
        return metric * self.factor + self.offset

    def metric(self, number: float) -> float:
        """What a value is in the metric unit.

        Parameters
        ----------
        number : float
            As shown.

        Returns
        -------
        float
        """
        return (number - self.offset) / self.factor


@dataclass(frozen=True)
class Units:
    """One system of units.

    Attributes
    ----------
    name : str
        Key of the system, ``metric`` or ``us``.
    film : Quantity
        Dry film, from micrometres.
    paint : Quantity
        Paint on an area, from millilitres on a square metre.
    volume : Quantity
        What is measured in a cup, from litres.
    bulk : Quantity
        What is bought, from litres.
    spreading : Quantity
        Area that a volume covers, from square metres a litre.
    can : Callable
        Size of a can as its label says it, from litres.
    area : Quantity
        From square metres.
    temperature : Quantity
        From degrees C.
    margin : Quantity
        Difference of temperatures, from kelvin.
    pressure, cap : Quantity
        From bar: at the gun's inlet, and the little that is at its air cap.
    distance : Quantity
        From centimetres.
    voc : Quantity
        From g/L.
    mass : Quantity
        Of much, from kilograms; a scale is read in grams in either system.
    room, airflow : Quantity
        From cubic metres, and cubic metres an hour.
    """

    name: str
    film: Quantity
    paint: Quantity
    volume: Quantity
    bulk: Quantity
    spreading: Quantity
    can: Callable[[float], str]
    area: Quantity
    temperature: Quantity
    margin: Quantity
    pressure: Quantity
    cap: Quantity
    distance: Quantity
    voc: Quantity
    mass: Quantity
    room: Quantity
    airflow: Quantity


def _metric_can(litres: float) -> str:
    return f"{litres:g} L"


def _us_can(litres: float) -> str:
    """Gallons, quarts and pints where the size is one of these, else fluid ounces."""
    ounces = litres * ML_PER_L / ML_PER_US_FLUID_OUNCE
    for name, each in _US_CANS:
        count = round(ounces / each)
        if count and abs(ounces - count * each) <= LABEL_SLACK * ounces:
            return f"{count} {name}"
    return f"{ounces:.1f} fl oz"


UNITS: Final = {
    "metric": Units(
        name="metric",
        film=Quantity("µm"),
        paint=Quantity("ml/m²"),
        volume=Quantity("ml", ML_PER_L),
        bulk=Quantity("L", decimals=2),
        spreading=Quantity("m²/L", decimals=1),
        can=_metric_can,
        area=Quantity("m²", decimals=1),
        temperature=Quantity("°C"),
        margin=Quantity("K", decimals=1),
        pressure=Quantity("bar", decimals=1),
        cap=Quantity("bar", decimals=2),
        distance=Quantity("cm"),
        voc=Quantity("g/L"),
        mass=Quantity("kg", decimals=1),
        room=Quantity("m³"),
        airflow=Quantity("m³/h"),
    ),
    "us": Units(
        name="us",
        film=Quantity("mil", 1.0 / UM_PER_MIL, decimals=2),
        paint=Quantity("fl oz/ft²", M2_PER_FT2 / ML_PER_US_FLUID_OUNCE, decimals=2),
        volume=Quantity("fl oz", ML_PER_L / ML_PER_US_FLUID_OUNCE, decimals=1),
        bulk=Quantity("qt", _QUARTS_PER_GALLON / L_PER_US_GALLON, decimals=2),
        spreading=Quantity("ft²/gal", L_PER_US_GALLON / M2_PER_FT2),
        can=_us_can,
        area=Quantity("ft²", 1.0 / M2_PER_FT2, decimals=1),
        temperature=Quantity("°F", 1.8, 32.0),
        margin=Quantity("°F", 1.8, decimals=1),
        pressure=Quantity("psi", PSI_PER_BAR),
        cap=Quantity("psi", PSI_PER_BAR, decimals=1),
        distance=Quantity("in", 1.0 / CM_PER_INCH),
        voc=Quantity("lb/gal", 1.0 / G_PER_L_PER_LB_PER_GAL, decimals=2),
        mass=Quantity("lb", 1000.0 / G_PER_POUND, decimals=1),
        room=Quantity("ft³", 1.0 / M3_PER_FT3),
        airflow=Quantity("ft³/min", 1.0 / (M3_PER_FT3 * _MIN_PER_H)),
    ),
}
