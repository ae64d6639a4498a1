"""Between what the numbers of a sheet and of a job may lie, each range once.

The limits are this tool's own: they catch slips of the pen and mixed-up units.
"""

from dataclasses import dataclass
from typing import Final

from shadecore.errors import JobError, ShadecoreError
from shadecore.formats.toml_rules import Number


@dataclass(frozen=True)
class Range:
    """A range of a number, both ends allowed.

    Attributes
    ----------
    low, high : float
        Its ends.
    unit : str
        As it is written; empty where it has none.
    """

    low: float
    high: float
    unit: str = ""

    def __contains__(self, value: float) -> bool:
        """Whether a number lies in it; what is not a number does not."""
        return self.low <= value <= self.high

    def __str__(self) -> str:
        """In words, as the end of "must be ..."."""
        unit = f" {self.unit}" if self.unit else ""
        return f"from {self.low:g} to {self.high:g}{unit}"

    def check(
        self, value: float, what: str, error: type[ShadecoreError] = JobError
    ) -> None:
        """Make sure that a number lies in it.

        Parameters
        ----------
        value : float
            The number.
        what : str
            What it is, as the start of a sentence.
        error : type
            Class of the error to raise.

        Raises
        ------
        ShadecoreError
            If it does not; of the class given.
        """
        if value not in self:
            message = f"{what} must be {self}, not {value:g}; check it and its unit."
            raise error(message)

    def rule(self, *, needed: bool = True, default: float | None = None) -> Number:
        """What a TOML file may give for it.

        Parameters
        ----------
        needed : bool
            Whether it may not be left out.
        default : float, optional
            What it is where it is left out.

        Returns
        -------
        Number
        """
        return Number(self.low, self.high, self.unit, needed, default)


AIR_C: Final = Range(-20.0, 60.0, "degrees C")
PANEL_C: Final = Range(-20.0, 90.0, "degrees C")
REFERENCE_C: Final = Range(5.0, 40.0, "degrees C")
BAKE_C: Final = Range(30.0, 160.0, "degrees C")
HUMIDITY: Final = Range(0.01, 1.0)
"""Of the air, 0..1: no shop is drier than one percent."""
HUMIDITY_PERCENT: Final = Range(1.0, 100.0, "percent")
"""The same as people say it."""
MOST_HUMIDITY: Final = Range(0.0, 1.0, "(0.85 is 85 percent)")
"""That a sheet allows."""
HALVING_K: Final = Range(4.0, 50.0, "K")
CAP_BAR: Final = Range(0.05, 10.0, "bar")
"""Air pressure at the air cap."""
FAN_CM: Final = Range(1.0, 60.0, "cm")
"""Width of a gun's fan on the panel."""
CUP_S: Final = Range(1.0, 600.0, "s")
"""Of a flow cup."""
KEEPS_DAYS: Final = Range(0.1, 3650.0, "days")
POT_LIFE_MIN: Final = Range(1.0, 10080.0, "min")
WORK_MIN: Final = Range(0.0, 6000.0, "min")
"""Hands-on time of one step: a hundred hours."""
WAIT_MIN: Final = Range(0.0, 129_600.0, "min")
"""Time after a step in which nothing may follow: ninety days."""
WITHIN_H: Final = Range(0.1, 8760.0, "h")
"""Time within which the next step must follow."""
AREA_M2: Final = Range(0.0, 1000.0, "m2")
CUP_LOSS_L: Final = Range(0.0, 5.0, "L")
CUP_L: Final = Range(0.0, 50.0, "L")
"""A cup or pail that is mixed in; zero where nobody said."""
MIX_L: Final = Range(0.0, 1000.0, "L")
"""One mix; zero is not a mix."""
COATS: Final = Range(1, 50)
"""Of one product in a job."""
DRY_FILM_UM: Final = Range(0.0, 5000.0, "um")
"""Of any product, filler included."""
SPRAYED_FILM_UM: Final = Range(0.5, 200.0, "um")
"""Of one coat from a gun."""
