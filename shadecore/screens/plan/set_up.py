"""Set up: what the planner needs, in parts that say what is set and run when open."""

from dataclasses import replace
from datetime import datetime, timedelta
from typing import Final
from uuid import uuid4

import streamlit as st

from shadecore.errors import ShadecoreError
from shadecore.formats.table import decode
from shadecore.job.calendar import uid_after
from shadecore.job.hours import shifted
from shadecore.job.job_file import parse_job
from shadecore.job.kinds import KINDS, PANELS
from shadecore.job.plan import Plan
from shadecore.job.request import MIDCOATS, RANGES, JobRequest
from shadecore.job.step_sets import step_sets
from shadecore.screens import say
from shadecore.screens.plan import job as kept_job
from shadecore.screens.plan import pictures
from shadecore.screens.plan.ask_car import ask_car, car_words
from shadecore.screens.plan.ask_kind import ask_kind
from shadecore.screens.plan.ask_panels import ask_panels
from shadecore.screens.plan.ask_sealer import ask_sealer
from shadecore.screens.plan.ask_steps import ask_steps
from shadecore.screens.plan.ask_weather import ask_weather
from shadecore.screens.plan.book_job import begun_name
from shadecore.screens.plan.fields import Key, ask_number, part
from shadecore.screens.plan.hours import ask_hours
from shadecore.screens.plan.planning import plan_if_any
from shadecore.screens.plan.products import ask_products, products_words
from shadecore.telling.day_words import day_notes
from shadecore.telling.numbers import UNIT_NAMES
from shadecore.telling.plan_notes import plan_notes
from shadecore.telling.set_up_words import (
    air_words,
    chosen_words,
    job_span_words,
    shop_hours_words,
    step_count_words,
)
from shadecore.units import UNITS

_SEEN: Final = "job_seen"


def ask_set_up(job: JobRequest) -> JobRequest:
    """Ask for a job.

    Parameters
    ----------
    job : JobRequest
        As it stands.

    Returns
    -------
    JobRequest
        What is not asked stays as it is.
    """
    edition = kept_job.edition()

    def key(name: str) -> str:
        return f"plan_{name}_{edition}"

    job = _ask_first(job, key)
    job = ask_kind(job, key)
    job = ask_panels(job, key)
    job = _ask_condition(job, key)
    job = _ask_work(job, key)
    with part("Products and cup", "products", products_words()) as is_open:
        if is_open:
            job = _ask_products(job, key)
    with part("Car and customer", "car", car_words()) as is_open:
        if is_open:
            ask_car(key)
    units = UNIT_NAMES[job.question.units]
    with part("Job file and units", "file", units) as is_open:
        return _ask_file(job, key) if is_open else job


def _ask_products(job: JobRequest, key: Key) -> JobRequest:
    ask_products()
    volume = UNITS[job.question.units].volume
    left = ask_number(
        "Left in cup and gun when it is emptied",
        volume,
        job.cup_loss_l,
        RANGES["cup_loss_l"],
        key("loss"),
    )
    cup = ask_number(
        "Cup that is mixed in (0: as large as it takes)",
        volume,
        job.cup_l,
        RANGES["cup_l"],
        key("cup"),
    )
    return replace(job, cup_loss_l=left, cup_l=cup)


def _ask_work(job: JobRequest, key: Key) -> JobRequest:
    """Weather, sealer, steps and hours."""
    plan = _planned(job)
    air = air_words(job, UNITS[job.question.units])
    with part("Weather, place and cure", "weather", air) as is_open:
        if is_open:
            job = ask_weather(job, key)
    with part("Sealer and coats", "sealer", _sealer_words(job, plan)) as is_open:
        if is_open:
            job = ask_sealer(job, key)
    with part(
        "Steps", "steps", "" if plan is None else step_count_words(plan)
    ) as is_open:
        if is_open:
            job = ask_steps(job, _planned(job), key)
    with part("Shop hours", "hours", shop_hours_words(job)) as is_open:
        if is_open:
            job = replace(job, breaks=ask_hours(job, key))
    return job


