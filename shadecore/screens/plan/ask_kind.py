"""The part of the form that asks what only some kinds of job need."""

from dataclasses import replace
from typing import Any

import streamlit as st

from shadecore.errors import ShadecoreError
from shadecore.job.kinds import SPOT_REPAIR, TWO_TONE
from shadecore.job.request import RANGES, JobRequest
from shadecore.question.question import Question
from shadecore.screens import say
from shadecore.screens.plan.fields import PERCENT, Key, ask_number
from shadecore.units import UNITS


def ask_kind(job: JobRequest, key: Key) -> JobRequest:
    """Ask for a spot's size and reach, or for the second colour.

    Parameters
    ----------
    job : JobRequest
        As it stands.
    key : callable
        Key of a widget by its name.

    Returns
    -------
    JobRequest
        The same where its kind needs nothing more.
    """
    if job.kind == SPOT_REPAIR:
        return _ask_spot(job, key)
    return _ask_second(job, key) if job.kind == TWO_TONE else job


def _ask_spot(job: JobRequest, key: Key) -> JobRequest:
    show = UNITS[job.question.units].distance
    names = {
        "spot_cm": "Spot across",
        "sealer_reach_cm": "Sealer reaches past it",
        "fade_step_cm": "Each coat of colour past the last",
    }
    told: dict[str, Any] = {}
    for column, (name, label) in zip(st.columns(3), names.items(), strict=True):
        with column:
            told[name] = ask_number(
                label, show, getattr(job, name), RANGES[name], key(name)
            )
    return replace(job, **told)


def _ask_second(job: JobRequest, key: Key) -> JobRequest:
    left, right = st.columns([2, 1])
    before = "" if job.second is None else job.second.colour
    with left:
        colour = st.text_input(
            "Second colour",
            before,
            key=key("second"),
            placeholder="62 4 9, or another notation that the colour box takes",
        ).strip()
    with right:
        share = ask_number(
            "Share of the area",
            PERCENT,
            job.second_share,
            RANGES["second_share"],
            key("second_share"),
        )
    job = replace(job, second_share=share)
    if colour == before:
        return job
    if not colour:
        return replace(job, second=None)
    asked = job.question
    try:
        second = Question(
            colour=colour,
            shelf=asked.shelf,
            condition=asked.condition,
            tolerance=asked.tolerance,
            film=asked.film,
            loading=asked.loading,
            units=asked.units,
        )
    except ShadecoreError as error:
        say.error(error)
        return job
    return replace(job, second=second)
