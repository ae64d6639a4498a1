"""Mixing at the bench: what to pour, by volume and by the scale, into what is there."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import accumulate
from typing import Final

from shadecore.errors import JobError
from shadecore.products.product import Component, Product, total_parts
from shadecore.units import ML_PER_L

USUAL_FILL: Final = 0.8
"""Share of a cup that is filled, so that it can be stirred; common practice, no
source."""
_MOST_ML: Final = 1e6
_ROUNDING: Final = 1e-9


@dataclass(frozen=True)
class Pour:
    """What is poured of one component.

    Attributes
    ----------
    component : Component
        The component.
    volume_ml, mass_g : float
        Of it alone.
    level_ml, scale_g : float
        What the cup and the scale read when it is in, from an empty cup at zero.
    """

    component: Component
    volume_ml: float
    mass_g: float
    level_ml: float
    scale_g: float


def mix_volume(components: Sequence[Component], ready_ml: float) -> tuple[Pour, ...]:
    """A mix of a volume; volumes are taken to add up.

    Parameters
    ----------
    components : sequence of Component
        In the order they are poured.
    ready_ml : float
        Of the mix, above 0. [ml]

    Returns
    -------
    tuple of Pour

    Raises
    ------
    JobError
        If there is nothing to mix, or the volume is out of range.
    """
    _check("volume of the mix", ready_ml, "ml")
    parts = total_parts(components)
    volumes = [ready_ml * each.parts / parts for each in components]
    masses = [
        volume * each.density_g_per_l / ML_PER_L
        for volume, each in zip(volumes, components, strict=True)
    ]
    return tuple(
        Pour(*each)
        for each in zip(
            components,
            volumes,
            masses,
            accumulate(volumes),
            accumulate(masses),
            strict=True,
        )
    )


def mix_held(
    components: Sequence[Component], held_ml: float, room_ml: float | None = None
) -> tuple[Pour, ...]:
    """What to add to a component that is there already, as in a can sold half full.

    Parameters
    ----------
    components : sequence of Component
        The first one is there; the others are added in their order.
    held_ml : float
        How much of it, above 0. [ml]
    room_ml : float, optional
        What the can holds when it is full; not looked at unless given. [ml]

    Returns
    -------
    tuple of Pour
        The one that is there included; its scale reading is what to zero at.

    Raises
    ------
    JobError
        If there is nothing to mix, or it does not go into the can.
    """
    _check("volume that is there", held_ml, "ml")
    parts = total_parts(components)
    first = components[0]
    if not first.parts > 0.0:
        message = f"{first.name!r} has no parts in the mix; put another one first."
        raise JobError(message)
    pours = mix_volume(components, held_ml * parts / first.parts)
    whole = pours[-1].level_ml
    if room_ml is not None and whole > room_ml * (1.0 + _ROUNDING):
        message = (
            f"The mix takes {whole:.0f} ml and the can holds {room_ml:.0f}; pour some "
            "of it off first, or mix in a larger cup."
        )
        raise JobError(message)
    return pours


def mixed_density_g_per_l(components: Sequence[Component]) -> float:
    """Density of a mix, where volumes add up.

    Parameters
    ----------
    components : sequence of Component
        The mix.

    Returns
    -------
    float
        [g/L]

    Raises
    ------
    JobError
        If the mix has no parts.
    """
    mass = sum(each.parts * each.density_g_per_l for each in components)
    return mass / total_parts(components)


def parts_by_mass(components: Sequence[Component]) -> tuple[float, ...]:
    """Parts by mass of a mix that is given by volume.

    Parameters
    ----------
    components : sequence of Component
        The mix.

    Returns
    -------
    tuple of float
        In percent of the mass of the mix.

    Raises
    ------
    JobError
        If the mix has no parts.
    """
    masses = [each.parts * each.density_g_per_l for each in components]
    total_parts(components)
    return tuple(100.0 * mass / sum(masses) for mass in masses)


def usable_until(
    product: Product, mixed_at: datetime, factor: float
) -> datetime | None:
    """Until when a mix can be sprayed.

    Parameters
    ----------
    product : Product
        What was mixed.
    mixed_at : datetime
        When its hardener went in.
    factor : float
        Drying time at the shop's temperature over that at the sheet's reference: warmth
        shortens the pot life as it does drying, but cold is not trusted to lengthen it.

    Returns
    -------
    datetime or None
        None where the sheet gives no pot life.
    """
    if product.pot_life_min is None:
        return None
    return mixed_at + timedelta(minutes=product.pot_life_min * min(factor, 1.0))


def _check(what: str, value: float, unit: str) -> None:
    if not (math.isfinite(value) and 0.0 < value <= _MOST_ML):
        message = (
            f"The {what} must be above 0 and up to {_MOST_ML:,.0f} {unit}, not "
            f"{value:g}; check it."
        )
        raise JobError(message)
