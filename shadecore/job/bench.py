"""What is mixed at the bench for a job: a step's pots, one coat more of a product."""

from shadecore.errors import JobError
from shadecore.formats.echo import shown
from shadecore.job.material import film_of
from shadecore.job.plan import Plan
from shadecore.job.pots import material_of, spraying_of, step_ml, with_spraying
from shadecore.job.schedule import Timed
from shadecore.products.bench import BenchAsk, BenchMix, bench_mix
from shadecore.units import ML_PER_L


def step_ask(plan: Plan, timed: Timed, cup_ml: float | None = None) -> BenchAsk:
    """What is wanted for all coats of a step, as the sheet has it.

    Parameters
    ----------
    plan : Plan
        The plan.
    timed : Timed
        One of its steps that is mixed for.
    cup_ml : float, optional
        Cup in hand; the job's unless given. [ml]

    Returns
    -------
    BenchAsk

    Raises
    ------
    JobError
        If nothing is mixed for the step.
    """
    material = material_of(plan, timed)
    if material is None or not timed.step.coats:
        message = f"Nothing is mixed for the step {shown(timed.step.title)}."
        raise JobError(message)
    own_ml = ML_PER_L * plan.request.cup_l or None
    return BenchAsk(
        volume_ml=step_ml(plan, timed, material, timed.step.coats),
        cup_ml=own_ml if cup_ml is None else cup_ml,
        spraying=spraying_of(plan, timed),
    )


def step_mixes(
    plan: Plan, product: str, cup_ml: float | None = None
) -> tuple[tuple[Timed, BenchMix], ...]:
    """What to mix of a product for each step that sprays it.

    Parameters
    ----------
    plan : Plan
        The plan.
    product : str
        Key of one of its products.
    cup_ml : float, optional
        Cup in hand; the job's unless given. [ml]

    Returns
    -------
    tuple of (Timed, BenchMix)
        In pots that are sprayed within their pot life and go into the cup.

    Raises
    ------
    JobError
        If the job does not mix the product, or a number is out of range.
    """
    found = []
    for each in plan.timeline:
        material = material_of(plan, each)
        if each.step.product == product and each.step.coats and material is not None:
            asked = step_ask(plan, each, cup_ml)
            found.append((each, bench_mix(material.product, asked)))
    if not found:
        message = f"The job does not mix {shown(product)}; take one of its products."
        raise JobError(message)
    return tuple(found)


def one_coat_more(
    plan: Plan, product: str, coats: float = 1.0, cup_ml: float | None = None
) -> BenchMix:
    """What to mix for a coat more than was planned.

    Parameters
    ----------
    plan : Plan
        The plan.
    product : str
        Key of one of its products.
    coats : float
        How many more, within ``COATS``.
    cup_ml : float, optional
        Cup in hand, which is filled several times where it is too small. [ml]

    Returns
    -------
    BenchMix
        In the job's own mix, for its area and its film.

    Raises
    ------
    JobError
        If the job does not mix the product, or a number is out of range.
    """
    material = next((m for m in plan.materials if m.product.key == product), None)
    if material is None:
        message = f"The job does not mix {shown(product)}; take one of its products."
        raise JobError(message)
    picked = plan.answer.settings.film
    film = film_of(material.product, plan.sheet, picked)
    asked = BenchAsk(
        coats=coats,
        area_m2=plan.area_m2,
        cup_ml=cup_ml,
        dry_film_um=film.dry_film_um,
        volume_solids=film.volume_solids,
        transfer_efficiency=film.transfer_efficiency,
        cup_loss_l=plan.request.cup_loss_l,
    )
    timed = with_spraying(asked, material.product, plan.sheet, plan.request.air_c)
    return bench_mix(material.product, timed)
