"""What is wrong with a day, said the working day before and not at the gun."""

from datetime import date
from typing import Final

from shadecore.job.eve import eve_of
from shadecore.job.plan import Plan
from shadecore.telling.day_words import day_words
from shadecore.telling.window_words import broken_words
from shadecore.units import UNITS

TOMORROW: Final = "To settle today"
"""Heads what is wrong with the next working day."""


def eves(plan: Plan) -> tuple[tuple[date, date, tuple[str, ...]], ...]:
    """Days with trouble, each with the day on which that is said.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of (date, date, tuple of str)
        The working day before, the day, and a sentence or more to what its weather
        bars or changes and to each window that is missed on it; in order.
    """
    units = UNITS[plan.request.question.units]
    breaks = plan.request.breaks
    found: dict[date, list[str]] = {}
    for answer in plan.days:
        said = day_words(answer, units, eve_of(answer.weather.day, breaks))
        if said:
            found.setdefault(answer.weather.day, []).append(said)
    for timed in plan.timeline:
        if timed.broken and not timed.done:
            late = f"{timed.start:%a %d %b %H:%M}: {broken_words(timed)}"
            found.setdefault(timed.start.date(), []).append(late)
    return tuple((eve_of(day, breaks), day, tuple(found[day])) for day in sorted(found))


def eve_words(plan: Plan, today: date) -> tuple[str, ...]:
    """What is to be settled today for the next working day.

    Parameters
    ----------
    plan : Plan
        The plan.
    today : date
        In the shop's own time.

    Returns
    -------
    tuple of str
        Sentences; empty where that day is fine.
    """
    return tuple(
        sentence
        for eve, day, told in eves(plan)
        if eve <= today < day
        for sentence in told
    )
