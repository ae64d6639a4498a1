"""Safety in its place: what a step asks for, what is open, and when a booth is clear.

Data sheets, local codes and licensed practice have the last word.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final

from shadecore.errors import JobError
from shadecore.job.cautions import CAUTIONS
from shadecore.job.material import Material
from shadecore.job.steps import Step
from shadecore.products.product import BREATHING, HAZARDS, SUPPLIED_AIR, Product
from shadecore.products.ranges import Range

BREATHING_OF: Final = {
    "isocyanate": SUPPLIED_AIR,
    "solvent": "vapour_cartridge",
    "chromate": "particle_filter",
    "dust": "particle_filter",
    "acid": "particle_filter",
    "peroxide": "particle_filter",
    "stripper": "vapour_cartridge",
}
"""What is breathed through, by hazard. Supplied air against isocyanates: HSE guidance
on two-pack spraying in vehicle repair. The others: common practice, no source."""
WASTE: Final = {
    "isocyanate": "hardener_rests",
    "solvent": "solvent_and_rags",
    "chromate": "chromate_dust_and_water",
    "dust": "sanding_dust",
    "acid": "acid_rests",
    "peroxide": "peroxide_rests",
    "stripper": "stripper_and_paint",
}
"""Kinds of waste that are kept apart, by hazard; common practice, no source."""
CLEARED_SHARE: Final = 0.01
"""Of what was in the air, when a booth counts as cleared; this tool's own choice, the
booth's measured clearance time goes before it."""
_BOOTH_M3: Final = Range(1.0, 10_000.0, "m3")
_FLOW_M3_PER_H: Final = Range(1.0, 1e6, "m3/h")
_CLEARANCE_MIN: Final = Range(0.1, 240.0, "min")
_MIN_PER_H: Final = 60.0
_G_PER_KG: Final = 1000.0


@dataclass(frozen=True)
class Booth:
    """What a shop knows of its booth.

    Attributes
    ----------
    volume_m3 : float or None
        Of the room that is sprayed in. [m3]
    flow_m3_per_h : float or None
        Air that its fan moves with the filters that are in. [m3/h]
    clearance_min : float or None
        Measured clearance time. [min]

    Raises
    ------
    JobError
        If one of them is outside its range.
    """

    volume_m3: float | None = None
    flow_m3_per_h: float | None = None
    clearance_min: float | None = None

    def __post_init__(self) -> None:
        if self.volume_m3 is not None:
            _BOOTH_M3.check(self.volume_m3, "The booth's volume")
        if self.flow_m3_per_h is not None:
            _FLOW_M3_PER_H.check(self.flow_m3_per_h, "The booth's flow of air")
        if self.clearance_min is not None:
            _CLEARANCE_MIN.check(self.clearance_min, "The booth's clearance time")

    @property
    def changes_per_h(self) -> float | None:
        """Air changes; None where volume or flow is not known. [1/h]."""
        if self.volume_m3 is None or self.flow_m3_per_h is None:
            return None
        return air_changes_per_h(self.volume_m3, self.flow_m3_per_h)

    @property
    def purge_min(self) -> float | None:
        """Worked-out time until it has cleared; None where it cannot be. [min]."""
        if self.volume_m3 is None or self.flow_m3_per_h is None:
            return None
        return clearing_min(self.volume_m3, self.flow_m3_per_h, CLEARED_SHARE)


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
        Of ``shadecore.products.product.BREATHING``: what must be breathed through at
        once.
    waste : tuple of str
        Kinds of waste that it leaves.
    cartridge : str
        Type of cartridge that the product's sheet names; empty where it names none, or
        supplied air is called for anyhow.
    air_until : datetime or None
        Until when supplied air stays on because isocyanate hangs in the air; None
        where none does.
    in_booth : bool
        Whether that is the air of a booth.
    """

    key: str
    hazards: tuple[str, ...]
    breathing: tuple[str, ...]
    waste: tuple[str, ...]
    cartridge: str = ""
    air_until: datetime | None = None
    in_booth: bool = False

    @property
    def cautions(self) -> tuple[tuple[str, str], ...]:
        """Hazard and caution, each once, for the bench and the sheet."""
        return tuple((each, line) for each in self.hazards for line in CAUTIONS[each])


def step_safety(
    step: Step,
    product: Product | None = None,
    air_until: datetime | None = None,
    *,
    in_booth: bool = False,
) -> StepSafety:
    """What a step asks for.

    Parameters
    ----------
    step : Step
        The step.
    product : Product, optional
        What it uses; its sheet may ask for more than its hazards do, never for less.
    air_until : datetime, optional
        Until when isocyanate hangs in the air that is breathed at it, whatever the
        step itself uses: as :attr:`shadecore.job.schedule.Timed.air_until` says.
    in_booth : bool
        Whether that is the air of a booth.

    Returns
    -------
    StepSafety
    """
    found = _safety(step.key, step.cautions, product, air_until)
    return replace(found, in_booth=in_booth)


def product_safety(product: Product) -> StepSafety:
    """What a product asks for, whatever step it is used in.

    Parameters
    ----------
    product : Product
        The product.

    Returns
    -------
    StepSafety
        With the product's key.
    """
    return _safety(product.key, product.minded, product)


def _safety(
    key: str,
    minded: tuple[str, ...],
    product: Product | None,
    air_until: datetime | None = None,
) -> StepSafety:
    hazards = tuple(each for each in HAZARDS if each in minded)
    asked = {BREATHING_OF[each] for each in hazards}
    if product is not None:
        asked.update(product.breathing)
    if air_until is not None:
        asked.add(SUPPLIED_AIR)
    breathing = tuple(each for each in BREATHING if each in asked)
    supplied = SUPPLIED_AIR in breathing
    cartridge = product.cartridge if product is not None and not supplied else ""
    waste = tuple(dict.fromkeys(WASTE[each] for each in hazards))
    return StepSafety(
        key,
        hazards,
        (SUPPLIED_AIR,) if supplied else breathing,
        waste,
        cartridge,
        air_until,
    )


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
    return sum(each.ready_l for each in _with_solvent(materials))


def opened_cans_l(materials: Iterable[Material]) -> float:
    """What the cans hold that are opened for a job, of paint with solvent in it.

    Parameters
    ----------
    materials : iterable of Material
        Of the job.

    Returns
    -------
    float
        At least what goes into the mixes. [L]
    """
    return sum(
        max(sum(size * number for size, number in each.cans), each.volume_l)
        for material in _with_solvent(materials)
        for each in material.portions
    )


def open_solvent_kg(materials: Iterable[Material]) -> float:
    """Solvent in the mixes of a job, exempt ones too: these burn as well.

    Parameters
    ----------
    materials : iterable of Material
        Of the job.

    Returns
    -------
    float
        [kg]
    """
    return sum(
        each.volume_l
        * (each.component.voc_g_per_l + each.component.exempt_g_per_l)
        / _G_PER_KG
        for material in _with_solvent(materials)
        for each in material.portions
    )


def _with_solvent(materials: Iterable[Material]) -> list[Material]:
    return [each for each in materials if "solvent" in each.product.hazards]


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
