"""Safety in its place: what a step asks for, what is open, and when a booth is clear.

Data sheets, local codes and licensed practice have the last word.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from shadecore.errors import JobError
from shadecore.job.cautions import CAUTIONS
from shadecore.job.material import Material
from shadecore.job.steps import Step
from shadecore.products.product import HAZARDS
from shadecore.products.ranges import Range

BREATHING: Final = {
    "isocyanate": "supplied_air",
    "solvent": "vapour_cartridge",
    "chromate": "particle_filter",
    "dust": "particle_filter",
}
"""What is breathed through, by hazard. Supplied air against isocyanates: HSE guidance
on two-pack spraying in vehicle repair. The others: common practice, no source."""
BREATHING_ORDER: Final = ("supplied_air", "vapour_cartridge", "particle_filter")
"""Supplied air serves for the others; without it both filters are worn together."""
WASTE: Final = {
    "isocyanate": "hardener_rests",
    "solvent": "solvent_and_rags",
    "chromate": "chromate_dust_and_water",
    "dust": "sanding_dust",
}
"""Kinds of waste that are kept apart, by hazard; common practice, no source."""
_BOOTH_M3: Final = Range(1.0, 10_000.0, "m3")
_FLOW_M3_PER_H: Final = Range(1.0, 1e6, "m3/h")
_MIN_PER_H: Final = 60.0


@dataclass(frozen=True)
class StepSafety:
    """What one step asks for.

    Attributes
    ----------
    key : str
        The step's.
    hazards : tuple of str
        Of ``shadecore.products.product.HAZARDS``.
    breathing : tuple of str
        Of ``BREATHING_ORDER``: what must be breathed through at once.
    waste : tuple of str
        Kinds of waste that it leaves.
    """

    key: str
    hazards: tuple[str, ...]
    breathing: tuple[str, ...]
    waste: tuple[str, ...]

    @property
    def cautions(self) -> tuple[tuple[str, str], ...]:
        """Hazard and caution, each once, for the bench and the sheet."""
        return tuple((each, line) for each in self.hazards for line in CAUTIONS[each])


def step_safety(step: Step) -> StepSafety:
    """What a step asks for.

    Parameters
    ----------
    step : Step
        The step.

    Returns
    -------
    StepSafety
    """
    hazards = tuple(each for each in HAZARDS if each in step.cautions)
    asked = {BREATHING[each] for each in hazards}
    breathing = tuple(each for each in BREATHING_ORDER if each in asked)
    if "supplied_air" in breathing:
        breathing = ("supplied_air",)
    waste = tuple(dict.fromkeys(WASTE[each] for each in hazards))
    return StepSafety(step.key, hazards, breathing, waste)


def open_solvent_l(materials: Iterable[Material]) -> float:
    """Paint with solvent in it that is open in the shop when all of it is mixed.

    Parameters
    ----------
    materials : iterable of Material
        Of the job.

    Returns
    -------
    float
        Ready to spray; the local code says how much may be. [L]
    """
    return sum(each.ready_l for each in materials if "solvent" in each.product.hazards)


def air_changes_per_h(booth_m3: float, flow_m3_per_h: float) -> float:
    """Air changes of a booth.

    Parameters
    ----------
    booth_m3 : float
        Its volume. [m3]
    flow_m3_per_h : float
        Air that its fan moves with the filters that are in. [m3/h]

    Returns
    -------
    float
        [1/h]

    Raises
    ------
    JobError
        If one of them is outside its range.
    """
    _BOOTH_M3.check(booth_m3, "The booth's volume")
    _FLOW_M3_PER_H.check(flow_m3_per_h, "The booth's flow of air")
    return flow_m3_per_h / booth_m3


def clearing_min(booth_m3: float, flow_m3_per_h: float, share_left: float) -> float:
    """Time until the air of a booth has cleared, were its air well mixed.

    ln(1 / share) * volume / flow, the dilution equation of ventilation handbooks, from
    memory. A booth has corners that clear more slowly: the measured clearance time goes
    before this one.

    Parameters
    ----------
    booth_m3 : float
        Its volume. [m3]
    flow_m3_per_h : float
        Air that its fan moves. [m3/h]
    share_left : float
        Of what was in the air, above 0 and below 1.

    Returns
    -------
    float
        [min]

    Raises
    ------
    JobError
        If one of them is outside its range.

    Examples
    --------
    >>> clearing_min(100.0, 6000.0, 0.01)
    4.605
    """
    if not 0.0 < share_left < 1.0:
        message = (
            f"The share that is left must be above 0 and below 1, not {share_left:g}."
        )
        raise JobError(message)
    per_h = air_changes_per_h(booth_m3, flow_m3_per_h)
    return -math.log(share_left) / per_h * _MIN_PER_H
