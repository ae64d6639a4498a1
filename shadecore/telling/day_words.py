"""Weather by day in words: what to change, and what not to spray, the day before."""

from dataclasses import replace
from datetime import date
from typing import Final

from shadecore.formats.echo import brief
from shadecore.job.days import DayAnswer, DayGrade
from shadecore.job.eve import eve_of
from shadecore.job.plan import Plan
from shadecore.telling.numbers import listed
from shadecore.telling.weather_words import (
    NOT_TO_BE_SPRAYED,
    advice_words,
    stops_words,
)
from shadecore.units import UNITS, Units

_MOST_NAMED: Final = 4
"""Days that are named; more are counted."""


def day_notes(plan: Plan) -> tuple[str, ...]:
    """What the weather of the days to come changes.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of str
        A sentence or more to each day on which something is sprayed and something is
        to be minded; what bars it stands first, as
        :func:`shadecore.telling.weather_words.plan_stops` says it.
    """
    units = UNITS[plan.request.question.units]
    told = [
        day_words(
            replace(each, answer=replace(each.answer, stops=())),
            units,
            eve_of(each.weather.day, plan.request.breaks),
        )
        for each in plan.days
    ]
    return tuple(each for each in (*told, _untold_words(plan, units)) if each)


def _untold_words(plan: Plan, units: Units) -> str:
    """Days on which something is sprayed and of which a forecast says nothing."""
    known = {each.weather.day for each in plan.days}
    untold = sorted(
        {
            each.start.date()
            for each in plan.timeline
            if each.step.coats and not each.done and each.start.date() not in known
        }
    )
    if not known or not untold:
        return ""
    air = units.temperature.show(plan.request.air_c)
    days = listed([f"{day:%a %d %b %Y}" for day in untold[:_MOST_NAMED]])
    more = len(untold) - _MOST_NAMED
    rest = f" and {more} more days" if more > 0 else ""
    return (
        f"No weather is told for {days}{rest}, when something is sprayed: planned at "
        f"the job's own {air}. Add it before anybody relies on these times."
    )


def day_words(each: DayAnswer, units: Units, eve: date) -> str:
    """What the weather of one day changes, as it is said the day before.

    Parameters
    ----------
    each : DayAnswer
        The day.
    units : Units
        What temperatures are shown in.
    eve : date
        By when it is to be settled.

    Returns
    -------
    str
        Empty where nothing is sprayed on it or nothing changes.
    """
    if not each.steps:
        return ""
    said = [grade_words(grade) for grade in each.changed if grade.name]
    said += advice_words(each.answer.advice, units)
    if each.barred:
        stops = " ".join(stops_words(each.answer.stops, units))
        said.insert(0, f"{NOT_TO_BE_SPRAYED}: {stops}")
    if not said:
        return ""
    air = units.temperature.show(each.weather.air_c)
    return (
        f"{each.weather.day:%a %d %b} at {air}, to settle by {eve:%a %d %b}: "
        f"{' '.join(said)}"
    )


def grade_words(grade: DayGrade) -> str:
    """The grade that a product takes on a day, as a sentence.

    Parameters
    ----------
    grade : DayGrade
        With a name.

    Returns
    -------
    str
    """
    instead = f" instead of {brief(grade.usual)}" if grade.usual else ""
    return (
        f"{brief(grade.product.name)} takes {brief(grade.name)}{instead}; the ratio "
        "stays the same."
    )
