"""The part of the form that asks for weather, place and cure."""

from dataclasses import replace
from datetime import date, timedelta
from typing import Final

import streamlit as st

from shadecore.errors import ShadecoreError
from shadecore.formats.table import decode
from shadecore.job.climate import CURES
from shadecore.job.days import DayWeather, parse_days, write_days
from shadecore.job.kinds import BOOTH, PLACES
from shadecore.job.request import CLEARANCE_MIN, RANGES, UNMEASURED, JobRequest
from shadecore.screens import say
from shadecore.screens.plan.fields import PERCENT, Key, ask_number
from shadecore.screens.plan.job import act
from shadecore.units import UNITS

PLACE_NAMES: Final = {"booth": "Booth", "open_shop": "Open shop"}
CURE_NAMES: Final = {"bake": "Bake", "air": "Air", "lamp": "Lamp"}
_DAY: Final = timedelta(days=1)
_LAST_DAY: Final = "plan_days_file"


def ask_weather(job: JobRequest, key: Key) -> JobRequest:
    """Ask for them.

    Parameters
    ----------
    job : JobRequest
        As it stands.
    key : callable
        Key of a widget by its name.

    Returns
    -------
    JobRequest
    """
    show = UNITS[job.question.units].temperature
    left, middle, right = st.columns(3)
    with left:
        air = ask_number("Air", show, job.air_c, RANGES["air_c"], key("air"))
        place = st.segmented_control(
            "Sprayed in",
            PLACES,
            format_func=_place_name,
            default=job.place,
            required=True,
            key=key("place"),
        )
    with middle:
        panel = ask_number("Panel", show, job.panel_c, RANGES["panel_c"], key("panel"))
        cure = st.segmented_control(
            "Clear coat cures by",
            CURES,
            format_func=_cure_name,
            default=job.cure,
            required=True,
            key=key("cure"),
        )
    with right:
        humidity = ask_number(
            "Humidity", PERCENT, job.humidity, RANGES["humidity"], key("humidity")
        )
        clearance = job.booth_clearance_min
        if place == BOOTH:
            asked = st.number_input(
                "Booth clears in (min)",
                CLEARANCE_MIN.low,
                CLEARANCE_MIN.high,
                clearance or None,
                1.0,
                key=key("clearance"),
                help="As measured with smoke; empty where nobody has measured it. So "
                "long supplied air stays on after two-pack paint.",
            )
            clearance = UNMEASURED if asked is None else asked
    job = replace(
        job,
        air_c=air,
        panel_c=panel,
        humidity=humidity,
        place=str(place),
        cure=str(cure),
        booth_clearance_min=clearance,
    )
    return _ask_days(job, key)


def _ask_days(job: JobRequest, key: Key) -> JobRequest:
    """Weather day by day: rows typed, or a forecast from a file."""
    days = job.details.days
    by_day = st.toggle("Another weather on each day", bool(days), key=key("by_day"))
    if not by_day:
        return _with_days(job, ())
    upload = st.file_uploader(
        "Forecast (CSV: date, air_c, humidity_percent; panel_c and night_c if known)",
        type=["csv", "txt"],
        key=key("forecast"),
    )
    if upload is not None and st.session_state.get(_LAST_DAY) != upload.file_id:
        st.session_state[_LAST_DAY] = upload.file_id
        try:
            days = parse_days(decode(upload.getvalue(), upload.name), upload.name)
        except ShadecoreError as error:
            say.error(error)
    days = days or (_next_day(job),)
    found = [_ask_day(each, job, key, place) for place, each in enumerate(days)]
    with st.container(horizontal=True, gap="small"):
        st.button("One day more", key=key("day_more"), on_click=act, args=(_with_next,))
        if len(found) > 1:
            st.button(
                "Drop the last day", key=key("day_less"), on_click=act, args=(_less,)
            )
        st.download_button(
            "Weather (CSV)",
            write_days(days).encode(),
            "weather.csv",
            "text/csv",
            on_click="ignore",
            key=key("day_file"),
        )
    return _with_days(job, tuple(found))


def _ask_day(each: DayWeather, job: JobRequest, key: Key, place: int) -> DayWeather:
    show = UNITS[job.question.units].temperature
    row = st.columns([1.2, 1, 1, 1, 1])
    with row[0]:
        day = st.date_input(
            "Day", each.day, key=key(f"day_{place}"), format="YYYY-MM-DD"
        )
    names = (("Air", "air_c"), ("Panel", "panel_c"))
    told = {}
    for column, (label, name) in zip(row[1:3], names, strict=True):
        with column:
            told[name] = ask_number(
                label,
                show,
                getattr(each, name),
                RANGES[name],
                key(f"day_{name}_{place}"),
            )
    with row[3]:
        humidity = ask_number(
            "Humidity",
            PERCENT,
            each.humidity_percent / 100.0,
            RANGES["humidity"],
            key(f"day_humidity_{place}"),
        )
    with row[4]:
        night = st.number_input(
            f"Night ({show.unit}; empty: as by day)",
            value=None if each.night_c is None else round(show.number(each.night_c), 1),
            key=key(f"day_night_{place}"),
        )
    try:
        return DayWeather(
            day,
            **told,
            humidity_percent=100.0 * humidity,
            night_c=None if night is None else show.metric(night),
        )
    except ShadecoreError as error:
        say.error(error)
        return each


def _next_day(job: JobRequest) -> DayWeather:
    days = job.details.days
    day: date = days[-1].day + _DAY if days else job.start.date()
    return DayWeather(day, job.air_c, job.panel_c, 100.0 * job.humidity)


def _with_next(job: JobRequest) -> JobRequest:
    return _with_days(job, (*job.details.days, _next_day(job)))


def _less(job: JobRequest) -> JobRequest:
    return _with_days(job, job.details.days[:-1])


def _with_days(job: JobRequest, days: tuple[DayWeather, ...]) -> JobRequest:
    ordered = tuple(sorted(days, key=lambda each: each.day))
    try:
        return replace(job, details=replace(job.details, days=ordered))
    except ShadecoreError as error:
        say.error(error)
        return job


def _place_name(place: str) -> str:
    return PLACE_NAMES.get(place, place)


def _cure_name(cure: str) -> str:
    return CURE_NAMES.get(cure, cure)
