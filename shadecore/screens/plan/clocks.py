"""Which times run at the bench: the flash, the start, the window, the pot life."""

from datetime import datetime, timedelta
from typing import Final

from shadecore.errors import JobError
from shadecore.job.coat_timer import CoatTimer, coat_timer
from shadecore.job.plan import Plan, timeline_from
from shadecore.job.pots import material_of, pots_of
from shadecore.job.schedule import Timed
from shadecore.job.usual_steps import is_cure
from shadecore.products.mixing import usable_until
from shadecore.screens.plan.timer import Clock
from shadecore.telling import at_bench_words as words
from shadecore.telling.counts import coats_words
from shadecore.telling.job_words import when_words
from shadecore.telling.window_words import broken_words

_MINUTE: Final = timedelta(minutes=1)


def coming_step(plan: Plan) -> Timed | None:
    """The first step that is not done.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Timed or None
        None where all are.
    """
    return next((each for each in plan.timeline if not each.done), None)


def timer_of(plan: Plan, coming: Timed) -> CoatTimer:
    """Where the coats of the coming step stand.

    Parameters
    ----------
    plan : Plan
        The plan.
    coming : Timed
        Its first step that is not done.

    Returns
    -------
    CoatTimer
    """
    return coat_timer(coming.step, plan.climate, plan.request.sprayed)


def clocks_of(plan: Plan, now: datetime) -> tuple[Clock, ...]:
    """The times that run now.

    Parameters
    ----------
    plan : Plan
        The plan.
    now : datetime
        In the shop's own time.

    Returns
    -------
    tuple of Clock
        The most urgent one first; none where every step is done.
    """
    coming = coming_step(plan)
    if coming is None:
        return ()
    if plan.request.sprayed:
        first = _coats_clock(timer_of(plan, coming), coming.step.flash_min)
    elif is_cure(coming.step.key) and now >= coming.start:
        first = _cure_clock(coming)
    else:
        first = _start_clock(plan, coming, now)
    return (first, *_window_clock(plan, coming, now), *_pot_clock(plan, coming))


def pot_life_end(plan: Plan, timed: Timed) -> datetime | None:
    """Until when the mix of a step can be sprayed.

    Parameters
    ----------
    plan : Plan
        The plan.
    timed : Timed
        The step.

    Returns
    -------
    datetime or None
        None where it is not mixed yet, its last pot is used up, or its sheet gives no
        pot life.
    """
    mixed = dict(plan.request.mixed).get(timed.step.key)
    material = material_of(plan, timed)
    if mixed is None or material is None:
        return None
    pots = pots_of(plan, timed)
    if pots is not None and pots.used_up(mixed, plan.request.sprayed):
        return None
    return usable_until(material.product, mixed, plan.climate.factor_at(mixed))


def _coats_clock(timer: CoatTimer, sheet_min: float) -> Clock:
    sprayed = words.sprayed_words(timer.sprayed, timer.coats)
    if timer.next_at is None:
        return Clock(None, coats_words(timer.sprayed), title=sprayed)
    following = timer.sprayed + 1
    return Clock(
        timer.next_at,
        words.TIME,
        words.coat_words(following),
        title=sprayed,
        note=words.until_coat_words(following, timer.flash, sheet_min),
        since=words.SINCE_DULL,
        alarm=True,
    )


def _cure_clock(coming: Timed) -> Clock:
    """The end of a cure, as far as it was begun when it could be."""
    begun = when_words(coming.start, coming.end)
    return Clock(
        coming.end,
        words.TIME,
        words.CURED,
        title=coming.step.title,
        note=words.until_cured_words(begun),
        since=words.SINCE_CURED,
        alarm=True,
    )


def _start_clock(plan: Plan, coming: Timed, now: datetime) -> Clock:
    """Until the coming step may start: only paint that dries has to be waited for."""
    before = _before(plan, coming)
    ready = None if before is None else before.next_from
    if now < coming.start and (ready is None or ready <= now):
        planned = words.planned_words(coming.start)
        return Clock(None, words.READY, title=planned, note=words.AS_YOU_LIKE)
    waits = ready is not None and (now < coming.start or ready == coming.start)
    until = ready if ready is not None and waits else coming.start
    return Clock(
        until,
        words.TIME,
        "Now",
        title="Drying" if waits else "Planned",
        note=words.UNTIL_START,
        since=words.SINCE,
        alarm=waits,
    )


def _window_clock(plan: Plan, coming: Timed, now: datetime) -> tuple[Clock, ...]:
    """The end of the time within which the coming step must start."""
    before = _before(plan, coming)
    if before is None or before.next_until is None or plan.request.sprayed:
        return ()
    until = before.next_until
    late = _late_words(plan, max(now, until + _MINUTE))
    return (Clock(until, words.WINDOW_CLOSES, words.window_closed_words(late)),)


def _late_words(plan: Plan, now: datetime) -> str:
    try:
        late = timeline_from(plan, now)
    except JobError as error:
        return str(error)
    return next((broken_words(each) for each in late if not each.done), "")


def _pot_clock(plan: Plan, coming: Timed) -> tuple[Clock, ...]:
    until = pot_life_end(plan, coming)
    if until is None:
        return ()
    return (Clock(until, words.POT_LIFE_RUNS, words.POT_LIFE_ENDED, alarm=True),)


def _before(plan: Plan, one: Timed) -> Timed | None:
    place = plan.timeline.index(one)
    return plan.timeline[place - 1] if place else None
