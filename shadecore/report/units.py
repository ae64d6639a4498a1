"""Metric and US units for what is shown."""

from dataclasses import dataclass
from typing import Final

from shadecore.job.shop_units import M2_PER_FT2, ML_PER_US_FLUID_OUNCE

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
