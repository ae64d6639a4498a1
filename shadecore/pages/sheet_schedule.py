"""The steps of a job in their time, each with all it needs, for the booth sheet."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import timedelta
from typing import Final

from shadecore.formats.echo import brief
from shadecore.job.kinds import BOOTH
from shadecore.job.plan import Plan
from shadecore.job.safety import StepSafety, step_safety
from shadecore.job.schedule import Timed
from shadecore.job.usual_steps import is_clean, is_cure
from shadecore.pages.blocks import Cell, Section, Table, Text
from shadecore.products.product import Gun
from shadecore.telling.counts import coats_words, number_words
from shadecore.telling.cup_words import cup_in_brief
from shadecore.telling.gun_words import gun_in_brief
from shadecore.telling.job_words import clock_words, cure_words, grit_words
from shadecore.telling.numbers import capital
from shadecore.telling.safety_words import (
    minded_words,
    steps_words,
    worn_words,
)
from shadecore.telling.weather_words import NOT_TO_BE_SPRAYED
from shadecore.telling.window_words import broken_words
from shadecore.units import UNITS

HEADINGS: Final = ("", "Step", "When", "Done", "Coats")
_BY_HAND: Final = frozenset({3, 4})
CHECKED_STEPS: Final = 32
"""Of a job with more steps the checks stand on the cautions sheet: with them it would
not fit on two pages."""
_NO_TIME, _MINUTE, _SHORT_WAIT = timedelta(), timedelta(minutes=1), timedelta(hours=1)
_LONGEST_TITLE: Final = 110
"""Letters of a step's title, which may name several panels."""
Row = tuple[Cell | str, ...]


def schedule_section(plan: Plan) -> Section:
    """The steps by day, with boxes to tick.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Section
    """
    rows = tuple(_rows(plan))
    table = Table(HEADINGS, rows, by_hand=_BY_HAND, begins=frozenset(_first(plan)))
    broken = (broken_words(each) for each in plan.timeline if each.broken)
    title = "Schedule"
    if plan.barred:
        title = f"{title}: {NOT_TO_BE_SPRAYED} by it; plan again in other weather"
    notes = (Text(each) for each in (*plan.scratches, *broken))
    return Section(title, (table, *notes))


def days_of(plan: Plan) -> Iterator[tuple[str, Table, bool]]:
    """The schedule day by day, for a screen that shows one at a time.

    Parameters
    ----------
    plan : Plan
        The plan.

    Yields
    ------
    tuple of (str, Table, bool)
        The day with its number of steps, its rows, and whether all of it is done.
    """
    rows, starts = list(_rows(plan)), _first(plan)
    for start, end in zip(starts, (*starts[1:], len(rows)), strict=True):
        steps = plan.timeline[start:end]
        noun = "step" if len(steps) == 1 else "steps"
        yield (
            f"{_day(steps[0])}: {len(steps)} {noun}",
            Table(HEADINGS, tuple(rows[start:end]), by_hand=_BY_HAND),
            all(each.done for each in steps),
        )


def checked(plan: Plan) -> bool:
    """Whether what to check stands beside each step of the schedule.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    bool
        False for a job of many steps, whose checks stand on the cautions sheet.
    """
    return len(plan.timeline) <= CHECKED_STEPS


def checks_section(plan: Plan) -> tuple[Section, ...]:
    """What to check before going on, step by step, where the schedule does not say it.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of Section
        One or none.
    """
    if checked(plan):
        return ()
    steps: dict[str, list[int]] = {}
    for number, each in enumerate(plan.timeline, start=1):
        steps.setdefault(each.step.check, []).append(number)
    told = (
        Text(check, f"{capital(steps_words(where))}:") for check, where in steps.items()
    )
    return (Section("Check before going on", tuple(told)),)


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
    )


@dataclass(frozen=True)
class _Told:
    """What was said at an earlier step, and at which one."""

    checks: dict[str, int] = field(default_factory=dict)
    guns: dict[tuple[str | None, Gun], int] = field(default_factory=dict)


