"""The sheet: what can be printed and taken along first, then the sheet itself."""

from collections.abc import Callable
from datetime import UTC, datetime
from typing import NamedTuple

import streamlit as st

from shadecore.book.job_times import write_job_times
from shadecore.formats.echo import brief
from shadecore.formats.file_names import file_stem
from shadecore.job.calendar import calendar_uid
from shadecore.job.job_file import write_job
from shadecore.job.plan import Plan
from shadecore.job.weather import MARGIN_NOTE
from shadecore.pages.blocks import Document, Text
from shadecore.pages.calendar import to_icalendar
from shadecore.pages.html_layout import block_html, document_html
from shadecore.pages.pdf_layout import document_pdf
from shadecore.screens import say
from shadecore.screens.plan import job, pictures
from shadecore.screens.plan.ask_estimate import show_estimate
from shadecore.telling.job_words import voc_words
from shadecore.telling.weather_words import plan_stops


class _File(NamedTuple):
    label: str
    content: Callable[[], bytes]
    name: str
    kind: str


def show_sheet(plan: Plan, sheet: Document) -> None:
    """Show the view.

    Parameters
    ----------
    plan : Plan
        The plan.
    sheet : Document
        Its sheet.
    """
    with st.container(horizontal=True, gap="small", key="sheet_prints"):
        for place, each in enumerate(_files(plan, sheet)):
            st.download_button(
                each.label,
                each.content,
                each.name,
                each.kind,
                on_click="ignore",
                type="primary" if place == 0 else "secondary",
            )
    show_estimate(plan)
    st.html(pictures.chosen_html(plan) + pictures.coats_html(plan, sheet))
    for section in sheet.core.sections:
        st.subheader(section.title, anchor=False)
        for block in section.blocks:
            if isinstance(block, Text):
                say.words(block.text)
            else:
                st.html(block_html(block))
    _show_limits(plan)


def _files(plan: Plan, sheet: Document) -> tuple[_File, ...]:
    """What is offered; laid out when it is asked for, so that the page comes sooner."""
    request = plan.request
    stem = file_stem(request.name, "job")
    found = [
        _File(
            "Sheet (PDF)",
            lambda: document_pdf(sheet, request.question.units),
            f"{stem}-sheet.pdf",
            "application/pdf",
        ),
        _File(
            "Sheet (HTML)",
            lambda: document_html(sheet).encode(),
            f"{stem}-sheet.html",
            "text/html",
        ),
        _File("Calendar", lambda: _calendar(plan), f"{stem}.ics", "text/calendar"),
        _File(
            "Job file",
            lambda: write_job(request).encode(),
            f"{stem}.toml",
            "application/toml",
        ),
    ]
    if request.done:
        kept = job.synced()
        about = ("", "") if kept is None else (kept.thing.code, kept.thing.car)
        found.append(
            _File(
                "Times (CSV)",
                lambda: write_job_times(request, request.name, *about).encode(),
                f"{stem}-times.csv",
                "text/csv",
            )
        )
    return tuple(found)


def _calendar(plan: Plan) -> bytes:
    return to_icalendar(
        plan.timeline,
        calendar_uid(plan.request),
        datetime.now(UTC),
        plan_stops(plan),
        plan.barred,
    ).encode()


def _show_limits(plan: Plan) -> None:
    """Say what the weather and the VOC were held against, and how well it is known."""
    with st.expander("The limits in full"):
        say.words(MARGIN_NOTE)
        for material in plan.materials:
            for answer in material.voc:
                say.words(f"{brief(material.product.name)}: {voc_words(answer)}")
