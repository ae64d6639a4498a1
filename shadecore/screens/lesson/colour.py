"""The colour of the lesson: an example, the painter's, or any that is typed."""

from dataclasses import replace
from typing import Final

import streamlit as st

from shadecore.colour.condition import WORKING
from shadecore.colour.kinds import NOT_SAID
from shadecore.colour.topcoat import Topcoat, spectrum_line
from shadecore.errors import ShadecoreError
from shadecore.lesson.asked import contrast_card_of, lesson_of
from shadecore.lesson.colours import examples
from shadecore.lesson.contrast_card import ContrastCard
from shadecore.lesson.panels import Lesson
from shadecore.question.plain import RANGES
from shadecore.question.question import Question
from shadecore.screens import session
from shadecore.screens.lesson.link import LessonState, lesson_parameters, read_lesson
from shadecore.telling.lesson_words import SOLIDS_ONLY
from shadecore.undercoats.shelf import Shelf
from shadecore.undercoats.shelf_table import demo_shelf

COATS: Final = "lesson_coats"
"""Key of the slider, and where the session keeps what it stands at."""
LARGE: Final = "lesson_large"
"""Key of the full-screen mode."""
_GREYS: Final = "lesson_greys"
_COLOUR: Final = "lesson_colour"
_EXAMPLE: Final = "lesson_example"
_TOLERANCE, _FILM, _UNITS = "lesson_tolerance", "lesson_film_um", "lesson_units"
_KEPT: Final = "lesson_state"
_PAINTERS: Final = "from the pick"
_PAPERS: Final = {"metric": "A4, metric", "us": "Letter, US"}
_REMEMBERED: Final = 32
"""Lessons kept ready, so that going back to a colour takes no time."""


def restore() -> LessonState:
    """Fill the widgets from the session, or from the link at first.

    Returns
    -------
    LessonState
        As it stood when the page was left, or as the link says.
    """
    question = session.question()
    state: LessonState = st.session_state.get(_KEPT) or read_lesson(
        session.parameters(), question
    )
    for key, value in (
        (_COLOUR, state.colour),
        (COATS, state.coats),
        (_GREYS, state.greys),
        (LARGE, state.large),
        (_TOLERANCE, question.tolerance),
        (_FILM, question.film.coat.dry_film_um),
        (_UNITS, question.units),
    ):
        if key not in st.session_state:
            st.session_state[key] = value
    return state


def keep(coats: int) -> LessonState:
    """Keep what the widgets say, in the session and in the link.

    Parameters
    ----------
    coats : int
        Coats on the panels.

    Returns
    -------
    LessonState
    """
    state = LessonState(
        st.session_state[_COLOUR],
        coats,
        st.session_state[_GREYS],
        st.session_state[LARGE],
    )
    st.session_state[_KEPT] = state
    question = session.question()
    film = question.film
    if st.session_state[_FILM] != film.coat.dry_film_um:
        film = replace(film, dry_film_um=st.session_state[_FILM], from_gun=False)
    session.keep(
        replace(
            question,
            tolerance=st.session_state[_TOLERANCE],
            film=film,
            units=st.session_state[_UNITS],
        ),
        lesson_parameters(state),
    )
    return state


def ask_colour() -> None:
    """Ask for the colour: examples to tap, and a box for any other."""
    known = {_lab_text(each.topcoat): each.name for each in examples()}
    painter = _painters_colour()
    names = [*known.values(), *([_PAINTERS] if painter is not None else [])]
    typed = st.session_state[_COLOUR]
    chosen = known.get(typed)
    if painter is not None and typed == painter:
        chosen = _PAINTERS
    st.session_state[_EXAMPLE] = chosen
    if session.question().flakes:
        st.caption(SOLIDS_ONLY)
    left, right = st.columns([3, 1], vertical_alignment="bottom")
    with left:
        st.pills(
            "Colour (invented examples)",
            names,
            format_func=str.capitalize,
            key=_EXAMPLE,
            on_change=_take_example,
            wrap=True,
        )
    with right:
        st.text_input(
            "Or any colour",
            key=_COLOUR,
            placeholder="48 62 40",
            help="Lab values, #b22234, Munsell like 5R 4/14 and more.",
        )


def ask_shelf() -> None:
    """Ask whether the lesson's greys stand in for the painter's own shelf."""
    if session.question().shelf != demo_shelf():
        st.toggle("The five invented greys instead of my shelf", key=_GREYS)


def lesson_shelf(state: LessonState) -> Shelf:
    """The undercoats that the lesson compares.

    Parameters
    ----------
    state : LessonState
        What the trainer set.

    Returns
    -------
    tuple of Undercoat
        The painter's own shelf where there is one, else the lesson's five greys.
    """
    own = session.question().shelf
    return demo_shelf() if state.greys or own == demo_shelf() else own


def ask_settings() -> None:
    """Ask for the tolerance and the film of one coat."""
    tolerance, film = st.columns(2)
    with tolerance:
        st.number_input(
            "Counts as hidden up to a difference of",
            *RANGES["tolerance"],
            step=0.5,
            key=_TOLERANCE,
            help="In CIEDE2000: 1 is usual beside an old panel, 2 on a whole car; "
            "common practice, no source.",
        )
    with film:
        st.number_input(
            "Dry film of one coat (µm)",
            *RANGES["film_um"],
            step=1.0,
            key=_FILM,
        )


def ask_paper() -> None:
    """Ask for the paper, and with it for the units."""
    st.segmented_control(
        "Paper",
        list(_PAPERS),
        format_func=lambda units: _PAPERS[units],
        key=_UNITS,
        required=True,
    )


def lesson_question(state: LessonState) -> Question:
    """The question that the lesson answers.

    Parameters
    ----------
    state : LessonState
        Its colour.

    Returns
    -------
    Question
        The session's with the lesson's colour; what is known of the painter's own
        paint counts where it is the painter's colour.
    """
    question = session.question()
    if state.colour == _painters_colour():
        return question
    return replace(
        question,
        colour=state.colour,
        kind=NOT_SAID,
        angles=None,
        condition=WORKING,
        photo=None,
        card=None,
    )


@st.cache_resource(max_entries=_REMEMBERED, show_spinner="Spraying the panels …")
def shown_lesson(question: Question, shelf: Shelf) -> tuple[Lesson, ContrastCard]:
    """The lesson of a question, and its contrast card.

    Parameters
    ----------
    question : Question
        From :func:`lesson_question`.
    shelf : tuple of Undercoat
        From :func:`lesson_shelf`.

    Returns
    -------
    lesson : Lesson
        The film over the undercoats.
    card : ContrastCard
        The film on the card.

    Raises
    ------
    ShadecoreError
        If the colour or a setting cannot be used.
    """
    shown = lesson_of(question, shelf)
    return shown, contrast_card_of(shown)


def _take_example() -> None:
    name = st.session_state[_EXAMPLE]
    painter = _painters_colour()
    if name == _PAINTERS and painter is not None:
        st.session_state[_COLOUR] = painter
        return
    for each in examples():
        if each.name == name:
            st.session_state[_COLOUR] = _lab_text(each.topcoat)


def _painters_colour() -> str | None:
    """The pick's solid colour under the working condition; None for the example."""
    question = session.question()
    if question.colour == Question().colour or question.flakes:
        return None
    try:
        return _lab_text(question.topcoat)
    except ShadecoreError:
        return None


def _lab_text(topcoat: Topcoat) -> str:
    if topcoat.reflectance is not None:
        return spectrum_line(topcoat)
    return " ".join(f"{round(value, 2) + 0.0:g}" for value in topcoat.lab)