def _rows(plan: Plan) -> Iterator[Row]:
    told, first = _Told(), _first(plan)
    for place, each in enumerate(plan.timeline):
        day = _day(each) if place in first else ""
        yield _row(plan, place + 1, each, day, told)


def _first(plan: Plan) -> list[int]:
    """Which steps are the first ones of a day."""
    days = [each.start.date() for each in plan.timeline]
    return [n for n, day in enumerate(days) if not n or day != days[n - 1]]


def _day(timed: Timed) -> str:
    return f"{timed.start:%a %d %b}"


def _row(plan: Plan, number: int, timed: Timed, day: str, told: _Told) -> Row:
    step, barred = timed.step, timed.step.key in plan.barred
    forbidden = f"{NOT_TO_BE_SPRAYED}: " if barred else ""
    title = f"{number}. {forbidden}{brief(step.title, _LONGEST_TITLE)}"
    if step.coats:
        title += f", {coats_words(step.coats)}{_flash(plan, timed)}"
    safety = safety_of(plan, timed)
    minded = "" if is_clean(step.key) else minded_words(safety)
    pieces = [Text(_how(plan, timed, number, told)), Text(minded, worn_words(safety))]
    if checked(plan):
        pieces.append(Text(_check(step.check, number, told)))
    if _NO_TIME < timed.next_from - timed.end <= _SHORT_WAIT:
        pieces.append(
            Text(f"Then wait {(timed.next_from - timed.end) // _MINUTE} min.")
        )
    return (
        Cell("STOP") if barred else Cell(ticked=timed.done),
        Cell(f"{title}.", told=tuple(each for each in pieces if each != Text(""))),
        _when(timed, day),
        clock_words(timed.end, timed.start) if timed.done else "",
        _of_coats(timed),
    )


def _of_coats(timed: Timed) -> str:
    """What the coats that were sprayed are written before."""
    return f"of {number_words(coats, coats)}" if (coats := timed.step.coats) else ""


def _flash(plan: Plan, timed: Timed) -> str:
    if not timed.step.flash_min:
        return ""
    flash_min = timed.step.flash_min * plan.climate.factor_at(timed.start)
    return f", flash {flash_min:.0f} min"


def _how(plan: Plan, timed: Timed, number: int, told: _Told) -> str:
    """Grits, gun and cup of a step, or how it cures."""
    units, step = UNITS[plan.request.question.units], timed.step
    if is_cure(step.key):
        return cure_words(plan, units)
    said = [grit_words(step.grits)] if step.grits else []
    if step.gun is not None:
        before = told.guns.setdefault((step.product, step.gun), number)
        if before == number:
            said += [gun_in_brief(step.gun, units), *_cup(plan, step.product)]
        else:
            said.append(f"Gun as in step {before}")
    return f"{'; '.join(said)}." if said else ""


def _cup(plan: Plan, key: str | None) -> list[str]:
    """How the product of a step runs out of the sheet's cup."""
    found = (each for each in plan.sheet.products if each.key == key)
    return [cup_in_brief(each.viscosity) for each in found if each.viscosity]


def _when(timed: Timed, day: str) -> Cell:
    """From when to when, and between what the next step may begin.

    A wait of an hour at most is told in minutes beside the step: it holds as well for
    whoever is ahead of the schedule or behind it.
    """
    start, end = timed.start, timed.end
    later = []
    if timed.next_from - end > _SHORT_WAIT:
        later.append(f"next from {clock_words(timed.next_from, start)}")
    if timed.next_until is not None:
        noun = "by" if later else "next by"
        later.append(f"{noun} {clock_words(timed.next_until, start)}")
    span = f"{start:%H:%M}\N{EN DASH}{clock_words(end, start)}"
    return Cell(f"{day} {span}".strip(), note=", ".join(later))


def _check(check: str, number: int, told: _Told) -> str:
    before = told.checks.setdefault(check, number)
    again = f"Check as in step {before}."
    return check if before == number or len(check) <= len(again) else again


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
