"""What is mixed at the bench for a job: one coat more of one of its products."""

from shadecore.errors import JobError
from shadecore.formats.echo import shown
from shadecore.job.material import film_of
from shadecore.job.plan import Plan
from shadecore.job.pots import with_spraying
from shadecore.products.bench import BenchAsk, BenchMix, bench_mix


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
