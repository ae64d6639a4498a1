"""A mix for what stands on the bench: a cup, a can, a weight, or coats on an area."""

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from shadecore.errors import JobError
from shadecore.film.build import DEFAULT_TRANSFER_EFFICIENCY
from shadecore.formats.echo import choices, shown
from shadecore.products.materials import (
    Portion,
    mix_parts,
    mixed_solids,
    ready_volume_l,
)
from shadecore.products.mixing import (
    USUAL_FILL,
    Pour,
    mix_held,
    mix_volume,
    mixed_density_g_per_l,
)
from shadecore.products.pots import MOST_POTS, Spraying, number_of_pots
from shadecore.products.product import Component, Product, ProductSheet
from shadecore.products.ranges import COATS
from shadecore.units import ML_PER_L, percent

_WAYS: Final = (
    "one of: a volume, a mass, coats with their area, what is in the can already, or "
    "the cup alone"
)
_PART: Final = re.compile(r"\s*(\d+(?:[.,]\d+)?)\s+(?:parts?\s+(?:of\s+)?)?(\S.*?)\s*")
_MOST_PARTS: Final = 1000.0
_SLACK: Final = 1e-9
"""Rounding must not cost a filling."""


@dataclass(frozen=True)
class BenchAsk:
    """What is wanted at the bench.

    Attributes
    ----------
    volume_ml, mass_g : float or None
        Of the mix, ready to spray. [ml] [g]
    coats, area_m2 : float or None
        To mix for, together. [m2]
    held_ml : float or None
        Of the first component, in a can that the rest is added to. [ml]
    cup_ml : float or None
        Size of the cup; alone, it is filled. [ml]
    fill : float
        Share of the cup to fill, above 0 and up to 1.
    dry_film_um : float or None
        Of one coat; the product's unless given. [um]
    volume_solids : float or None
        That an area's paint is reckoned with, 0..1; those of the mix unless given.
    transfer_efficiency : float
        Share of what is sprayed that stays on the part, 0..1.
    cup_loss_l : float
        Left in cup and gun. [L]
    own : tuple of (str, float)
        Paints of the shop that the first component is mixed of, by name, and their
        parts by volume; empty where it comes as it is.
    spraying : Spraying or None
        How long the coats take that it is mixed for, so that no pot is larger than is
        sprayed within its pot life; None where that is not known.
    """

    volume_ml: float | None = None
    mass_g: float | None = None
    coats: float | None = None
    area_m2: float | None = None
    held_ml: float | None = None
    cup_ml: float | None = None
    fill: float = USUAL_FILL
    dry_film_um: float | None = None
    volume_solids: float | None = None
    transfer_efficiency: float = DEFAULT_TRANSFER_EFFICIENCY
    cup_loss_l: float = 0.05
    own: tuple[tuple[str, float], ...] = ()
    spraying: Spraying | None = None


@dataclass(frozen=True)
class BenchMix:
    """What to pour.

    Attributes
    ----------
    product : Product
        What is mixed.
    asked : BenchAsk
        What was wanted.
    pours : tuple of Pour
        Of one pot, in their order.
    fills : int
        How many pots are mixed, all alike.
    portions : tuple of Portion
        What all pots take of each component, and from which cans.
    """

    product: Product
    asked: BenchAsk
    pours: tuple[Pour, ...]
    fills: int
    portions: tuple[Portion, ...]

    @property
    def ready_ml(self) -> float:
        """One pot, ready to spray. [ml]."""
        return self.pours[-1].level_ml

    @property
    def ready_g(self) -> float:
        """The same on the scale. [g]."""
        return self.pours[-1].scale_g

    @property
    def boxed(self) -> tuple[Portion, ...]:
        """Colours whose cans are poured together first."""
        return tuple(each for each in self.portions if each.boxed)


def bench_mix(product: Product, asked: BenchAsk) -> BenchMix:
    """Work out what to pour.

    Parameters
    ----------
    product : Product
        With a mix; volumes are taken to add up.
    asked : BenchAsk
        One amount, and a cup where it is to be mixed in one.

    Returns
    -------
    BenchMix
        Of equal pots where the cup does not hold the amount, or it is not sprayed
        within one pot life.

    Raises
    ------
    JobError
        If the product is not mixed, no amount or several are asked for, or a number is
        out of range.
    """
    if not product.components:
        message = f"{product.name!r} is not mixed; take a product that is sprayed."
        raise JobError(message)
    components = own_components(product.components, asked.own)
    if asked.held_ml is not None:
        return _in_the_can(product, components, asked)
    ready_ml, fills = _filled(_wanted_ml(product, asked), asked)
    pours = mix_volume(components, ready_ml)
    return BenchMix(
        product, asked, pours, fills, mix_parts(product, ready_ml * fills / ML_PER_L)
    )


def find_product(sheet: ProductSheet, word: str) -> Product:
    """A product of a sheet by its key, its kind or its name.

    Parameters
    ----------
    sheet : ProductSheet
        The products.
    word : str
        Such as ``base_coat``.

    Returns
    -------
    Product

    Raises
    ------
    JobError
        If there is no such product.

    Examples
    --------
    >>> from shadecore.products.sheet_file import demo_sheet
    >>> find_product(demo_sheet(), "Base coat").key
    'base_coat'
    """
    wanted = _word(word)
    for each in sheet.products:
        if wanted in {_word(each.key), _word(each.kind), _word(each.name)}:
            return each
    mixed = [each.key for each in sheet.products if each.components]
    message = f"There is no product {shown(word)}; take one of {choices(mixed, word)}."
    raise JobError(message)


