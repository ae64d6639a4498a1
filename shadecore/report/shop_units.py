"""The units of the booth: volume, area, temperature, pressure, distance, VOC."""

from dataclasses import dataclass
from typing import Final

from shadecore.job.voc import G_PER_L_PER_LB_PER_GAL
from shadecore.report.units import M2_PER_FT2, ML_PER_US_FLUID_OUNCE

PSI_PER_BAR: Final = 14.5037738
CM_PER_INCH: Final = 2.54
_ML_PER_LITRE: Final = 1000.0


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
        value = metric * self.factor + self.offset
        return f"{value:.{self.decimals}f} {self.unit}"


@dataclass(frozen=True)
class ShopUnits:
    """One system of the booth's units.

    Attributes
    ----------
    volume : Quantity
        From litres.
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
    area: Quantity
    temperature: Quantity
    margin: Quantity
    pressure: Quantity
    distance: Quantity
    voc: Quantity


SHOP_UNITS: Final = {
    "metric": ShopUnits(
        volume=Quantity("ml", _ML_PER_LITRE),
        area=Quantity("m²", decimals=1),
        temperature=Quantity("°C"),
        margin=Quantity("K", decimals=1),
        pressure=Quantity("bar", decimals=1),
        distance=Quantity("cm"),
        voc=Quantity("g/L"),
    ),
    "us": ShopUnits(
        volume=Quantity("fl oz", _ML_PER_LITRE / ML_PER_US_FLUID_OUNCE, decimals=1),
        area=Quantity("ft²", 1.0 / M2_PER_FT2, decimals=1),
        temperature=Quantity("°F", 1.8, 32.0),
        margin=Quantity("°F", 1.8, decimals=1),
        pressure=Quantity("psi", PSI_PER_BAR),
        distance=Quantity("in", 1.0 / CM_PER_INCH),
        voc=Quantity("lb/gal", 1.0 / G_PER_L_PER_LB_PER_GAL, decimals=2),
    ),
}
