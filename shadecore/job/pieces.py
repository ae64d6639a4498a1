"""What a step is made of: pieces of work and drying, and what lies open after it."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final

from shadecore.errors import JobError
from shadecore.job.breaks import Break
from shadecore.job.climate import Climate
from shadecore.job.hours import Piece
from shadecore.job.steps import Step
from shadecore.job.usual_steps import is_clean, is_cure, is_de_nib
from shadecore.job.windows import REMEDIES, Layer, cure_min, left_open, sand_wait_min
from shadecore.products.product import Product

_ROUNDING: Final = 1e-9
"""A third of three coats is one coat."""
_SWITCH_ON_MIN: Final = 1.0
"""For so long somebody must be there when baking begins; rule of thumb."""


@dataclass(frozen=True)
class Shop:
    """What the times of a job depend on beside its steps.

    Attributes
    ----------
    products : dict of str to Product
        The sheet's, by their key.
    climate : Climate
        How films dry.
    breaks : tuple of Break
        As :func:`shadecore.job.hours.joined` gives them.
    begun : mapping of str to float
        How much of a step is done that is not done yet, 0..1, by its key.
    longest_min : float
        Longest time in which somebody works without a break: what takes longer is left
        for one after all. [min]
    hold : bool
        Whether a coat is put off where the next one would otherwise come too late.
    """

    products: dict[str, Product]
    climate: Climate
    breaks: tuple[Break, ...]
    begun: Mapping[str, float]
    longest_min: float = math.inf
    hold: bool = False

    def product(self, step: Step) -> Product | None:
        """The product that a step uses."""
        if step.product is None:
            return None
        if step.product in self.products:
            return self.products[step.product]
        message = (
            f"Step {step.key!r} uses {step.product!r}, which is not in the product "
            "sheet; plan with the sheet that the steps were made from."
        )
        raise JobError(message)


def pieces_of(
    step: Step, layers: tuple[Layer, ...], shop: Shop, factor: float, share: float
) -> tuple[Piece, ...]:
    """Work of a step that is left when a share is done, and the drying within it.

    Parameters
    ----------
    step : Step
        The step.
    layers : tuple of Layer
        What lies open before it.
    shop : Shop
        The products and the weather.
    factor : float
        Drying time over that at the sheet's reference temperature.
    share : float
        How much of it is done, 0..1.

    Returns
    -------
    tuple of Piece
    """
    product = shop.product(step)
    left_min = step.work_min * (1.0 - share)
    if is_cure(step.key):
        cures = [
            cure_min(each.product, shop.climate.cure)
            for each in layers
            if each.product.kind == "clear_coat"
        ]
        fixed, film = max(cures, default=(0.0, 0.0))
        if fixed and shop.climate.cure == "lamp":
            # A hot lamp is not left alone.
            return (Piece(fixed, whole=fixed <= shop.longest_min),)
        begun_min = min(fixed, _SWITCH_ON_MIN)
        return (Piece(begun_min, fixed - begun_min, film),)
    if step.coats:
        # Coats follow wet on wet, so a break may not fall between them.
        coats = math.ceil(step.coats * (1.0 - share) - _ROUNDING)
        flashes = max(coats - 1, 0) * step.flash_min * factor
        length = left_min + flashes
        room_min = step.room_min if length + step.room_min <= shop.longest_min else 0.0
        whole = length <= shop.longest_min
        return (Piece(length, whole=whole, room_min=room_min),)
    if product is not None and step.grits:
        half = step.work_min / 2.0
        if left_min <= half:
            return (Piece(left_min),)
        return (
            Piece(
                left_min - half,
                film_min=sand_wait_min(product),
                whole=left_min - half <= shop.longest_min,
            ),
            Piece(half),
        )
    # A wiped panel may not wait half wet, nor a gun half clean; polish may.
    wet = product is not None and product.kind != "polish"
    whole = wet or is_clean(step.key)
    return (Piece(left_min, whole=whole and left_min <= shop.longest_min),)


def layers_after(
    step: Step, layers: tuple[Layer, ...], shop: Shop, end: datetime
) -> tuple[Layer, ...]:
    """What lies open after a step: sanding closes what was there, a cure its window.

    Parameters
    ----------
    step : Step
        The step.
    layers : tuple of Layer
        What lay open before it.
    shop : Shop
        The products.
    end : datetime
        When it was done.

    Returns
    -------
    tuple of Layer
    """
    product = shop.product(step)
    if is_cure(step.key):
        return tuple(
            replace(each, end=end, cured=True)
            for each in layers
            if each.product.kind == "clear_coat"
        )
    if product is None:
        return () if step.grits and not is_de_nib(step.key) else layers
    if (step.grits and not step.coats) or product.kind == "polish":
        return ()
    laid = Layer(product, end, step.part, step.key)
    if not step.coats:
        # A wipe does not open a film again.
        return (*layers, laid)
    beside = (left_open(step, each) for each in layers)
    return (*(each for each in beside if each is not None), laid)


def remedy_of(layer: Layer) -> Piece:
    """What a missed window costs, as a piece of work.

    Parameters
    ----------
    layer : Layer
        What is coated too late.

    Returns
    -------
    Piece
    """
    remedy = REMEDIES[layer.product.windows.missed]
    again_min = layer.product.windows.recoat_after_min
    return Piece(remedy.work_min, film_min=again_min if remedy.dries else 0.0)