def _word(text: str) -> str:
    return "_".join(re.split(r"[\s_-]+", text.strip().lower()))


def own_components(
    components: Sequence[Component], own: Sequence[tuple[str, float]]
) -> tuple[Component, ...]:
    """Components with the first one mixed of a shop's own paints.

    Parameters
    ----------
    components : sequence of Component
        Of the product.
    own : sequence of (str, float)
        Names of the paints and their parts by volume; their density, solids and price
        are taken as those of the component they stand for.

    Returns
    -------
    tuple of Component

    Raises
    ------
    JobError
        If a part is out of range.
    """
    if not own:
        return tuple(components)
    for name, parts in own:
        if not 0.0 < parts <= _MOST_PARTS:
            message = (
                f"The parts of {shown(name)} must be above 0 and up to "
                f"{_MOST_PARTS:g}, not {parts:g}."
            )
            raise JobError(message)
    first, *others = components
    whole = sum(parts for _, parts in own)
    split = (
        replace(first, name=name, parts=first.parts * parts / whole)
        for name, parts in own
    )
    return (*split, *others)


def parse_own(text: str) -> tuple[str, float]:
    """Read one of a shop's own paints with its parts.

    Parameters
    ----------
    text : str
        Such as ``4 White N 9`` or ``1 part Dark grey N 4``.

    Returns
    -------
    tuple of (str, float)
        Its name and its parts.

    Raises
    ------
    JobError
        If it cannot be read.

    Examples
    --------
    >>> parse_own("4 White N 9")
    ('White N 9', 4.0)
    """
    found = _PART.fullmatch(text)
    if found is None:
        message = (
            f"The paint {shown(text)} has no parts; write them first, like 4 White N 9."
        )
        raise JobError(message)
    return found[2], float(found[1].replace(",", "."))


def _wanted_ml(product: Product, asked: BenchAsk) -> float | None:
    """The amount that was asked for; None for a cup alone."""
    by_coats = (asked.coats, asked.area_m2)
    if (asked.coats is None) != (asked.area_m2 is None):
        message = "Coats are mixed for an area: give both, such as 1 coat on 2.5 m2."
        raise JobError(message)
    given = [asked.volume_ml, asked.mass_g, asked.coats]
    if sum(each is not None for each in given) > 1 or (
        given == [None] * len(given) and asked.cup_ml is None
    ):
        message = f"How much to mix is said in one way; give {_WAYS}."
        raise JobError(message)
    if asked.mass_g is not None:
        density = mixed_density_g_per_l(product.components)
        return asked.mass_g / density * ML_PER_L
    if by_coats == (None, None):
        return asked.volume_ml
    coats, area_m2 = asked.coats or 0.0, asked.area_m2 or 0.0
    COATS.check(coats, "The number of coats")
    return ML_PER_L * ready_volume_l(
        area_m2,
        coats,
        product.dry_film_um if asked.dry_film_um is None else asked.dry_film_um,
        mixed_solids(product.components)
        if asked.volume_solids is None
        else asked.volume_solids,
        asked.transfer_efficiency,
        asked.cup_loss_l,
    )


def _filled(wanted_ml: float | None, asked: BenchAsk) -> tuple[float, int]:
    """One pot and how many of them. [ml]."""
    if asked.cup_ml is None:
        return _in_pots(wanted_ml or 0.0, asked, None)
    if not 0.0 < asked.fill <= 1.0:
        message = (
            f"A cup is filled above 0 and up to 100 percent, not {percent(asked.fill)}."
        )
        raise JobError(message)
    room_ml = asked.cup_ml * asked.fill
    if wanted_ml is None:
        return room_ml, 1
    if not (room_ml > 0.0 and math.isfinite(wanted_ml / room_ml)):
        message = f"The cup must hold more than 0 ml, not {asked.cup_ml:g}."
        raise JobError(message)
    return _in_pots(wanted_ml, asked, room_ml)


def _in_pots(
    wanted_ml: float, asked: BenchAsk, room_ml: float | None
) -> tuple[float, int]:
    if asked.spraying is not None and wanted_ml > 0.0:
        pots = number_of_pots(wanted_ml, asked.spraying, room_ml)
    else:
        pots = 1 if room_ml is None else math.ceil(wanted_ml / room_ml - _SLACK)
    if pots > MOST_POTS:
        message = f"That takes over {MOST_POTS} fillings; take a larger cup."
        raise JobError(message)
    return wanted_ml / max(pots, 1), max(pots, 1)


def _in_the_can(
    product: Product, components: tuple[Component, ...], asked: BenchAsk
) -> BenchMix:
    others = (asked.volume_ml, asked.mass_g, asked.coats, asked.area_m2, asked.cup_ml)
    if asked.own or any(each is not None for each in others):
        message = (
            "What is in the can already says how much to mix; leave out the cup, other "
            "amounts and own paints."
        )
        raise JobError(message)
    held_ml = asked.held_ml or 0.0
    room_ml = 2.0 * held_ml if components[0].half_full else None
    pours = mix_held(components, held_ml, room_ml)
    portions = mix_parts(product, pours[-1].level_ml / ML_PER_L)
    # What is there is not bought once more.
    there = replace(portions[0], cans=(), boxed=False, cost=0.0)
    return BenchMix(product, asked, pours, 1, (there, *portions[1:]))
