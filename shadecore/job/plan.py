"""Everything about a job together, for the screen and the printed sheet."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from shadecore.coats.answer import Answer
from shadecore.errors import JobError
from shadecore.film.build import CoatFilm
from shadecore.job.cautions import cautions_for
from shadecore.job.days import DayAnswer, answer_days, spells_of
from shadecore.job.effect_steps import MID, effect_changes, kept_together
from shadecore.job.own_steps import changed_steps
from shadecore.job.request import JobRequest
from shadecore.job.schedule import Timed, schedule
from shadecore.job.shop_hours import hours_of
from shadecore.job.steps import Step, job_steps, scratches
from shadecore.job.substrates import needs_primer, substrate_changes, substrates_of
from shadecore.job.weather import (
    Weather,
    WeatherAnswer,
    check_weather,
    pick_grade,
)
from shadecore.products.materials import (
    Portion,
    area_of,
    mix_parts,
    mixed_solids,
    ready_volume_l,
)
from shadecore.products.product import HAZARDS, Product, ProductSheet, SpeedGrade
from shadecore.products.voc import US_NATIONAL, VocAnswer, check_stages, check_voc
from shadecore.units import UNITS


@dataclass(frozen=True)
class Material:
    """What one product of the job takes.

    Attributes
    ----------
    product : Product
        The product.
    coats : int
        Coats of it.
    ready_l : float
        Ready-to-spray paint, overspray and cup loss included. [L]
    portions : tuple of Portion
        Its components.
    reducer, hardener : str
        Grade for the temperature; empty where it takes none, a dash where none fits.
    voc : tuple of VocAnswer
        Against the published limits.
    use : str
        What it is used for beside the product's usual use, such as mid-coats, which are
        another mix than the ground; empty for none.
    """

    product: Product
    coats: int
    ready_l: float
    portions: tuple[Portion, ...]
    reducer: str
    hardener: str
    voc: tuple[VocAnswer, ...]
    use: str = ""

    @property
    def cost(self) -> float:
        """Money for the cans, in the sheet's currency."""
        return sum(portion.cost for portion in self.portions)


@dataclass(frozen=True)
class Plan:
    """A planned job.

    Attributes
    ----------
    request : JobRequest
        What was asked for.
    sheet : ProductSheet
        What was planned from.
    answer : Answer
        The pick.
    area_m2 : float
        Area to paint. [m2]
    timeline : tuple of Timed
        The steps and their times.
    materials : tuple of Material
        What is mixed.
    weather : WeatherAnswer
        Whether it may be sprayed.
    cautions : tuple of (str, str)
        Hazard and what to do about it.
    stages : VocAnswer or None
        Base and clear coat together against the US national rule, which judges them
        so; None where the sheet does not name that rule for both.
    days : tuple of DayAnswer
        What the weather of each day allows of what is planned for it.
    """

    request: JobRequest
    sheet: ProductSheet
    answer: Answer
    area_m2: float
    timeline: tuple[Timed, ...]
    materials: tuple[Material, ...]
    weather: WeatherAnswer
    cautions: tuple[tuple[str, str], ...]
    stages: VocAnswer | None
    days: tuple[DayAnswer, ...] = ()

    @property
    def barred(self) -> frozenset[str]:
        """Keys of the steps that the weather does not let be sprayed."""
        if not self.weather.stops:
            return frozenset()
        return frozenset(
            each.step.key for each in self.timeline if each.step.coats and not each.done
        )

    @property
    def scratches(self) -> tuple[str, ...]:
        """Where grits jump so far that a scratch will show."""
        return scratches(each.step for each in self.timeline)

    @property
    def cost(self) -> float:
        """Money for all cans, in the sheet's currency."""
        return sum(material.cost for material in self.materials)


def plan_job(request: JobRequest, sheet: ProductSheet, answer: Answer) -> Plan:
    """Plan a job from its pick.

    Parameters
    ----------
    request : JobRequest
        The job.
    sheet : ProductSheet
        The products.
    answer : Answer
        The pick for its colour.

    Returns
    -------
    Plan

    Raises
    ------
    JobError
        If the colour does not hide, or there is nothing to paint.
    """
    coats = answer.recommended.coats
    if coats is None:
        message = (
            f"The colour does not hide within {answer.settings.coat_cap} coats over "
            "any undercoat here; choose a ground coat first, then plan."
        )
        raise JobError(message)
    area = area_of(dict(request.panels)) + request.area_m2
    if area <= 0.0:
        message = "There is nothing to paint; give panels or an area in m2."
        raise JobError(message)
    undercoat = answer.recommended.undercoat.name
    steps = _steps(request, sheet, coats, undercoat)
    timeline = _timeline(steps, sheet, request, _resumes(request))
    weather = Weather(request.air_c, request.panel_c, request.humidity)
    hazards = {hazard for step in steps for hazard in step.cautions}
    return Plan(
        request,
        sheet,
        answer,
        area,
        timeline,
        _materials(steps, sheet, request, answer, area),
        check_weather(weather, _used(steps, sheet), UNITS[request.question.units]),
        cautions_for(tuple(each for each in HAZARDS if each in hazards)),
        _stages(sheet),
        answer_days(timeline, request.details.days, sheet),
    )


