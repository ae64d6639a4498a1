"""How much of each product a job takes, in which cans, and what they cost."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from shadecore.datafiles import data_file
from shadecore.errors import JobError
from shadecore.film.build import CoatFilm
from shadecore.formats.table import read_rows, read_text
from shadecore.products.product import Component, Product, total_parts
from shadecore.products.ranges import MIX_L
from shadecore.units import LABEL_SLACK, ML_PER_L

BOXED_KINDS: Final = ("sealer", "base_coat", "mid_coat")
"""Products whose shade must not change from can to can."""

# Cans are picked in whole millionths of a litre, finer than any measuring cup.
_STEPS_PER_LITRE: Final = 1_000_000
# Of a large need, only the last so many of the largest cans are weighed against others.
_WEIGHED_CANS: Final = 8
_PANELS: Final = "panels.csv"


@dataclass(frozen=True)
class Panel:
    """One panel of a car.

    Attributes
    ----------
    key, name : str
        Its key and what painters call it.
    area_m2 : float
        Rough outside area. [m2]
    """

    key: str
    name: str
    area_m2: float


@dataclass(frozen=True)
class Portion:
    """What one component of a mix takes.

    Attributes
    ----------
    component : Component
        The component.
    volume_l : float
        What goes into the mix. [L]
    cans : tuple of (float, int)
        Size in litres and number of the cans to take, largest first; empty where it
        is not sold in cans.
    boxed : bool
        Whether to pour the cans together first, so that the shade stays even.
    cost : float
        Of the whole cans, or of the volume where there are none. [currency]
    """

    component: Component
    volume_l: float
    cans: tuple[tuple[float, int], ...]
    boxed: bool
    cost: float


@lru_cache(maxsize=1)
def panels() -> tuple[Panel, ...]:
    """The panels of ``data/panels.csv``.

    Returns
    -------
    tuple of Panel

    Raises
    ------
    TableError
        If the table cannot be used.
    """
    rows = read_rows(
        read_text(data_file(_PANELS)), _PANELS, ("panel", "name", "area_m2")
    )
    return tuple(
        Panel(row.text("panel"), row.text("name"), row.number("area_m2"))
        for row in rows
    )


def area_of(chosen: Mapping[str, int]) -> float:
    """Area of some panels.

    Parameters
    ----------
    chosen : mapping of str to int
        How many there are of each, by key; zero or more.

    Returns
    -------
    float
        m2, rough.

    Raises
    ------
    JobError
        If a panel is not known or a number is negative.

    Examples
    --------
    >>> area_of({"hood": 1, "front_fender": 2})
    2.6
    """
    areas = {each.key: each.area_m2 for each in panels()}
    for key, number in chosen.items():
        if key not in areas:
            message = f"There is no panel {key!r}; take one of {', '.join(areas)}."
            raise JobError(message)
        if number < 0:
            message = f"The number of {key!r} must be zero or more, not {number}."
            raise JobError(message)
    return sum(areas[key] * number for key, number in chosen.items())


def mixed_solids(components: Sequence[Component]) -> float:
    """Volume solids of a mix, where volumes add up.

    Parameters
    ----------
    components : sequence of Component
        The mix.

    Returns
    -------
    float
        0..1.

    Raises
    ------
    JobError
        If the mix has no parts.
    """
    solids = sum(each.parts * each.volume_solids for each in components)
    return solids / total_parts(components)


def ready_volume_l(
    area_m2: float,
    coats: float,
    dry_film_um: float,
    volume_solids: float,
    transfer_efficiency: float,
    cup_loss_l: float,
) -> float:
    """Ready-to-spray material to mix, overspray and what stays in the gun included.

    Parameters
    ----------
    area_m2 : float
        Above 0. [m2]
    coats : float
        Above 0.
    dry_film_um : float
        Dry film of one coat, within ``SPRAYED_FILM_UM``. [um]
    volume_solids : float
        Of the mix, above 0 and up to 1.
    transfer_efficiency : float
        Share of the sprayed material that stays on the part, above 0 and up to 1.
    cup_loss_l : float
        Left in cup and gun, zero or more. [L]

    Returns
    -------
    float
        Litres.

    Raises
    ------
    JobError
        If area, coats or loss are outside their range.
    SettingError
        If film, solids or transfer efficiency are.
    """
    for name, value in (("area", area_m2), ("number of coats", coats)):
        if not (math.isfinite(value) and value > 0.0):
            message = f"The {name} must be above 0, not {value:g}; check the job."
            raise JobError(message)
    if not (math.isfinite(cup_loss_l) and cup_loss_l >= 0.0):
        message = f"The loss in the gun must be 0 L or more, not {cup_loss_l:g}."
        raise JobError(message)
    film = CoatFilm(dry_film_um, volume_solids, transfer_efficiency)
    return film.sprayed_ml_per_m2(coats) * area_m2 / ML_PER_L + cup_loss_l


def mix_parts(product: Product, ready_l: float) -> tuple[Portion, ...]:
    """What each component takes, and in which cans.

    Parameters
    ----------
    product : Product
        The product; volumes are taken to add up.
    ready_l : float
        Ready-to-spray mix, above 0 and within ``MIX_L``. [L]

    Returns
    -------
    tuple of Portion
        In the order of the components. The cans hold as little as possible beyond
        the need, within half a percent; of such choices, the fewest cans are taken.

    Raises
    ------
    JobError
        If the product has no mix or the volume is outside its range.
    """
    if ready_l not in MIX_L or not ready_l:
        message = (
            f"The mix of {product.name!r} must be above 0 and up to {MIX_L.high:g} L, "
            f"not {ready_l:g}; check area, coats and film."
        )
        raise JobError(message)
    parts = total_parts(product.components)
    # What brings most of the solids is the paint; hardener and reducer have no shade.
    paint = max(product.components, key=lambda each: each.parts * each.volume_solids)
    shaded = product.kind in BOXED_KINDS
    return tuple(
        _portion(each, ready_l * each.parts / parts, shaded=shaded and each is paint)
        for each in product.components
    )


def _portion(component: Component, volume_l: float, *, shaded: bool) -> Portion:
    cans = _cans(volume_l, component.can_sizes_l)
    bought = sum(size * number for size, number in cans) if cans else volume_l
    several = sum(number for _, number in cans) > 1
    cost = bought * component.price_per_l
    return Portion(component, volume_l, cans, shaded and several, cost)


def _cans(volume_l: float, sizes_l: tuple[float, ...]) -> tuple[tuple[float, int], ...]:
    if not sizes_l:
        return ()
    sizes = sorted(set(sizes_l), reverse=True)
    steps = tuple(math.floor(size * _STEPS_PER_LITRE) for size in sizes)
    # A can that is short by less than half a step is full enough.
    need = math.ceil(volume_l * _STEPS_PER_LITRE - 0.5)
    bulk = max(need // steps[0] - _WEIGHED_CANS, 0)
    need -= bulk * steps[0]
    most = math.floor(_least(need, steps) * (1.0 + LABEL_SLACK))
    first, *others = _fewest(need, most, steps) or (0,)
    numbers = (bulk + first, *others)
    return tuple(pair for pair in zip(sizes, numbers, strict=True) if pair[1])


@lru_cache(maxsize=4096)
def _least(need: int, sizes: tuple[int, ...]) -> int:
    """Least volume of cans, sizes descending, that holds the need."""
    size, smaller = sizes[0], sizes[1:]
    enough = _enough(need, size)
    least = enough * size
    for number in range(enough - 1, -1, -1) if smaller else ():
        if least == need:
            break
        held = number * size
        least = min(least, held + _least(need - held, smaller))
    return least


@lru_cache(maxsize=4096)
def _fewest(need: int, most: int, sizes: tuple[int, ...]) -> tuple[int, ...] | None:
    """Fewest cans of each size, sizes descending, that hold from need to most."""
    size, smaller = sizes[0], sizes[1:]
    enough = _enough(need, size)
    if not smaller:
        return (enough,) if enough * size <= most else None
    found: tuple[int, ...] | None = None
    for number in range(enough, -1, -1):
        held = number * size
        # With fewer of the largest it takes no fewer in all.
        if found and number + _enough(need - held, smaller[0]) > sum(found):
            break
        rest = _fewest(need - held, most - held, smaller)
        if rest is None:
            continue
        tried = (number, *rest)
        if not found or _rank(tried, sizes) <= _rank(found, sizes):
            found = tried
    return found


def _enough(need: int, size: int) -> int:
    return max(-(-need // size), 0)


def _rank(numbers: tuple[int, ...], sizes: tuple[int, ...]) -> tuple[int, int]:
    """The better choice has the lower one: how many cans, and what they hold."""
    total = sum(n * size for n, size in zip(numbers, sizes, strict=True))
    return sum(numbers), total
