"""In which pots the paint of each step is mixed: none sets before it is sprayed.

What stays in cup and gun is reckoned once for each step after which the gun is cleaned,
and once in all for paint that does not harden; a pot gets its share of it. That a pot
is used up before the next one is mixed, and that a cup is filled so far that it can
still be stirred, are common practice, no source.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from shadecore.job.climate import drying_factor
from shadecore.job.material import Material
from shadecore.job.plan import Plan
from shadecore.job.plan_steps import longer_by_area
from shadecore.job.schedule import Timed
from shadecore.job.steps import MIXING_MIN, spray_min
from shadecore.products.bench import BenchAsk
from shadecore.products.mixing import USUAL_FILL
from shadecore.products.pots import Spraying, number_of_pots
from shadecore.products.product import Product, ProductSheet
from shadecore.units import ML_PER_L


@dataclass(frozen=True)
class Pots:
    """What is mixed for a step, in pots that are all alike.

    Attributes
    ----------
    material : Material
        What all steps of the same mix take.
    coats : int
        Coats that they are for.
    number : int
        How many pots.
    ready_ml : float
        One of them, ready to spray. [ml]
    titles : tuple of str
        Of the steps, for each of which it is mixed so.
    """

    material: Material
    coats: int
    number: int
    ready_ml: float
    titles: tuple[str, ...]

    def of_coat(self, coat: int) -> int | None:
        """Which pot a coat is sprayed from.

        Parameters
        ----------
        coat : int
            The coat, from 1 to those of the step.

        Returns
        -------
        int or None
            From 1; None where a coat takes more than one.
        """
        if self.number > self.coats:
            return None
        return (coat - 1) * self.number // self.coats + 1

    def coming(self, sprayed: int) -> int | None:
        """Which pot the next coat is sprayed from.

        Parameters
        ----------
        sprayed : int
            Coats so far.

        Returns
        -------
        int or None
            As :meth:`of_coat` says it; the last one when all coats are on.
        """
        return self.of_coat(min(sprayed + 1, self.coats))

    def used_up(self, mixed: datetime, sprayed: Sequence[datetime]) -> bool:
        """Whether the coats of a pot are all on.

        Parameters
        ----------
        mixed : datetime
            When it was mixed.
        sprayed : sequence of datetime
            When coats of the step ended.

        Returns
        -------
        bool
        """
        before = sum(each <= mixed for each in sprayed)
        return self.coming(before) != self.coming(len(sprayed))


def pots_of(plan: Plan, timed: Timed) -> Pots | None:
    """In which pots a step is mixed.

    Parameters
    ----------
    plan : Plan
        The plan.
    timed : Timed
        One of its steps.

    Returns
    -------
    Pots or None
        None where nothing is mixed for it.
    """
    material = material_of(plan, timed)
    if material is None or not timed.step.coats:
        return None
    whole_ml = step_ml(plan, timed, material, timed.step.coats)
    return _in_pots(plan, material, (timed,), whole_ml)


def mixes_of(plan: Plan, material: Material) -> tuple[Pots, ...]:
    """In which pots all steps of a mix are mixed.

    Parameters
    ----------
    plan : Plan
        The plan.
    material : Material
        One of its mixes.

    Returns
    -------
    tuple of Pots
        What hardens is mixed step by step, and steps that are mixed alike stand
        together; anything else is mixed once for all its coats.
    """
    steps = tuple(each for each in plan.timeline if material_of(plan, each) is material)
    if not material.product.two_pack:
        return (_in_pots(plan, material, steps, ML_PER_L * material.ready_l),)
    alike: dict[tuple[int, int, int], Pots] = {}
    for each in steps:
        one = pots_of(plan, each)
        if one is None:
            continue
        key = (one.coats, one.number, round(one.ready_ml))
        there = alike.get(key)
        titles = one.titles if there is None else (*there.titles, *one.titles)
        alike[key] = replace(one, titles=titles)
    return tuple(alike.values())


def _in_pots(
    plan: Plan, material: Material, steps: tuple[Timed, ...], whole_ml: float
) -> Pots:
    coats = sum(each.step.coats for each in steps)
    cup_ml = ML_PER_L * plan.request.cup_l
    spraying = replace(spraying_of(plan, steps[0]), coats=coats)
    room_ml = USUAL_FILL * cup_ml if cup_ml else None
    number = number_of_pots(whole_ml, spraying, room_ml)
    titles = tuple(each.step.title for each in steps)
    return Pots(material, coats, number, whole_ml / number, titles)


def material_of(plan: Plan, timed: Timed) -> Material | None:
    """What a step takes, as the sheet says it.

    Parameters
    ----------
    plan : Plan
        The plan.
    timed : Timed
        One of its steps.

    Returns
    -------
    Material or None
        None where nothing is mixed for it.
    """
    step = timed.step
    named = (step.product, step.mix)
    found = (each for each in plan.materials if (each.product.key, each.use) == named)
    return next(found, None)


def step_ml(plan: Plan, timed: Timed, material: Material, coats: int) -> float:
    """Ready-to-spray paint for some coats of a step, as the sheet reckons it.

    Parameters
    ----------
    plan : Plan
        The plan.
    timed : Timed
        The step.
    material : Material
        What all coats of its mix take.
    coats : int
        How many are meant.

    Returns
    -------
    float
        With what stays in cup and gun. [ml]
    """
    step = timed.step
    whole = sum(
        each.step.coats * each.step.share
        for each in plan.timeline
        if (each.step.product, each.step.mix) == (step.product, step.mix)
    )
    share = coats * step.share / whole
    lost_l = plan.request.cup_loss_l
    if coats == step.coats and not material.product.two_pack:
        # Its gun goes on with the next step; by itself, a coat has the loss alone.
        lost_l *= share
    return ML_PER_L * (material.sprayed_l * share + lost_l)


def spraying_of(plan: Plan, timed: Timed) -> Spraying:
    """How long the coats of a step take, in the weather of its day.

    Parameters
    ----------
    plan : Plan
        The plan.
    timed : Timed
        A step that is sprayed.

    Returns
    -------
    Spraying
    """
    step = timed.step
    product = next(each for each in plan.sheet.products if each.key == step.product)
    # Mixing a large pot takes no longer; what is left of the step's time is spraying.
    share = 1.0 - MIXING_MIN / spray_min(step.coats)
    factor = plan.climate.factor_at(timed.start)
    return _spraying(
        product, step.coats, step.work_min * share / step.coats, step.flash_min, factor
    )


def with_spraying(
    asked: BenchAsk, product: Product, sheet: ProductSheet, air_c: float
) -> BenchAsk:
    """What is wanted at the bench, with how long it takes to spray.

    Parameters
    ----------
    asked : BenchAsk
        What is wanted; nothing changes but for whole coats on an area.
    product : Product
        What is mixed.
    sheet : ProductSheet
        With the temperature that its times hold at.
    air_c : float
        Of the shop. [degrees C]

    Returns
    -------
    BenchAsk
    """
    if (
        asked.coats is None
        or asked.area_m2 is None
        or asked.coats != round(asked.coats)
    ):
        return asked
    coats = round(asked.coats)
    if coats < 1 or not product.components:
        return asked
    coat_min = (spray_min(coats) - MIXING_MIN) / coats * longer_by_area(asked.area_m2)
    factor = drying_factor(sheet, air_c)
    flash_min = product.windows.flash_min
    return replace(
        asked, spraying=_spraying(product, coats, coat_min, flash_min, factor)
    )


def _spraying(
    product: Product, coats: int, coat_min: float, flash_min: float, factor: float
) -> Spraying:
    life_min = product.pot_life_min
    # Warmth shortens a pot life as it does drying; cold is not trusted to lengthen it.
    return Spraying(
        coats,
        coat_min,
        flash_min * factor,
        MIXING_MIN,
        None if life_min is None else life_min * min(factor, 1.0),
    )
