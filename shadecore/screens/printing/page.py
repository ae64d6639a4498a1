"""What goes home with the class: a page for a colour, a chart for a palette."""

import base64

import streamlit as st

from shadecore.colour.colour_file import KindsOfColours, parse_colour_file
from shadecore.colour.colour_table import DEMO_COLOURS
from shadecore.datafiles import data_file
from shadecore.errors import ShadecoreError
from shadecore.formats.table import decode, read_text
from shadecore.pages.blocks import Document
from shadecore.pages.handout import handout
from shadecore.pages.html_layout import document_html
from shadecore.pages.pdf_layout import LARGE, document_pdf
from shadecore.pages.wall_chart import wall_chart
from shadecore.question.many_kinds import answer_kinds
from shadecore.question.question import Question
from shadecore.screens import say, session, shop
from shadecore.screens.lesson import colour as lesson_colour
from shadecore.screens.lesson import pictures as lesson_pictures
from shadecore.undercoats.shelf import Shelf
from shadecore.units import UNITS

_PREVIEW_HEIGHT = 560


def page() -> None:
    """Run the page from top to bottom."""
    st.html(lesson_pictures.STYLE)
    st.title("Print it", anchor=False)
    kept = lesson_colour.restore()
    lesson_colour.ask_paper()
    st.subheader("Handout: one colour on one page", anchor=False)
    lesson_colour.ask_colour()
    with st.expander("Film and tolerance"):
        lesson_colour.ask_settings()
    state = lesson_colour.keep(kept.coats)
    question = lesson_colour.lesson_question(state)
    _show_handout(question, lesson_colour.lesson_shelf(state))
    st.subheader("Wall chart: a palette", anchor=False)
    _show_wall_chart(session.question())


def _show_handout(question: Question, shelf: Shelf) -> None:
    try:
        shown, card = lesson_colour.shown_lesson(question, shelf)
    except ShadecoreError as error:
        say.error(error)
        return
    poster = handout(shown, card, UNITS[question.units], question)
    _offer("Handout", "handout", poster, question.units)


def _show_wall_chart(question: Question) -> None:
    upload = st.file_uploader(
        "Colours from a CSV file (code, L, a, b); invented ones unless given",
        type=["csv", "txt"],
        key="palette_file",
        help="For effect colours L15, a15, b15, L45, ... and kind.",
    )
    try:
        if upload is None:
            every = parse_colour_file(read_text(data_file(DEMO_COLOURS)), DEMO_COLOURS)
        else:
            text = decode(upload.getvalue(), upload.name)
            every = parse_colour_file(text, upload.name, question.condition)
    except ShadecoreError as error:
        say.error(error)
        return
    for row in every.colours.bad:
        say.error(f"Left out: {row}")
    poster = _chart(every, question)
    _offer("Wall chart", "wall-chart", poster, question.units, large=True)


def _chart(every: KindsOfColours, question: Question) -> Document:
    with st.spinner("Counting coats …"):
        picks, kinds = answer_kinds(question, every, {})
        return wall_chart(
            every.colours,
            question.shelf,
            picks,
            question.settings,
            UNITS[question.units],
            kinds,
        )


def _offer(
    name: str, file: str, poster: Document, units: str, *, large: bool = False
) -> None:
    """Offer a poster as PDF, large too, and as HTML, and show it."""
    letterhead = shop.letterhead()
    poster, paper = letterhead.on(poster), letterhead.paper_for(units)
    page_text = document_html(poster)
    with st.container(horizontal=True, gap="small"):
        st.download_button(
            f"{name} (PDF)",
            lambda: document_pdf(poster, paper),
            f"{file}.pdf",
            "application/pdf",
            on_click="ignore",
            type="primary",
        )
        if large:
            st.download_button(
                f"{name}, A3 (PDF)",
                lambda: document_pdf(poster, LARGE),
                f"{file}-a3.pdf",
                "application/pdf",
                on_click="ignore",
            )
        st.download_button(
            f"{name} (HTML)",
            page_text.encode(),
            f"{file}.html",
            "text/html",
            on_click="ignore",
        )
    with st.expander(f"Look at it: {name.lower()}"):
        # As a data address the page has an origin of its own and cannot reach the app.
        coded = base64.b64encode(page_text.encode()).decode()
        st.iframe(
            f"data:text/html;base64,{coded}", height=_PREVIEW_HEIGHT, alt=poster.title
        )
