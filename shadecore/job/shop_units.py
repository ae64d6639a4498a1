"""The units of the booth: volume, area, temperature, pressure, distance, VOC."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from shadecore.job.voc import G_PER_L_PER_LB_PER_GAL

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