def show_planned(plan: Plan) -> None:
    """Show in brief what comes of it.

    Parameters
    ----------
    plan : Plan
        The plan.
    """
    st.html(f'<div class="sc-planned">{pictures.chosen_html(plan)}</div>')
    say.words(job_span_words(plan))
    for title, told in plan_notes(plan):
        st.markdown(f"**{say.plain(title)}.** {say.plain(' '.join(told))}")
    for note in day_notes(plan):
        say.words(note)


def _planned(job: JobRequest) -> Plan | None:
    return plan_if_any(job, kept_job.products())


def _sealer_words(job: JobRequest, plan: Plan | None) -> str:
    if plan is None:
        return ""
    choice = plan.picked.choice
    return "" if choice is None else chosen_words(job, choice.undercoat.name)


def _ask_first(job: JobRequest, key: Key) -> JobRequest:
    """Name, kind and start."""
    row = st.columns([2, 1.6, 1.2, 1])
    with row[0]:
        name = st.text_input("Job", job.name, key=key("name"))
        name = name or begun_name(job.question)
    with row[1]:
        kind = st.selectbox(
            "Kind",
            KINDS,
            KINDS.index(job.kind),
            format_func=_kind_name,
            key=key("kind"),
        )
    with row[2]:
        day = st.date_input(
            "Starts on", job.start.date(), key=key("day"), format="YYYY-MM-DD"
        )
    with row[3]:
        clock = st.time_input("at", job.start.time(), key=key("clock"))
    start = datetime.combine(day, clock)
    # The field has no seconds; a file may.
    if start.replace(second=0) == job.start.replace(second=0, microsecond=0):
        start = job.start
    moved = start.date() - job.start.date()
    length = st.session_state.get(kept_job.LENGTH, timedelta())
    return replace(
        job,
        uid=uid_after(job, name, start, length, str(uuid4())),
        name=name,
        kind=kind,
        start=start,
        breaks=tuple(shifted(each, moved) for each in job.breaks),
    )


def _kind_name(kind: str) -> str:
    return "Panels" if kind == PANELS else step_sets()[kind].name


def _ask_condition(job: JobRequest, key: Key) -> JobRequest:
    with st.container(horizontal=True, gap="medium", vertical_alignment="center"):
        bare = st.toggle("Bare metal", job.bare_metal, key=key("bare"))
        filler = st.toggle("Filler", job.filler, key=key("filler"))
        flattest = st.toggle("Sanded level and polished", job.flattest, key=key("flat"))
    midcoats = job.midcoats
    if job.question.over_a_ground:
        midcoats = st.number_input(
            "Mid-coats or candy coats",
            int(MIDCOATS.low),
            int(MIDCOATS.high),
            job.midcoats,
            key=key("midcoats"),
            help="As many as match the car on a let-down panel; 3 is common "
            "practice, no source.",
        )
    return replace(
        job, bare_metal=bare, filler=filler, flattest=flattest, midcoats=midcoats
    )


def _ask_file(job: JobRequest, key: Key) -> JobRequest:
    upload = st.file_uploader("Open a job file", type=["toml"], key="job_file")
    if upload is not None and st.session_state.get(_SEEN) != upload.file_id:
        st.session_state[_SEEN] = upload.file_id
        try:
            opened = parse_job(decode(upload.getvalue(), upload.name), upload.name)
        except ShadecoreError as error:
            say.error(error)
        else:
            kept_job.put(opened)
            st.rerun()
    st.radio(
        "Units",
        tuple(UNITS),
        tuple(UNITS).index(job.question.units),
        format_func=UNIT_NAMES.__getitem__,
        horizontal=True,
        key=key("units"),
        on_change=_turn_units,
        args=(key("units"),),
    )
    return job


def _turn_units(name: str) -> None:
    """Take other units before the form is drawn, so that all of it asks in them."""
    units = str(st.session_state[name])
    kept_job.act(lambda job: replace(job, question=replace(job.question, units=units)))
