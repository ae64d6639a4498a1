"""The plan of the job: from the pick to the printed sheet."""

from collections.abc import Callable
from datetime import UTC, datetime

import streamlit as st

from shadecore.errors import ShadecoreError
from shadecore.formats.echo import brief
from shadecore.job.calendar import calendar_uid, to_icalendar
from shadecore.job.job_file import write_job
from shadecore.job.plan import Plan
from shadecore.job.planned import planned
from shadecore.job.weather import MARGIN_NOTE, NOT_TO_BE_SPRAYED
from shadecore.pages.blocks import Document, Text
from shadecore.pages.booth_sheet import booth_sheet
from shadecore.pages.html_layout import block_html, document_html
from shadecore.pages.pdf_layout import document_pdf
from shadecore.screens import pictures, say, session
from shadecore.screens.plan import bench, form, job
from shadecore.screens.plan import pictures as plan_pictures
from shadecore.screens.plan.products import ask_products
from shadecore.telling.basis import CAUTION
from shadecore.telling.job_words import voc_words


def page() -> None:
    """Run the page from top to bottom."""
    st.html(plan_pictures.STYLE)
    st.title("Plan the job", anchor=False)
    for problem in session.problems():
        say.error(problem)
    # What to do next stands above the form but needs it, so it gets its place first.
    top = st.container()
    form.ask_file()
    products = ask_products()
    request = form.ask_job(job.current())
    job.keep(request)
    with top:
        try:
            plan = planned(request, products)
        except ShadecoreError as error:
            say.error(error)
            if request.done:
                st.button("Take the last step back", on_click=job.take_step_back)
            return
        st.session_state[job.LENGTH] = plan.timeline[-1].end - plan.timeline[0].start
        sheet = booth_sheet(plan)
        _show_stops(plan)
        if request.sprayed:
            # Whoever holds the gun sees the timer without scrolling.
            bench.ask_coats(plan)
        st.html(pictures.hero_html(plan.answer) + plan_pictures.coats_html(plan))
        bench.show_last(plan)
        bench.show_clock(plan)
        bench.ask_done(plan)
    # The step that is coming says above what it is for.
    _show_sheet(sheet.core)
    _show_limits(plan)
    _offer(plan, sheet)
    st.info(CAUTION)


def _show_stops(plan: Plan) -> None:
    """Say first that the weather bars spraying, then which grits leave a scratch."""
    if plan.barred:
        reasons = "\n".join(f"- {stop}" for stop in plan.stops)
        st.error(f"## {NOT_TO_BE_SPRAYED}\n{say.plain(reasons)}")
    if any(each.step.grits and not each.done for each in plan.timeline):
        for scratch in plan.scratches:
            say.warning(scratch)


def _show_sheet(sheet: Document) -> None:
    for section in sheet.sections:
        st.subheader(section.title, anchor=False)
        for block in section.blocks:
            if isinstance(block, Text):
                say.words(block.text)
            else:
                st.html(block_html(block))


def _show_limits(plan: Plan) -> None:
    """Say what the weather and the VOC were held against, and how well it is known."""
    with st.expander("The limits in full"):
        say.words(MARGIN_NOTE)
        for material in plan.materials:
            for answer in material.voc:
                say.words(f"{brief(material.product.name)}: {voc_words(answer)}")


def _calendar(plan: Plan) -> bytes:
    return to_icalendar(
        plan.timeline,
        calendar_uid(plan.request),
        datetime.now(UTC),
        plan.stops,
        plan.barred,
    ).encode()


def _offer(plan: Plan, sheet: Document) -> None:
    """Offer the sheet, the calendar and the job file."""
    request = plan.request
    # Laid out when they are asked for: the page answers sooner without.
    files: tuple[tuple[str, Callable[[], bytes], str, str], ...] = (
        (
            "Sheet (PDF)",
            lambda: document_pdf(sheet, request.question.units),
            "sheet.pdf",
            "application/pdf",
        ),
        (
            "Sheet (HTML)",
            lambda: document_html(sheet).encode(),
            "sheet.html",
            "text/html",
        ),
        ("Calendar", lambda: _calendar(plan), "job.ics", "text/calendar"),
        (
            "Job file",
            lambda: write_job(request).encode(),
            "job.toml",
            "application/toml",
        ),
    )
    for column, (label, content, name, kind) in zip(
        st.columns(len(files)), files, strict=True
    ):
        column.download_button(label, content, name, kind, on_click="ignore")
