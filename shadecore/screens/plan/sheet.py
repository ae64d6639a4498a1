"""The sheet: what can be printed and taken along first, then the sheet itself."""

from collections.abc import Callable
from datetime import UTC, datetime
from typing import Final, NamedTuple

import streamlit as st

from shadecore.book.job_times import write_job_times
from shadecore.formats.echo import brief
from shadecore.formats.file_names import file_stem
from shadecore.job.calendar import calendar_uid
from shadecore.job.job_file import write_job
from shadecore.job.plan import Plan
from shadecore.job.weather import MARGIN_NOTE
from shadecore.pages.blocks import Document, Section, Text
from shadecore.pages.calendar import to_icalendar
from shadecore.pages.cautions_sheet import cautions_sheet
from shadecore.pages.html_layout import block_html, document_html
from shadecore.pages.pdf_layout import document_pdf
from shadecore.pages.sheet_schedule import days_of, schedule_section
from shadecore.screens import say, shop
from shadecore.screens.plan import job, pictures
from shadecore.screens.plan.ask_estimate import show_estimate
from shadecore.telling.eve_words import eves
from shadecore.telling.job_words import voc_words
from shadecore.telling.weather_words import plan_stops

_STYLE: Final = """
<style>
.st-key-sheet_folded .sc-table td b {font-weight: 700;}
.st-key-sheet_folded .sc-table .begins {border-top-width: 2px;}
@media (max-width: 640px) {
  .st-key-sheet_folded .sc-cards td[data-label="Step"] {font-weight: 400;}
  .st-key-sheet_folded .sc-cards td[data-label="Coats"] {display: none;}
}
</style>
"""
_PDF, _HTML = "application/pdf", "text/html"


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
    cautions = cautions_sheet(plan)
    with st.container(horizontal=True, gap="small", key="sheet_prints"):
        for place, each in enumerate(_files(plan, sheet, cautions)):
            st.download_button(
                each.label,
                each.content,
                each.name,
                each.kind,
                on_click="ignore",
                type="primary" if place == 0 else "secondary",
            )
    show_estimate(plan)
    st.markdown(f"**{say.plain(sheet.title)}**")
    st.html(pictures.chosen_html(plan) + pictures.coats_html(plan, sheet) + _STYLE)
    with st.container(key="sheet_folded", gap="small"):
        _show_days(plan)
        for section in sheet.core.sections:
            if section.title != schedule_section(plan).title:
                with st.expander(say.plain(section.title)):
                    _show_blocks(section)
        with st.expander("Cautions sheet"):
            for section in cautions.sections:
                st.subheader(say.plain(section.title), anchor=False)
                _show_blocks(section)
    _show_limits(plan)


def _show_days(plan: Plan) -> None:
    """The steps, a day to a part; that of the next step is open."""
    opened = False
    for title, table, done in days_of(plan):
        is_next = not done and not opened
        opened = opened or is_next
        with st.expander(title, expanded=is_next):
            st.html(block_html(table))


def _show_blocks(section: Section) -> None:
    for block in section.blocks:
        if isinstance(block, Text):
            label = f"**{say.plain(block.label)}** " if block.label else ""
            st.markdown(f"{label}{say.plain(block.text)}")
        else:
            st.html(block_html(block))


def _files(plan: Plan, sheet: Document, cautions: Document) -> tuple[_File, ...]:
    """What is offered; laid out when it is asked for, so that the page comes sooner."""
    request = plan.request
    stem = file_stem(request.name, "job")
    found = [
        *_prints("Sheet", plan, sheet),
        *_prints("Cautions", plan, cautions),
        _File(
            "Calendar",
            lambda: _calendar(plan),
            f"{stem}.ics",
            "text/calendar",
        ),
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


def _prints(label: str, plan: Plan, document: Document) -> tuple[_File, _File]:
    """A document under the shop's name, on its paper and for a browser."""
    letterhead = shop.letterhead()
    headed = letterhead.on(document)
    paper = letterhead.paper_for(plan.request.question.units)
    name, stem = label.lower(), file_stem(plan.request.name, "job")
    return (
        _File(
            f"{label} (PDF)",
            lambda: document_pdf(headed, paper),
            f"{stem}-{name}.pdf",
            _PDF,
        ),
        _File(
            f"{label} (HTML)",
            lambda: document_html(headed).encode(),
            f"{stem}-{name}.html",
            _HTML,
        ),
    )


def _calendar(plan: Plan) -> bytes:
    return to_icalendar(
        plan.timeline,
        calendar_uid(plan.request),
        datetime.now(UTC),
        plan_stops(plan),
        plan.barred,
        eves(plan),
    ).encode()


def _show_limits(plan: Plan) -> None:
    """Say what the weather and the VOC were held against, and how well it is known."""
    with st.expander("The limits in full"):
        say.words(MARGIN_NOTE)
        for material in plan.materials:
            for answer in material.voc:
                say.words(f"{brief(material.product.name)}: {voc_words(answer)}")
