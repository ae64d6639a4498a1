"""The colour of the lesson: an example, the painter's, or any that is typed."""

from dataclasses import fields, replace
from typing import Final

import streamlit as st

from shadecore.coats.settings import Settings
from shadecore.colour.topcoat import Topcoat, parse_topcoat, spectrum_line
from shadecore.errors import ShadecoreError
from shadecore.film.build import CoatFilm
from shadecore.lesson.colours import examples
from shadecore.lesson.contrast_card import ContrastCard, contrast_card
from shadecore.lesson.lesson_link import LESSON_RANGES, LessonState
from shadecore.lesson.panels import Lesson, lesson
from shadecore.question.from_state import condition_of, film_of
from shadecore.question.link import CHOICES, RANGES, PickState, read_state, to_query
from shadecore.screens.pick_page import KEPT

KEPT_LESSON: Final = "lesson_state"
"""Where the session keeps the lesson's state for the handout and for coming back."""
_PAINTERS: Final = "from the pick"
_PAPERS: Final = {"metric": "A4, metric", "us": "Letter, US"}
_KEYS: Final = {field.name: f"lesson_{field.name}" for field in fields(LessonState)}
_REMEMBERED: Final = 32
"""Lessons kept ready, so that going back to a colour takes no time."""


def restore() -> LessonState:
    """Fill the widgets from the session, or from the link at first.

    Returns
    -------
    LessonState
        As it stood when the page was left, or as the link says.
    """
    kept = st.session_state.get(KEPT_LESSON)
    state: LessonState = kept or read_state(st.query_params, LessonState, LESSON_RANGES)
    for name, key in _KEYS.items():
        if key not in st.session_state:
            st.session_state[key] = getattr(state, name)
    return state


def keep(state: LessonState) -> None:
    """Write the state into the session and into the link.

    Parameters
    ----------
    state : LessonState
        The state.
    """
    st.session_state[KEPT_LESSON] = state
    query = to_query(state)
    if st.query_params.to_dict() != query:
        st.query_params.from_dict(query)


def state_now(coats: int) -> LessonState:
    """Read the state off the widgets.

    Parameters
    ----------
    coats : int
        Coats on the panels.

    Returns
    -------
    LessonState
    """
    return LessonState(
        st.session_state[_KEYS["colour"]],
        coats,
        st.session_state[_KEYS["tolerance"]],
        st.session_state[_KEYS["film_um"]],
        st.session_state[_KEYS["units"]],
    )


def ask_colour() -> None:
    """Ask for the colour: examples to tap, and a box for any other."""
    known = {_lab_text(each.topcoat): each.name for each in examples()}
    painter = _painters_colour()
    names = [*known.values(), *([_PAINTERS] if painter is not None else [])]
    typed = st.session_state[_KEYS["colour"]]
    chosen = known.get(typed)
    if painter is not None and typed == painter.colour:
        chosen = _PAINTERS
    st.session_state["lesson_example"] = chosen
    left, right = st.columns([3, 1], vertical_alignment="bottom")
    with left:
        st.pills(
            "Colour (invented examples)",
            names,
            format_func=str.capitalize,
            key="lesson_example",
            on_change=_take_example,
            wrap=True,
        )
    with right:
        st.text_input(
            "Or any colour",
            key=_KEYS["colour"],
            placeholder="48 62 40",
            help="Lab values, #b22234, Munsell like 5R 4/14 and more.",
        )


def ask_settings() -> None:
    """Ask for the tolerance and the film of one coat."""
    tolerance, film = st.columns(2)
    with tolerance:
        st.number_input(
            "Counts as hidden up to (CIEDE2000)",
            *RANGES["tolerance"],
            step=0.5,
            key=_KEYS["tolerance"],
            help="1 is usual beside an old panel, 2 on a whole car; common practice, "
            "no source.",
        )
    with film:
        st.number_input(
            "Dry film of one coat (µm)",
            *RANGES["film_um"],
            step=1.0,
            key=_KEYS["film_um"],
        )


def ask_paper() -> None:
    """Ask for the paper, and with it for the units."""
    st.segmented_control(
        "Paper",
        CHOICES["units"],
        format_func=lambda units: _PAPERS[units],
        key=_KEYS["units"],
        required=True,
    )


def _take_example() -> None:
    name = st.session_state["lesson_example"]
    painter = _painters_colour()
    if name == _PAINTERS and painter is not None:
        for field in ("colour", "tolerance", "film_um"):
            st.session_state[_KEYS[field]] = getattr(painter, field)
        return
    for each in examples():
        if each.name == name:
            st.session_state[_KEYS["colour"]] = _lab_text(each.topcoat)


def _painters_colour() -> LessonState | None:
    """The pick's colour under the working condition, with its tolerance and film."""
    kept: PickState | None = st.session_state.get(KEPT)
    if kept is None:
        return None
    try:
        topcoat = parse_topcoat(kept.colour, condition_of(kept))
        film = film_of(kept).dry_film_um
    except ShadecoreError:
        return None
    return replace(
        LessonState(),
        colour=_lab_text(topcoat),
        tolerance=kept.tolerance,
        film_um=film,
    )


def _lab_text(topcoat: Topcoat) -> str:
    if topcoat.reflectance is not None:
        return spectrum_line(topcoat)
    return " ".join(f"{round(value, 2) + 0.0:g}" for value in topcoat.lab)


@st.cache_resource(max_entries=_REMEMBERED, show_spinner="Spraying the panels …")
def lesson_of(
    colour: str, tolerance: float, film_um: float
) -> tuple[Lesson, ContrastCard]:
    """The lesson for a colour, and its contrast card.

    Parameters
    ----------
    colour : str
        As typed.
    tolerance : float
        [CIEDE2000]
    film_um : float
        Dry film of one coat. [um]

    Returns
    -------
    lesson : Lesson
        The film over the five greys.
    card : ContrastCard
        The film on the card.

    Raises
    ------
    ShadecoreError
        If the colour or a setting cannot be used.
    """
    shown = lesson(parse_topcoat(colour), settings(tolerance, film_um))
    return shown, contrast_card(shown.answer)


def settings(tolerance: float, film_um: float) -> Settings:
    """What the lesson is worked out with.

    Parameters
    ----------
    tolerance : float
        [CIEDE2000]
    film_um : float
        Dry film of one coat. [um]

    Returns
    -------
    Settings

    Raises
    ------
    SettingError
        If one is outside its range.
    """
    return Settings(tolerance=tolerance, film=CoatFilm(film_um))
