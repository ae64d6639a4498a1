"""When a film is ready for what comes next, and until when without extra work.

How long a panel takes to warm and to cool, and what a missed window costs are rules of
thumb: common practice, no source.
"""

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final

from shadecore.errors import JobError
from shadecore.job.climate import Climate
from shadecore.job.hours import minutes
from shadecore.job.steps import FIRST_AREA, SECOND_AREA, Step
from shadecore.job.usual_steps import UNMASK, is_clean, is_cure, is_de_nib
from shadecore.products.product import SPRAYED, Product

WARM_UP_MIN: Final = 15.0
"""Until a panel is at baking temperature; rule of thumb."""
NIBS_AFTER_MIN: Final = 30.0
"""Until nibs may be taken off a film, where its sheet does not say; rule of thumb."""
COOL_DOWN_MIN: Final = 30.0
"""Until a baked panel may be cut; rule of thumb."""
USUAL_TAPE_MIN: Final = 30.0
"""Until a colour bears tape, where its sheet does not say; rule of thumb."""

_MIN_PER_H: Final = 60.0
_OTHER: Final = {FIRST_AREA: SECOND_AREA, SECOND_AREA: FIRST_AREA}


@dataclass(frozen=True)
class Remedy:
    """What a missed window costs.

    Attributes
    ----------
    work_min : float
        Extra hands-on time. [min]
    dries : bool
        Whether the product must dry again after it.
    """

    work_min: float
    dries: bool


REMEDIES: Final = {
    "scuff": Remedy(20.0, dries=False),
    "sand": Remedy(45.0, dries=False),
    "re-etch": Remedy(90.0, dries=True),
}
"""By the word in :attr:`shadecore.products.product.Windows.missed`."""


@dataclass(frozen=True)
class Layer:
    """What lies open on the panel.

    Attributes
    ----------
    product : Product
        What was laid down.
    end : datetime
        When its last coat was done, or its cure.
    part : str
        Which of two colours' areas it lies open on; empty for all of the job's.
    by : str
        Key of the step that laid it down.
    cured : bool
        Whether it has been baked, or has cured otherwise.
    """

    product: Product
    end: datetime
    part: str = ""
    by: str = ""
    cured: bool = False


def coats_over(step: Step, layer: Layer) -> bool:
    """Whether a step lays something on that must hold on a layer, as it lies.

    What is sanded in the same step, before its coat, takes it at any time.

    Parameters
    ----------
    step : Step
        The step.
    layer : Layer
        What lies open.

    Returns
    -------
    bool
        False also where it is sprayed beside the layer.
    """
    return step.coats > 0 and not step.grits and not beside(step, layer)


def beside(step: Step, layer: Layer) -> bool:
    """Whether a step is at one colour of two, and a layer lies on the other alone.

    Parameters
    ----------
    step : Step
        The step.
    layer : Layer
        What lies open before it.

    Returns
    -------
    bool
    """
    return bool(step.part and layer.part and step.part != layer.part)


def left_open(step: Step, layer: Layer) -> Layer | None:
    """What of a layer a coat leaves open.

    Parameters
    ----------
    step : Step
        The coat.
    layer : Layer
        What lay open before it.

    Returns
    -------
    Layer or None
        None where the coat covers it.
    """
    if not step.part or layer.part == step.part:
        return None
    return layer if layer.part else replace(layer, part=_OTHER[step.part])


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
    windows = layer.product.windows
    if is_clean(step.key):
        return layer.end
    if layer.cured:
        # Tape comes off best while the panel is warm; all else waits till it is cool.
        cool = climate.cure == "air" or step.key == UNMASK
        return layer.end if cool else layer.end + minutes(COOL_DOWN_MIN)
    if is_cure(step.key):
        return climate.after(layer.end, windows.flash_min)
    told = windows.sand_after_h is not None or layer.product.kind == "clear_coat"
    if is_de_nib(step.key) and not told:
        return climate.after(layer.end, max(windows.recoat_after_min, NIBS_AFTER_MIN))
    if layer.product.kind in SPRAYED and _cuts(step):
        return _sandable_at(layer, climate)
    return climate.after(layer.end, windows.recoat_after_min)


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
    if within_h is None or layer.cured:
        return None
    return climate.at_most(layer.end, within_h * _MIN_PER_H)


def sand_wait_min(product: Product) -> float:
    """Drying from the last coat until a product may be sanded.

    Parameters
    ----------
    product : Product
        The product.

    Returns
    -------
    float
        At the sheet's reference temperature. [min]

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
    return after_h * _MIN_PER_H


def cure_min(product: Product, cure: str) -> tuple[float, float]:
    """Time a flashed clear coat takes to cure.

    Parameters
    ----------
    product : Product
        The clear coat.
    cure : str
        One of ``CURES``.

    Returns
    -------
    fixed : float
        Of baking or lamp, warming included: at a set panel temperature. [min]
    film : float
        Of drying in air, at the sheet's reference temperature. [min]

    Raises
    ------
    JobError
        If the sheet does not say.
    """
    windows = product.windows
    if cure == "bake" and windows.bake_min is not None:
        return WARM_UP_MIN + windows.bake_min, 0.0
    if cure == "air" and windows.air_cure_h is not None:
        return 0.0, windows.air_cure_h * _MIN_PER_H
    if cure == "lamp" and windows.lamp_min is not None:
        return windows.lamp_min, 0.0
    others = [
        name
        for name, time in (
            ("bake", windows.bake_min),
            ("air", windows.air_cure_h),
            ("lamp", windows.lamp_min),
        )
        if time is not None and name != cure
    ]
    message = (
        f"{product.name} has no times for the cure {cure!r} in its sheet; "
        f"{''.join(f'choose {each} or ' for each in others[:1])}give them "
        f"({product.key})."
    )
    raise JobError(message)


def _sandable_at(layer: Layer, climate: Climate) -> datetime:
    # What is cut and polished must be cured; what is sanded for a coat need not be.
    if layer.product.kind != "clear_coat":
        return climate.after(layer.end, sand_wait_min(layer.product))
    fixed, film = cure_min(layer.product, climate.cure)
    flash = layer.product.windows.flash_min
    cool_min = COOL_DOWN_MIN if fixed else 0.0
    return climate.after(layer.end, flash + film) + minutes(fixed + cool_min)


def _cuts(step: Step) -> bool:
    """Whether a step takes film off."""
    return bool(step.grits) or step.key == "polish"
