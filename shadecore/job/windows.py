"""When a film is ready for what comes next, and until when without extra work.

How drying depends on temperature, how long a panel takes to warm and to cool, and what
a missed window costs are rules of thumb: common practice, no source.
"""

import math
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from shadecore.errors import JobError, SettingError
from shadecore.job.hours import minutes, minutes_at_most
from shadecore.job.request import CURES
from shadecore.job.steps import CURE, Step
from shadecore.products.product import SPRAYED, Product, ProductSheet
from shadecore.products.ranges import PANEL_C

WARM_UP_MIN: Final = 15.0
"""Until a panel is at baking temperature; rule of thumb."""
COOL_DOWN_MIN: Final = 30.0
"""Until a baked panel may be cut; rule of thumb."""

_MIN_PER_H: Final = 60.0


@dataclass(frozen=True)
class Remedy:
    """What a missed window costs.

    Attributes
    ----------
    work_min : float
        Extra hands-on time. [min]
    dries : bool
        Whether the product must dry again after it.
    text : str
        What to do, as the end of a sentence.
    """

    work_min: float
    dries: bool
    text: str


REMEDIES: Final = {
    "scuff": Remedy(
        20.0, dries=False, text="scuff it dull with a fine pad and wipe it"
    ),
    "sand": Remedy(
        45.0,
        dries=False,
        text="sand it with P600 and wipe it; flake and pearl need one more coat",
    ),
    "re-etch": Remedy(90.0, dries=True, text="sand it off to the metal and etch again"),
}
"""By the word in :attr:`shadecore.products.product.Windows.missed`."""


@dataclass(frozen=True)
class Climate:
    """How films dry in this job.

    Attributes
    ----------
    factor : float
        Drying time over that at the sheet's reference temperature.
    cure : str
        ``bake`` or ``air``: how the clear coat cures.
    """

    factor: float
    cure: str


@dataclass(frozen=True)
class Layer:
    """What lies open on the panel.

    Attributes
    ----------
    product : Product
        What was laid down.
    end : datetime
        When its last coat was done.
    """

    product: Product
    end: datetime


def climate_of(sheet: ProductSheet, panel_c: float, cure: str) -> Climate:
    """How films dry on a panel.

    Parameters
    ----------
    sheet : ProductSheet
        Whose times are stretched: each ``halving_k`` below its reference doubles them.
    panel_c : float
        Panel temperature, within ``PANEL_C``. [degrees C]
    cure : str
        ``bake`` or ``air``.

    Returns
    -------
    Climate

    Raises
    ------
    SettingError
        If the temperature is out of range.
    JobError
        If the cure is not known or the sheet's rule cannot be used.

    Examples
    --------
    >>> from shadecore.products.sheet_file import demo_sheet
    >>> climate_of(demo_sheet(), 11.0, "bake").factor
    2.0
    """
    PANEL_C.check(panel_c, "The panel's temperature", SettingError)
    if cure not in CURES:
        message = f"The cure {cure!r} is not known; take one of {', '.join(CURES)}."
        raise JobError(message)
    if not (math.isfinite(sheet.halving_k) and sheet.halving_k > 0.0):
        message = (
            f"halving_k of {sheet.name} must be above 0 K, not {sheet.halving_k:g}."
        )
        raise JobError(message)
    return Climate(2.0 ** ((sheet.reference_c - panel_c) / sheet.halving_k), cure)


def coats_over(step: Step) -> bool:
    """Whether a step lays something on that must hold on what is there.

    Parameters
    ----------
    step : Step
        The step.

    Returns
    -------
    bool
    """
    return step.coats > 0


def ready_at(layer: Layer, step: Step, climate: Climate) -> datetime:
    """When a step may start on a layer.

    Parameters
    ----------
    layer : Layer
        What it starts on.
    step : Step
        What comes next.
    climate : Climate
        How films dry.

    Returns
    -------
    datetime

    Raises
    ------
    JobError
        If the sheet does not say.
    """
    windows, factor = layer.product.windows, climate.factor
    if step.key == CURE:
        return layer.end + minutes(windows.flash_min * factor)
    if layer.product.kind in SPRAYED and _cuts(step):
        return layer.end + minutes(_until_sanded_min(layer.product, climate))
    return layer.end + minutes(windows.recoat_after_min * factor)


def closes_at(layer: Layer, climate: Climate) -> datetime | None:
    """Until when a layer may be coated without extra work.

    Parameters
    ----------
    layer : Layer
        What is coated.
    climate : Climate
        How films dry: warmth closes a window sooner, but cold is not trusted to keep
        it open.

    Returns
    -------
    datetime or None
        None where it stays open.
    """
    within_h = layer.product.windows.recoat_within_h
    if within_h is None:
        return None
    return layer.end + minutes_at_most(within_h * _MIN_PER_H * min(climate.factor, 1.0))


def sand_wait_min(product: Product, climate: Climate) -> float:
    """Time from the last coat until a product may be sanded.

    Parameters
    ----------
    product : Product
        The product.
    climate : Climate
        How films dry.

    Returns
    -------
    float
        [min]

    Raises
    ------
    JobError
        If the sheet does not say.
    """
    after_h = product.windows.sand_after_h
    if after_h is None:
        message = (
            f"{product.name} is to be sanded, but its sheet does not say when; give "
            f"sand_after_h in its windows ({product.key})."
        )
        raise JobError(message)
    return after_h * _MIN_PER_H * climate.factor


def cure_min(product: Product, climate: Climate) -> float:
    """Time a flashed clear coat takes to cure.

    Parameters
    ----------
    product : Product
        The clear coat.
    climate : Climate
        How films dry. Baking is at a set panel temperature and does not depend on it.

    Returns
    -------
    float
        Warming and cooling of a baked panel included. [min]

    Raises
    ------
    JobError
        If the sheet does not say.
    """
    windows = product.windows
    if climate.cure == "bake" and windows.bake_min is not None:
        return WARM_UP_MIN + windows.bake_min + COOL_DOWN_MIN
    if climate.cure == "air" and windows.air_cure_h is not None:
        return windows.air_cure_h * _MIN_PER_H * climate.factor
    other = "air" if climate.cure == "bake" else "bake"
    message = (
        f"{product.name} has no times for the cure {climate.cure!r} in its sheet; "
        f"choose {other} or give them ({product.key})."
    )
    raise JobError(message)


def _until_sanded_min(product: Product, climate: Climate) -> float:
    # What is cut and polished must be cured; what is sanded for a coat need not be.
    if product.kind != "clear_coat":
        return sand_wait_min(product, climate)
    return product.windows.flash_min * climate.factor + cure_min(product, climate)


def _cuts(step: Step) -> bool:
    """Whether a step takes film off."""
    return bool(step.grits) or step.key == "polish"
