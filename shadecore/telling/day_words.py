"""Weather by day in words: what to change, and what not to spray, the day before."""

from shadecore.formats.echo import brief
from shadecore.job.days import DayAnswer, DayGrade
from shadecore.job.plan import Plan
from shadecore.telling.weather_words import (
    NOT_TO_BE_SPRAYED,
    advice_words,
    stops_words,
)
from shadecore.units import UNITS, Units


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
        to be minded.
    """
    units = UNITS[plan.request.question.units]
    told = (day_words(each, units) for each in plan.days)
    return tuple(each for each in told if each)


def day_words(each: DayAnswer, units: Units) -> str:
    """What the weather of one day changes, as it is said the day before.

    Parameters
    ----------
    each : DayAnswer
        The day.
    units : Units
        What temperatures are shown in.

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
        f"{each.weather.day:%a %d %b} at {air}, to settle by {each.warn_on:%a %d %b}: "
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
