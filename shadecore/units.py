"""Metric and US units, for films and amounts of paint and for the booth."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

G_PER_L_PER_LB_PER_GAL: Final = 453.59237 / 3.785411784
"""Grams in a pound by litres in a US gallon: 119.8264."""
ML_PER_US_FLUID_OUNCE: Final = 29.5735295625
M2_PER_FT2: Final = 0.09290304
PSI_PER_BAR: Final = 14.5037738
CM_PER_INCH: Final = 2.54
_ML_PER_LITRE: Final = 1000.0
_US_CANS: Final = (
    ("gal", 128.0),
    ("qt", 32.0),
    ("pt", 16.0),
)
"""Sizes that US shops name, in fluid ounces; largest first."""
_LABEL_SLACK: Final = 0.005
"""A label rounds its litres: so much off is still the size it is called by."""


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

    def show(self, metric: float) -> str:
        """Value with its unit.

        Parameters
        ----------
        metric : float
            In the metric unit.

        Returns
        -------
        str
        """
        return f"{self.number(metric):.{self.decimals}f} {self.unit}"

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
class ShopUnits:
    """One system of the booth's units.

    Attributes
    ----------
    volume : Quantity
        From litres.
    can : Callable
        Size of a can as its label says it, from litres.
    area : Quantity
        From square metres.
    temperature : Quantity
        From degrees C.
    margin : Quantity
        From kelvin.
    pressure : Quantity
        From bar.
    distance : Quantity
        From centimetres.
    voc : Quantity
        From g/L.
    """

    volume: Quantity
    can: Callable[[float], str]
    area: Quantity
    temperature: Quantity
    margin: Quantity
    pressure: Quantity
    distance: Quantity
    voc: Quantity


def _metric_can(litres: float) -> str:
    return f"{litres:g} L"


def _us_can(litres: float) -> str:
    """Gallons, quarts and pints where the size is one of these, else fluid ounces."""
    ounces = litres * _ML_PER_LITRE / ML_PER_US_FLUID_OUNCE
    for name, each in _US_CANS:
        count = round(ounces / each)
        if count and abs(ounces - count * each) <= _LABEL_SLACK * ounces:
            return f"{count} {name}"
    return f"{ounces:.1f} fl oz"


SHOP_UNITS: Final = {
    "metric": ShopUnits(
        volume=Quantity("ml", _ML_PER_LITRE),
        can=_metric_can,
        area=Quantity("m²", decimals=1),
        temperature=Quantity("°C"),
        margin=Quantity("K", decimals=1),
        pressure=Quantity("bar", decimals=1),
        distance=Quantity("cm"),
        voc=Quantity("g/L"),
    ),
    "us": ShopUnits(
        volume=Quantity("fl oz", _ML_PER_LITRE / ML_PER_US_FLUID_OUNCE, decimals=1),
        can=_us_can,
        area=Quantity("ft²", 1.0 / M2_PER_FT2, decimals=1),
        temperature=Quantity("°F", 1.8, 32.0),
        margin=Quantity("°F", 1.8, decimals=1),
        pressure=Quantity("psi", PSI_PER_BAR),
        distance=Quantity("in", 1.0 / CM_PER_INCH),
        voc=Quantity("lb/gal", 1.0 / G_PER_L_PER_LB_PER_GAL, decimals=2),
    ),
}

UM_PER_MIL: Final = 25.4


@dataclass(frozen=True)
class Units:
    """One system of units.

    Attributes
    ----------
    film_name, paint_name : str
        Units of film and of paint on an area.
    film_per_um, paint_per_ml_per_m2 : float
        Factors from the metric unit.
    film_decimals, paint_decimals : int
        Decimals worth showing.
    """

    film_name: str
    film_per_um: float
    film_decimals: int
    paint_name: str
    paint_per_ml_per_m2: float
    paint_decimals: int

    def film(self, um: float) -> str:
        """Film thickness with its unit.

        Parameters
        ----------
        um : float
            In micrometres.

        Returns
        -------
        str
        """
        return f"{um * self.film_per_um:.{self.film_decimals}f} {self.film_name}"

    def paint(self, ml_per_m2: float | None) -> str:
        """Paint on an area with its unit; a dash for none.

        Parameters
        ----------
        ml_per_m2 : float or None
            Millilitres on a square metre.

        Returns
        -------
        str
        """
        number = self.paint_number(ml_per_m2)
        return number if ml_per_m2 is None else f"{number} {self.paint_name}"

    def paint_number(self, ml_per_m2: float | None) -> str:
        """Paint on an area without its unit, for a table; a dash for none.

        Parameters
        ----------
        ml_per_m2 : float or None
            Millilitres on a square metre.

        Returns
        -------
        str
        """
        if ml_per_m2 is None:
            return "-"
        return f"{ml_per_m2 * self.paint_per_ml_per_m2:.{self.paint_decimals}f}"


UNITS: Final = {
    "metric": Units("µm", 1.0, 0, "ml/m²", 1.0, 0),
    "us": Units(
        "mil", 1.0 / UM_PER_MIL, 2, "fl oz/ft²", M2_PER_FT2 / ML_PER_US_FLUID_OUNCE, 2
    ),
}
