"""What a job takes of each product that is sprayed."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from shadecore.film.build import CoatFilm
from shadecore.job.choice import Choice, own_cans
from shadecore.job.own_prices import own_name, priced_by_shop
from shadecore.job.paint_amount import base_coat_film
from shadecore.job.request import JobRequest
from shadecore.job.steps import Step
from shadecore.job.weather import pick_grade
from shadecore.products.materials import (
    Portion,
    mix_parts,
    mixed_solids,
    ready_volume_l,
)
from shadecore.products.product import Product, ProductSheet, SpeedGrade
from shadecore.products.voc import VocAnswer, check_voc
from shadecore.undercoats.prices import CanPrice

_ROUNDING: Final = 1e-9


@dataclass(frozen=True)
class Material:
    """What one product of the job takes.

    Attributes
    ----------
    product : Product
        The product; a sealer that is mixed of two cans has both among its components.
    coats : int
        Coats of it.
    ready_l : float
        Ready-to-spray paint, overspray and cup loss included. [L]
    portions : tuple of Portion
        Its components.
    reducer, hardener : str
        Grade for the temperature, or several where it is sprayed on days that want
        different ones; empty where it takes none, a dash where none fits.
    voc : tuple of VocAnswer
        Against the published limits.
    use : str
        What it is used for beside the product's usual use, such as mid-coats, which are
        another mix than the ground; empty for none.
    own_prices : tuple of CanPrice
        Prices of the shop's own shelf that stand in the place of the product sheet's.
    lost_l : float
        Left in cups and guns, part of what is mixed. [L]
    """

    product: Product
    coats: int
    ready_l: float
    portions: tuple[Portion, ...]
    reducer: str
    hardener: str
    voc: tuple[VocAnswer, ...]
    use: str = ""
    own_prices: tuple[CanPrice, ...] = ()
    lost_l: float = 0.0

    @property
    def sprayed_l(self) -> float:
        """What goes through the gun. [L]."""
        return self.ready_l - self.lost_l

    @property
    def coats_held(self) -> int:
        """For how many coats the whole cans are enough.

        Returns
        -------
        int
            The planned ones at least; what is not sold in cans is bought for those.
        """
        bought = (
            sum(size * number for size, number in each.cans) / each.volume_l
            if each.cans
            else 1.0
            for each in self.portions
            if each.volume_l
        )
        held_l = min(bought, default=1.0) * self.ready_l - self.lost_l
        one_l = self.sprayed_l / self.coats
        return max(self.coats, math.floor(held_l / one_l + _ROUNDING))

    @property
    def cost(self) -> float:
        """Money for the cans, in the sheet's currency."""
        return sum(portion.cost for portion in self.portions)


def materials_of(  # noqa: PLR0913, PLR0917 - what is mixed depends on each
    steps: Sequence[Step],
    sheet: ProductSheet,
    request: JobRequest,
    film: CoatFilm,
    area_m2: float,
    sealers: Mapping[str, Choice],
    air_c: Mapping[str, tuple[float, ...]],
) -> tuple[Material, ...]:
    """What each sprayed product takes, its steps taken together.

    Parameters
    ----------
    steps : sequence of Step
        Of the job.
    sheet : ProductSheet
        The products.
    request : JobRequest
        The job.
    film : CoatFilm
        One coat of colour, as the pick counted with it.
    area_m2 : float
        Area to paint. [m2]
    sealers : mapping of str to Choice
        What is chosen for the sealer, by the name of its mix.
    air_c : mapping of str to tuple of float
        Temperatures of the air at which a step is sprayed, by its key; the job's own
        where it is not there. [degrees C]

    Returns
    -------
    tuple of Material
        One to each mix, in the order of the steps.
    """
    by_key = {product.key: product for product in sheet.products}
    mixes: dict[tuple[str, str], list[Step]] = {}
    for step in steps:
        if step.product is not None and by_key[step.product].components and step.coats:
            mixes.setdefault((step.product, step.mix), []).append(step)
    found = []
    for (key, use), sprayed in mixes.items():
        product = by_key[key]
        choice = sealers.get(use) if product.kind == "sealer" else None
        prices: tuple[CanPrice, ...] = ()
        if choice is not None:
            taken, shelf = choice.undercoat, request.question.shelf
            mixed = own_cans(product.components, taken)
            mixed, prices = priced_by_shop(mixed, taken, shelf)
            name = own_name(taken, shelf) or product.name
            product = replace(product, components=mixed, name=name)
        degrees = {
            each for step in sprayed for each in air_c.get(step.key, (request.air_c,))
        }
        coat = film_of(product, sheet, film)
        # What hardens is cleaned out of the gun after each step.
        lost_l = request.cup_loss_l * (len(sprayed) if product.two_pack else 1)
        ready_l = ready_volume_l(
            area_m2,
            sum(step.coats * step.share for step in sprayed),
            coat.dry_film_um,
            coat.volume_solids,
            coat.transfer_efficiency,
            lost_l,
        )
        found.append(
            Material(
                product,
                sum(step.coats for step in sprayed),
                ready_l,
                mix_parts(product, ready_l),
                _grades(product.reducers, degrees),
                _grades(product.hardeners, degrees),
                check_voc(product),
                use,
                prices,
                lost_l,
            )
        )
    return tuple(found)


def film_of(product: Product, sheet: ProductSheet, picked: CoatFilm) -> CoatFilm:
    """The film of a coat, as its paint is reckoned.

    Parameters
    ----------
    product : Product
        Of the sheet.
    sheet : ProductSheet
        The products.
    picked : CoatFilm
        One coat of colour, as the pick counted with it: the base coat's own.

    Returns
    -------
    CoatFilm
    """
    if product.kind == "base_coat":
        return base_coat_film(picked, sheet, product)
    solids = mixed_solids(product.components)
    return replace(picked, dry_film_um=product.dry_film_um, volume_solids=solids)


def _grades(grades: tuple[SpeedGrade, ...], degrees: set[float]) -> str:
    """Names of the grades for some temperatures; a dash where none fits one."""
    if not grades:
        return ""
    found = (pick_grade(grades, air_c) for air_c in sorted(degrees))
    names = dict.fromkeys("-" if each is None else each.name for each in found)
    return ", ".join(names)
