"""The steps of a job in their time, with what is worn at each, for the booth sheet."""

from shadecore.formats.echo import brief
from shadecore.job.kinds import BOOTH
from shadecore.job.plan import Plan
from shadecore.job.request import UNMEASURED
from shadecore.job.safety import StepSafety, step_safety
from shadecore.job.schedule import Timed
from shadecore.job.usual_steps import is_clean
from shadecore.pages.blocks import Cell, Section, Table, Text
from shadecore.telling.counts import coats_words
from shadecore.telling.job_words import grit_words, span_words, when_words
from shadecore.telling.safety_words import mind_words, worn_words
from shadecore.telling.weather_words import NOT_TO_BE_SPRAYED
from shadecore.telling.window_words import broken_words


def schedule_section(plan: Plan) -> Section:
    """The steps with boxes to tick.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Section
    """
    table = Table(
        (
            *("", "Step", "When", "Next step", "Done, coats"),
            *("Wear and mind", "Check first"),
        ),
        tuple(
            _row(number, each, before, safety_of(plan, each), plan.barred)
            for number, (each, before) in enumerate(
                zip(plan.timeline, (None, *plan.timeline[:-1]), strict=True), start=1
            )
        ),
        by_hand=frozenset({4}),
    )
    broken = (broken_words(each) for each in plan.timeline if each.broken)
    title = "Schedule"
    if plan.barred:
        title = f"{title}: {NOT_TO_BE_SPRAYED} by it; plan again in other weather"
    notes = (Text(each) for each in (*plan.scratches, *broken))
    return Section(title, (table, *notes))


def safety_of(plan: Plan, timed: Timed) -> StepSafety:
    """What a step of a plan asks for, its product's sheet looked at.

    Parameters
    ----------
    plan : Plan
        The plan.
    timed : Timed
        One of its steps.

    Returns
    -------
    StepSafety
    """
    products = (each for each in plan.sheet.products if each.key == timed.step.product)
    return step_safety(
        timed.step,
        next(products, None),
        timed.air_until,
        in_booth=plan.request.place == BOOTH,
        measured=plan.request.booth_clearance_min != UNMEASURED,
    )


def _row(
    number: int,
    timed: Timed,
    before: Timed | None,
    safety: StepSafety,
    all_barred: frozenset[str],
) -> tuple[Cell | str, ...]:
    barred = timed.step.key in all_barred
    grits = grit_words(timed.step.grits)
    title = brief(timed.step.title) + (f" ({grits})" if grits else "")
    if timed.step.coats > 1:
        title += f", {coats_words(timed.step.coats)}"
    start = timed.start
    until = timed.next_until
    next_from = when_words(timed.next_from, start)
    return (
        Cell("STOP") if barred else Cell(ticked=timed.done),
        f"{number}. {NOT_TO_BE_SPRAYED}: {title}" if barred else f"{number}. {title}",
        span_words(start, timed.end, None if before is None else before.start),
        next_from
        if until is None
        else f"{next_from} until {when_words(until, timed.next_from)}",
        when_words(timed.end, start) if timed.done else "",
        worn_words(safety) if is_clean(timed.step.key) else mind_words(safety),
        timed.step.check,
    )


def purpose_section(plan: Plan) -> Section:
    """What each step is for; left out of a print that has no room for it.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Section
    """
    by_purpose = {each.step.purpose: each.step for each in plan.timeline}
    reasons = (
        f"{brief(step.title)}: {purpose}" for purpose, step in by_purpose.items()
    )
    return Section(
        "What each step is for", (Text(" ".join(reasons)),), small=True, spare=True
    )
