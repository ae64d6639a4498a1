"""The form that asks what the planner needs."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Final
from uuid import uuid4

import streamlit as st

from shadecore.errors import ShadecoreError
from shadecore.formats.table import decode
from shadecore.job.calendar import uid_after
from shadecore.job.climate import CURES
from shadecore.job.hours import shifted
from shadecore.job.job_file import parse_job
from shadecore.job.request import (
    MIDCOATS,
    MOST_PANELS,
    RANGES,
    JobRequest,
)
from shadecore.products.materials import panels
from shadecore.products.ranges import Range
from shadecore.screens import say
from shadecore.screens.plan.hours import ask_hours
from shadecore.screens.plan.job import LENGTH, keep
from shadecore.units import UNITS, Quantity

EDITION: Final = "job_edition"
"""Counts the job files that were opened, so that the form starts anew with each."""
_UNIT_NAMES: Final = {"metric": "Metric", "us": "US"}
_PERCENT: Final = Quantity("%", 100.0)


def ask_file() -> None:
    """Take a job file in the place of the session's job."""
    upload = st.file_uploader("Open a job file", type=["toml"], key="job_file")
    if upload is None or st.session_state.get("job_seen") == upload.file_id:
        return
    st.session_state["job_seen"] = upload.file_id
    try:
        job = parse_job(decode(upload.getvalue(), upload.name), upload.name)
    except ShadecoreError as error:
        say.error(error)
        return
    keep(job)
    st.session_state[EDITION] = st.session_state.get(EDITION, 0) + 1


def ask_job(job: JobRequest) -> JobRequest:
    """Ask for what the planner needs; the rest of the job stays as it is.

    Parameters
    ----------
    job : JobRequest
        As it stands.

    Returns
    -------
    JobRequest
    """
    edition = st.session_state.get(EDITION, 0)

    def key(name: str) -> str:
        return f"plan_{name}_{edition}"

    left, middle, right = st.columns(3)
    with left:
        name = st.text_input("Job", job.name, key=key("name")) or "Job"
        start = _ask_start(job.start, key)
        cure = st.radio(
            "Clear coat cures by",
            CURES,
            CURES.index(job.cure),
            horizontal=True,
            key=key("cure"),
        )
        units = st.radio(
            "Units",
            tuple(UNITS),
            tuple(UNITS).index(job.question.units),
            format_func=_UNIT_NAMES.__getitem__,
            horizontal=True,
            key=key("units"),
        )
    shop = UNITS[units]
    with middle:
        chosen = _ask_panels(job.panels, key)
        area = _ask_number(
            "Other area", shop.area, job.area_m2, RANGES["area_m2"], key("area")
        )
        bare = st.toggle("Bare metal", job.bare_metal, key=key("bare"))
        filler = st.toggle("Filler", job.filler, key=key("filler"))
        flattest = st.toggle("Sanded level and polished", job.flattest, key=key("flat"))
    with right:
        show = shop.temperature
        air = _ask_number("Air", show, job.air_c, RANGES["air_c"], key("air"))
        panel = _ask_number("Panel", show, job.panel_c, RANGES["panel_c"], key("panel"))
        humidity = _ask_number(
            "Humidity", _PERCENT, job.humidity, RANGES["humidity"], key("humidity")
        )
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
    moved = start.date() - job.start.date()
    job = replace(
        job,
        uid=uid_after(
            job, name, start, st.session_state.get(LENGTH, timedelta()), str(uuid4())
        ),
        start=start,
        breaks=tuple(shifted(each, moved) for each in job.breaks),
    )
    with st.expander("Shop hours and losses"):
        breaks = ask_hours(job, key)
        loss = _ask_number(
            "Left in cup and gun at each product",
            shop.volume,
            job.cup_loss_l,
            RANGES["cup_loss_l"],
            key("loss"),
        )
    return replace(
        job,
        name=name,
        breaks=breaks,
        cup_loss_l=loss,
        cure=cure,
        question=replace(job.question, units=units),
        panels=chosen,
        area_m2=area,
        bare_metal=bare,
        filler=filler,
        flattest=flattest,
        air_c=air,
        panel_c=panel,
        humidity=humidity,
        midcoats=midcoats,
    )


def _ask_start(start: datetime, key: Callable[[str], str]) -> datetime:
    day = st.date_input("Starts on", start.date(), key=key("day"))
    clock = st.time_input("at", start.time(), key=key("clock"))
    asked = datetime.combine(day, clock)
    # The field has no seconds; a file may.
    same = asked.replace(second=0) == start.replace(second=0, microsecond=0)
    return start if same else asked


def _ask_panels(
    panels_of_job: tuple[tuple[str, int], ...], key: Callable[[str], str]
) -> tuple[tuple[str, int], ...]:
    """Ask which panels and how many of each."""
    counts = dict(panels_of_job)
    names = dict.fromkeys(counts, "") | {each.key: each.name for each in panels()}
    chosen = st.multiselect(
        "Panels",
        names,
        list(counts),
        format_func=lambda panel: names[panel] or panel,
        key=key("panels"),
    )
    return tuple(
        (
            panel,
            st.number_input(
                f"{names[panel] or panel}: how many",
                0,
                MOST_PANELS,
                counts.get(panel, 1),
                key=key(f"count_{panel}"),
            ),
        )
        for panel in chosen
    )


def _ask_number(
    label: str, unit: Quantity, metric: float, ends: Range, key: str
) -> float:
    """Ask for a quantity in the shop's units; what is not touched stays as it was."""
    low, high = (unit.number(end) for end in (ends.low, ends.high))
    shown = round(unit.number(metric), 1)
    value = st.number_input(
        f"{label} ({unit.unit})",
        low,
        high,
        shown,
        step=1.0,
        format="%.1f",
        key=f"{key}_{unit.unit}",
    )
    if value == shown:
        return metric
    return min(max(unit.metric(value), ends.low), ends.high)
