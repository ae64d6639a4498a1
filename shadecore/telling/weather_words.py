"""Whether the weather lets paint be sprayed, in words."""

import math
from collections.abc import Iterable
from typing import Final

from shadecore.formats.echo import brief
from shadecore.job.plan import Plan
from shadecore.job.weather import (
    MARGIN_K,
    Advice,
    NearDewPoint,
    NoGrade,
    OutsideSheet,
    PanelApart,
    Stop,
    TooHumid,
)
from shadecore.telling.numbers import listed
from shadecore.units import UNITS, Units, percent

NOT_TO_BE_SPRAYED: Final = "DO NOT SPRAY"
"""How a plan is marked that the weather stops."""


def weather_words(plan: Plan, units: Units) -> str:
    """Air, panel and dew point, as a sentence.

    Parameters
    ----------
    plan : Plan
        The plan.
    units : Units
        What temperatures are shown in.

    Returns
    -------
    str
    """
    weather, request = plan.weather, plan.request
    side = "below" if weather.margin_k >= 0.0 else "above"
    return (
        f"Air {units.temperature.show(request.air_c)}, panel "
        f"{units.temperature.show(request.panel_c)}, humidity "
        f"{percent(request.humidity)}: dew point "
        f"{units.temperature.show(weather.dew_point_c)}, "
        f"{units.margin.show(abs(weather.margin_k))} {side} the panel."
    )


def plan_stops(plan: Plan) -> tuple[str, ...]:
    """Why a plan may not be sprayed as it stands.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of str
        A sentence to each reason, and one to each day that its own weather bars, with
        what is not to be sprayed on it; empty where nothing speaks against it.
    """
    units = UNITS[plan.request.question.units]
    titles = {each.step.key: brief(each.step.title) for each in plan.timeline}
    on_days = (
        f"On {each.weather.day:%a %d %b} ({listed([titles[k] for k in each.steps])}): "
        f"{' '.join(stops_words(each.answer.stops, units))}"
        for each in plan.days
        if each.barred
    )
    return (*stops_words(plan.job_stops, units), *on_days)


def stops_words(stops: Iterable[Stop], units: Units) -> tuple[str, ...]:
    """Why not to spray.

    Parameters
    ----------
    stops : iterable of Stop
        As found.
    units : Units
        What temperatures are shown in.

    Returns
    -------
    tuple of str
        A sentence to each.
    """
    return tuple(_stop(each, units) for each in stops)


def advice_words(advice: Iterable[Advice], units: Units) -> tuple[str, ...]:
    """What to mind when spraying.

    Parameters
    ----------
    advice : iterable of Advice
        As found.
    units : Units
        What temperatures are shown in.

    Returns
    -------
    tuple of str
        A sentence to each.
    """
    return tuple(_minded(each, units) for each in advice)


def _stop(stop: Stop, units: Units) -> str:
    match stop:
        case NearDewPoint():
            return _wet(stop, units)
        case OutsideSheet(what, value_c, coldest_c, warmest_c):
            show = units.temperature
            change = "warm" if value_c < coldest_c else "cool"
            return (
                f"The {what} is at {_tenth(value_c, units)} and the sheet allows "
                f"{show.number(coldest_c):.3g} to {show.number(warmest_c):.3g} "
                f"{show.unit}; {change} it first."
            )
        case TooHumid(humidity, most):
            return (
                f"The air holds {percent(humidity)} relative humidity and the sheet "
                f"allows {percent(most)}; dry or warm the air first."
            )
        case NoGrade(air_c, lacking):
            named = [f"no {part} of {brief(name)}" for part, name in lacking]
            return (
                f"For {units.temperature.show(air_c)} the sheet has {listed(named)}; "
                "wait for other weather or ask the maker."
            )


def _wet(near: NearDewPoint, units: Units) -> str:
    # Rounded down, so that it never reads as the margin it misses.
    scale = 10.0**units.margin.decimals
    short = math.floor(scale * units.margin.number(near.margin_k)) / scale
    far = units.margin.show(units.margin.metric(short))
    side = f"only {far} above" if short > 0.0 else "not above"
    return (
        f"The panel is {side} the dew point of {_tenth(near.dew_point_c, units)}, so "
        "water may settle on it; warm the panel or dry the air until it is "
        f"{_least(units)} above."
    )


def _minded(advice: Advice, units: Units) -> str:
    match advice:
        case NearDewPoint(margin_k):
            return (
                f"The panel is {units.margin.show(margin_k)} above the dew point, "
                f"close to the least of {_least(units)}; measure again before each "
                "coat."
            )
        case PanelApart(apart_k):
            apart = units.margin.number(apart_k)
            return (
                f"Panel and air are {apart:.0f} {units.margin.unit} apart; let the "
                "panel settle, or go by the panel for drying times."
            )


def _tenth(temperature_c: float, units: Units) -> str:
    show = units.temperature
    return f"{show.number(temperature_c):.1f} {show.unit}"


def _least(units: Units) -> str:
    return f"{units.margin.number(MARGIN_K):.2g} {units.margin.unit}"