def _steps(
    request: JobRequest, sheet: ProductSheet, coats: int, undercoat: str
) -> tuple[Step, ...]:
    """Steps: the usual ones, what substrates and colour ask for, and the shop's."""
    details = request.details
    found = substrates_of(details.substrate_keys)
    usual = job_steps(
        sheet,
        coats,
        undercoat,
        bare_metal=request.bare_metal or needs_primer(found, "etch_primer"),
        filler=request.filler,
        flattest=request.flattest,
    )
    own = details.changes
    effect = effect_changes(request.question, request.midcoats, sheet, own)
    changes = (*substrate_changes(found), *effect, *own, *kept_together(effect, own))
    return changed_steps(usual, changes, sheet)


def _timeline(
    steps: Sequence[Step],
    sheet: ProductSheet,
    request: JobRequest,
    start: datetime,
) -> tuple[Timed, ...]:
    details = request.details
    done = dict(request.done)
    keys = {step.key for step in steps}
    return schedule(
        steps,
        sheet,
        start,
        request.panel_c,
        request.breaks,
        done,
        request.cure,
        spells=spells_of(details.days, sheet, hours_of(request.breaks)),
        # What is dropped or done meanwhile is half done no more.
        begun={
            key: share
            for key, share in details.begun
            if key in keys and key not in done
        },
    )


def _stages(sheet: ProductSheet) -> VocAnswer | None:
    base, clear = sheet.of_kind("base_coat"), sheet.of_kind("clear_coat")
    if all(US_NATIONAL in each.voc_categories for each in (base, clear)):
        return check_stages(base, clear)
    return None


def timeline_from(plan: Plan, now: datetime) -> tuple[Timed, ...]:
    """The timeline if work went on no sooner than now.

    Parameters
    ----------
    plan : Plan
        The plan.
    now : datetime
        In the shop's own time.

    Returns
    -------
    tuple of Timed
        What is done stays; windows that have closed meanwhile are broken in it.

    Raises
    ------
    JobError
        If the job would run beyond the calendar.
    """
    request = plan.request
    return _timeline(
        [each.step for each in plan.timeline],
        plan.sheet,
        request,
        max(now, _resumes(request)),
    )


def _resumes(request: JobRequest) -> datetime:
    """When work goes on: from what was done last, also where that is before the start.

    A job that was begun early is ahead, and its start says nothing any more.
    """
    return max((moment for _, moment in request.done), default=request.start)


def _used(steps: tuple[Step, ...], sheet: ProductSheet) -> ProductSheet:
    """The sheet with nothing but the products of the job."""
    keys = {step.product for step in steps}
    return replace(
        sheet, products=tuple(each for each in sheet.products if each.key in keys)
    )


def _materials(
    steps: tuple[Step, ...],
    sheet: ProductSheet,
    request: JobRequest,
    answer: Answer,
    area_m2: float,
) -> tuple[Material, ...]:
    """What each sprayed product takes, its steps taken together."""
    by_key = {product.key: product for product in sheet.products}
    coats: dict[tuple[str, str], int] = {}
    for step in steps:
        if step.product is not None and by_key[step.product].components:
            what = (step.product, step.title if step.key == MID else "")
            coats[what] = coats.get(what, 0) + step.coats
    film = answer.settings.film
    return tuple(
        replace(_material(by_key[key], count, request, film, area_m2), use=use)
        for (key, use), count in coats.items()
    )


def _material(
    product: Product, coats: int, request: JobRequest, film: CoatFilm, area_m2: float
) -> Material:
    # The base coat's film is what the pick counted with; others keep their sheet's.
    dry_film_um = (
        film.dry_film_um if product.kind == "base_coat" else product.dry_film_um
    )
    ready_l = ready_volume_l(
        area_m2,
        coats,
        dry_film_um,
        mixed_solids(product.components),
        film.transfer_efficiency,
        request.cup_loss_l,
    )
    return Material(
        product,
        coats,
        ready_l,
        mix_parts(product, ready_l),
        _grade(product.reducers, request.air_c),
        _grade(product.hardeners, request.air_c),
        check_voc(product),
    )


def _grade(grades: tuple[SpeedGrade, ...], air_c: float) -> str:
    """Name of the grade for a temperature; a dash where none fits."""
    if not grades:
        return ""
    grade = pick_grade(grades, air_c)
    return "-" if grade is None else grade.name
