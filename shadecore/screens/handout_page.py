"""What goes home with the class: a page for a colour, a chart for a palette."""

import base64

import streamlit as st

from shadecore.coats.pick_many import pick_many
from shadecore.coats.settings import Settings
from shadecore.colour.colour_table import (
    DEMO_COLOURS,
    ColourList,
    parse_colours,
)
from shadecore.datafiles import data_file
from shadecore.errors import ShadecoreError
from shadecore.formats.table import decode, read_text
from shadecore.lesson.lesson_link import LessonState
from shadecore.pages.blocks import Document
from shadecore.pages.handout import handout
from shadecore.pages.html_layout import document_html
from shadecore.pages.pdf_layout import document_pdf
from shadecore.pages.wall_chart import wall_chart
from shadecore.screens import lesson_colour, lesson_pictures, say
from shadecore.screens.pick_page import KEPT
from shadecore.undercoats.shelf import Shelf
from shadecore.undercoats.shelf_table import demo_shelf, parse_shelf
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
    state = lesson_colour.state_now(kept.coats)
    lesson_colour.keep(state)
    _show_handout(state)
    st.subheader("Wall chart: a palette", anchor=False)
    _show_wall_chart(state)


def _show_handout(state: LessonState) -> None:
    try:
        shown, card = lesson_colour.lesson_of(
            state.colour, state.tolerance, state.film_um
        )
    except ShadecoreError as error:
        say.error(error)
        return
    poster = handout(shown, card, UNITS[state.units])
    _offer("Handout", "handout", poster, state.units)


def _show_wall_chart(state: LessonState) -> None:
    upload = st.file_uploader(
        "Colours from a CSV file (code, L, a, b); invented ones unless given",
        type=["csv", "txt"],
        key="palette_file",
    )
    try:
        settings = lesson_colour.settings(state.tolerance, state.film_um)
        if upload is None:
            colours = parse_colours(read_text(data_file(DEMO_COLOURS)), DEMO_COLOURS)
        else:
            colours = parse_colours(decode(upload.getvalue(), upload.name), upload.name)
        shelf = _shelf()
    except ShadecoreError as error:
        say.error(error)
        return
    for row in colours.bad:
        say.error(f"Left out: {row}")
    poster = _chart(colours, shelf, settings, state.units)
    _offer("Wall chart", "wall-chart", poster, state.units)


def _shelf() -> Shelf:
    """The painter's shelf where there is one, else the example's."""
    painter = st.session_state.get(KEPT)
    if painter is None or not painter.shelf:
        return demo_shelf()
    return parse_shelf(painter.shelf, "The shelf")[0]


def _chart(
    colours: ColourList, shelf: Shelf, settings: Settings, units: str
) -> Document:
    with st.spinner("Counting coats …"):
        picks = pick_many(colours.lab, shelf, settings)
        return wall_chart(colours, shelf, picks, settings, UNITS[units])


def _offer(name: str, file: str, poster: Document, units: str) -> None:
    """Offer a poster as PDF and as HTML, and show it."""
    page_text = document_html(poster)
    with st.container(horizontal=True, gap="small"):
        st.download_button(
            f"{name} (PDF)",
            lambda: document_pdf(poster, units),
            f"{file}.pdf",
            "application/pdf",
            on_click="ignore",
            type="primary",
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
