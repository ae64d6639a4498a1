"""Everything about a job together, for the screen and the printed sheet."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from shadecore.coats.answer import Answer
from shadecore.job.cautions import cautions_for
from shadecore.job.choice import as_recommended
from shadecore.job.climate import Climate, climate_of
from shadecore.job.days import DayAnswer, answer_days
from shadecore.job.job_top import job_top
from shadecore.job.material import Material, materials_of
from shadecore.job.picked import NOTHING_PICKED, Picked, picked_for
from shadecore.job.plan_steps import steps_of
from shadecore.job.request import JobRequest
from shadecore.job.schedule import Timed
from shadecore.job.stages import stages_of
from shadecore.job.steps import Step, scratches
from shadecore.job.timeline import spells_for, timeline_of
from shadecore.job.to_paint import area_to_paint
from shadecore.job.two_tone import first_closes
from shadecore.job.weather import Stop, Weather, WeatherAnswer, check_weather
from shadecore.products.product import HAZARDS, ProductSheet
from shadecore.products.voc import VocAnswer


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
    picked : Picked
        Undercoats and coats that are taken, how a spot repair fades out, the second
        colour, whether the sealer may be left out.
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
    picked: Picked = NOTHING_PICKED

    @property
    def barred(self) -> frozenset[str]:
        """Keys of the steps that the weather does not let be sprayed.

        The weather of a day decides on what is sprayed on it; where none is told, that
        of the job as a whole.
        """
        told = {each.weather.day for each in self.days}
        by_day = {key for each in self.days if each.barred for key in each.steps}
        return frozenset(
            each.step.key
            for each in self.timeline
            if each.step.coats
            and not each.done
            and (
                each.step.key in by_day
                or (bool(self.weather.stops) and each.start.date() not in told)
            )
        )

    @property
    def stops(self) -> tuple[Stop, ...]:
        """Why steps may not be sprayed, by the weather of the job or of a day."""
        if not self.barred:
            return ()
        on_days = (
            stop for each in self.days if each.barred for stop in each.answer.stops
        )
        return tuple(dict.fromkeys((*self.job_stops, *on_days)))

    @property
    def job_stops(self) -> tuple[Stop, ...]:
        """Why steps may not be sprayed on days whose weather nobody told."""
        told = {each.weather.day for each in self.days}
        untold = any(
            each.step.coats and not each.done and each.start.date() not in told
            for each in self.timeline
        )
        return self.weather.stops if untold else ()

    @property
    def named_sheet(self) -> ProductSheet:
        """What was planned from, its sealer called as the shop's own can is."""
        return self.picked.named(self.sheet, self.request.question.shelf)

    @property
    def climate(self) -> Climate:
        """How films dry in the job."""
        request = self.request
        spells = spells_for(request, self.sheet)
        return climate_of(self.sheet, request.panel_c, request.cure, spells)

    @property
    def first_colour(self) -> tuple[datetime | None, bool]:
        """Until when the first of two colours takes clear, and whether that is late."""
        return first_closes(self.timeline, self.sheet, self.climate)

    @property
    def coats_held(self) -> int | None:
        """Coats of colour that its cans are enough for; None where none is planned."""
        choice = self.picked.choice
        for each in self.materials:
            colour = each.product.kind == "base_coat" and not each.use
            if choice is not None and colour and each.coats == choice.coats:
                return each.coats_held
        return None

    @property
    def own_choice(self) -> tuple[float | None, float | None]:
        """What the painter's own sealer or coats take beyond the recommended.

        Ready-to-spray colour, and what all whole cans cost; None where the colour does
        not hide over the recommended undercoat. [L, currency]
        """
        choice = self.picked.choice
        colour = next(
            (each for each in self.materials if each.product.kind == "base_coat"), None
        )
        if choice is None or colour is None:
            return None, None
        more = choice.coats_more
        if more is None:
            return None, None
        sprayed_l = colour.sprayed_l
        usual = as_recommended(self.request)
        # The two may be boxed in other cans, so volume alone does not tell the cost.
        cost = plan_job(usual, self.sheet, self.answer).cost
        return more * sprayed_l / colour.coats, self.cost - cost

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
    area = area_to_paint(request)
    picked = picked_for(request, sheet, answer, job_top(request, sheet, area))
    steps = steps_of(request, sheet, picked, area)
    named = picked.named(sheet, request.question.shelf)
    timeline = timeline_of(steps, named, request, _resumes(request))
    weather = Weather(request.air_c, request.panel_c, request.humidity)
    hazards = {hazard for step in steps for hazard in step.cautions}
    days = answer_days(timeline, request.details.days, named, request.air_c)
    return Plan(
        request,
        sheet,
        answer,
        area,
        timeline,
        materials_of(
            steps,
            sheet,
            request,
            answer.settings.film,
            area,
            picked.sealers,
            _air_c(days),
        ),
        check_weather(weather, _used(steps, named)),
        cautions_for(tuple(each for each in HAZARDS if each in hazards)),
        stages_of(steps, sheet),
        days,
        picked,
    )


def _air_c(days: Sequence[DayAnswer]) -> dict[str, tuple[float, ...]]:
    """Temperatures of the air at which steps are sprayed, where days are told."""
    found: dict[str, tuple[float, ...]] = {}
    for each in days:
        for key in each.steps:
            found[key] = (*found.get(key, ()), each.weather.air_c)
    return found


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
    return timeline_of(
        [each.step for each in plan.timeline],
        plan.named_sheet,
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
