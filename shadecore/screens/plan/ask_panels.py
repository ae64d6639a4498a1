"""The part of the form that asks what is painted and what it is made of."""

from dataclasses import replace

import streamlit as st

from shadecore.errors import ShadecoreError
from shadecore.job.request import MOST_PANELS, RANGES, JobRequest
from shadecore.job.sides import PAIRED, SIDES, panel_of, piece_names
from shadecore.job.substrates import substrates, substrates_of
from shadecore.products.materials import panels
from shadecore.screens import say
from shadecore.screens.plan.fields import Key, ask_number, part
from shadecore.telling.set_up_words import panels_words
from shadecore.units import UNITS


def ask_panels(job: JobRequest, key: Key) -> JobRequest:
    """Ask for panels, their number and substrate, and other area.

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
    counts = dict(job.panels)
    names = panel_names(job)
    chosen = st.multiselect(
        "Panels",
        names,
        list(counts),
        format_func=lambda panel: names[panel] or panel,
        key=key("panels"),
    )
    found = tuple((panel, counts.get(panel, 1)) for panel in chosen)
    job = replace(job, panels=found)
    units = UNITS[job.question.units]
    said = panels_words(job, units)
    with part("How many, other area, substrate", "area", said) as is_open:
        if is_open:
            job = _ask_substrates(_ask_counts(job, key), key)
    return job


def panel_names(job: JobRequest) -> dict[str, str]:
    """Names of all panels by their keys; empty for one that only the job knows.

    Parameters
    ----------
    job : JobRequest
        The job.

    Returns
    -------
    dict of str to str
    """
    own = dict.fromkeys((key for key, _ in job.panels), "")
    return own | {each.key: each.name for each in panels()}


def _ask_counts(job: JobRequest, key: Key) -> JobRequest:
    names = panel_names(job)
    row = st.columns(min(len(job.panels) + 1, 4))
    found = []
    for place, (panel, count) in enumerate(job.panels):
        with row[place % len(row)]:
            number = st.number_input(
                f"{names[panel] or panel}: how many",
                0,
                MOST_PANELS,
                count,
                key=key(f"count_{panel}"),
            )
            found.append((panel, number))
    units = UNITS[job.question.units]
    with row[len(job.panels) % len(row)]:
        area = ask_number(
            "Other area", units.area, job.area_m2, RANGES["area_m2"], key("area")
        )
    return replace(job, panels=tuple(found), area_m2=area)


def _pieces_asked(job: JobRequest, key: Key) -> list[str]:
    """Panels to ask about, each side by itself where the two are not alike."""
    known = {each.key for each in panels()}
    there = [(panel, count) for panel, count in job.panels if panel in known]
    told = {panel for panel, _ in job.details.substrates}
    apart = any(panel_of(each) != each for each in told)
    # Of one panel alone only a file says on which side it is.
    if any(panel in PAIRED and count == len(SIDES) for panel, count in there):
        apart = st.toggle("Left and right are not alike", apart, key=key("sides"))
    asked: list[str] = []
    for panel, count in there:
        sides = [f"{side}_{panel}" for side in SIDES if panel in PAIRED]
        if count == 1:
            sides = [each for each in sides if each in told]
        split = apart and sides and count in {1, len(SIDES)}
        asked += sides if split else [panel]
    return asked


def _ask_substrates(job: JobRequest, key: Key) -> JobRequest:
    """Ask what each panel is made of or covered with, and say what that needs."""
    told = dict(job.details.substrates)
    names = piece_names()
    found: dict[str, tuple[str, ...]] = {}
    for panel in _pieces_asked(job, key):
        keys = st.multiselect(
            f"{names[panel]}: what is under the paint",
            list(substrates()),
            list(told.get(panel, told.get(panel_of(panel), ()))),
            format_func=lambda each: substrates()[each].name,
            key=key(f"substrate_{panel}"),
        )
        if keys:
            found[panel] = tuple(keys)
    for each in substrates_of(key for keys in found.values() for key in keys):
        lines = (*each.first, *each.never, *each.ask)
        st.markdown(
            f"**{say.plain(each.name)}**\n"
            + "\n".join(f"- {say.plain(line)}" for line in lines)
        )
    try:
        details = replace(job.details, substrates=tuple(found.items()))
    except ShadecoreError as error:
        say.error(error)
        return job
    return replace(job, details=details)
