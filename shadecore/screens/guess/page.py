"""The exercise: a colour comes up, the class picks the undercoat, coats are counted."""

from dataclasses import replace
from functools import lru_cache
from html import escape
from typing import Final

import streamlit as st

from shadecore.errors import ShadecoreError
from shadecore.lesson.guess import (
    LARGEST_SEED,
    Exercise,
    colours_of,
    draw_exercise,
    exercise_of_colours,
    score,
)
from shadecore.screens import say, session
from shadecore.screens.guess import class_panel
from shadecore.screens.guess import pictures as guess_pictures
from shadecore.screens.lesson import pictures as lesson_pictures
from shadecore.screens.lesson.link import (
    GuessState,
    guess_parameters,
    read_answers,
    read_colours,
    read_guess,
    write_answers,
    write_colours,
)
from shadecore.telling import exercise_words as words
from shadecore.undercoats.shelf import Shelf
from shadecore.undercoats.shelf_table import demo_shelf

_KEPT: Final = "guess_state"
_REVEALED: Final = "guess_revealed"
"""Whether the last answer's costs are still on the screen."""
_CHOICE: Final = "guess_choice_"


def page() -> None:
    """Run the page from top to bottom."""
    st.html(lesson_pictures.STYLE + guess_pictures.STYLE)
    state: GuessState = st.session_state.get(_KEPT) or read_guess(session.parameters())
    _keep(state)
    if state.large:
        st.html(guess_pictures.LARGE_STYLE)
    else:
        st.title("Guess the sealer", anchor=False)
    if class_panel.running():
        class_panel.lead()
    else:
        _alone(state)
    _ask_large(large=state.large)
    if not state.large:
        st.caption(words.GUESS_NOTE)


def _ask_large(*, large: bool) -> None:
    """Fill the screen of a projector with the exercise, or stop that."""
    st.button(
        "Leave full screen" if large else "Full screen",
        on_click=_turn_large,
        args=(not large,),
        help="F11 takes the browser's own bars away, too." if large else None,
    )


def _turn_large(on: bool) -> None:  # noqa: FBT001 - Streamlit hands it over by place
    _keep(replace(st.session_state[_KEPT], large=on))


def _alone(state: GuessState) -> None:
    """The exercise on this screen."""
    try:
        shelf = session.question().shelf if state.own_shelf else demo_shelf()
        exercise = exercise_of(state.seed, shelf, read_colours(state.colours))
    except ShadecoreError as error:
        say.error(error)
        st.button("Take the invented greys", on_click=_keep, args=(GuessState(),))
        return
    if not state.colours:
        state = replace(state, colours=write_colours(colours_of(exercise)))
        _keep(state)
    if state.earlier:
        st.info(words.EARLIER_SET)
    _play(exercise)
    if not state.large:
        _ask_set(state)
        class_panel.offer(exercise)


@st.fragment
def _play(exercise: Exercise) -> None:
    """Ask, and show what an answer cost; a click runs this part of the page only.

    Whatever is drawn again at a click is sent again, piece by piece: so this part has
    few pieces, and the buttons that do not change stand outside of it.
    """
    state: GuessState = st.session_state[_KEPT]
    answers = read_answers(
        state.answers, len(exercise.questions), len(exercise.undercoats)
    )
    if st.session_state.get(_REVEALED) and answers:
        _show_costs(exercise, answers)
    elif len(answers) < len(exercise.questions):
        _ask(exercise, answers)
    else:
        _show_result(exercise, answers)


def _keep(state: GuessState) -> None:
    """Write the state into the session and into the link."""
    st.session_state[_KEPT] = state
    session.keep(session.question(), guess_parameters(state))


@lru_cache(maxsize=32)
def exercise_of(seed: int, shelf: Shelf, colours: tuple[str, ...] = ()) -> Exercise:
    """A set, drawn once for all who open it.

    Parameters
    ----------
    seed : int
        Its number.
    shelf : tuple of Undercoat
        The choices.
    colours : tuple of str
        Its colours, where a link names them; those that this version draws unless
        given.

    Returns
    -------
    Exercise

    Raises
    ------
    ShadecoreError
        If these undercoats leave nothing to guess.
    """
    if colours:
        return exercise_of_colours(seed, colours, shelf)
    return draw_exercise(seed, shelf)


def _ask(exercise: Exercise, answers: tuple[int, ...]) -> None:
    """Show a colour and let the class choose."""
    place = len(answers)
    question, name = exercise.questions[place], words.names_of(exercise)[place]
    st.subheader(words.question_words(exercise, place), anchor=False)
    st.html(
        guess_pictures.question_html(question, name)
        + guess_pictures.choices_style(exercise.undercoats, _CHOICE)
    )
    with st.container(horizontal=True, gap="small"):
        for place, each in enumerate(exercise.undercoats):
            st.button(
                say.plain(each.name),
                key=f"{_CHOICE}{place}",
                on_click=_answer,
                args=((*answers, place),),
                width="stretch",
            )
    st.html(guess_pictures.score_html(score(exercise, answers)))


def _answer(answers: tuple[int, ...]) -> None:
    _keep(replace(st.session_state[_KEPT], answers=write_answers(answers)))
    st.session_state[_REVEALED] = True


def _show_costs(exercise: Exercise, answers: tuple[int, ...]) -> None:
    """Show what the last choice cost, beside all others."""
    place, choice = len(answers) - 1, answers[-1]
    question, name = exercise.questions[place], words.names_of(exercise)[place]
    st.subheader(words.answered_words(exercise, place, choice), anchor=False)
    revealed = words.reveal_words(question, exercise.undercoats, choice)
    st.html(
        f'<div class="sc-revealed">{guess_pictures.question_html(question, name)}'
        f"<p><strong>{escape(revealed)}</strong></p></div>"
    )
    label = words.go_on_words(exercise, place)
    st.button(label, type="primary", on_click=_go_on)
    st.html(
        guess_pictures.costs_html(question, exercise.undercoats, choice)
        + guess_pictures.score_html(score(exercise, answers))
    )


def _go_on() -> None:
    st.session_state[_REVEALED] = False


def _show_result(exercise: Exercise, answers: tuple[int, ...]) -> None:
    st.subheader("The result", anchor=False)
    st.html(
        guess_pictures.result_html(exercise, answers)
        + guess_pictures.score_html(score(exercise, answers))
    )


def _ask_set(state: GuessState) -> None:
    """Let the class start again, take another set or its own shelf."""
    drawn = replace(state, answers="", colours="", earlier=False)
    with st.container(horizontal=True, gap="small"):
        st.button(
            "Start again",
            on_click=_restart,
            args=(replace(state, answers="", earlier=False),),
        )
        following = (state.seed + 1) % (LARGEST_SEED + 1)
        st.button(
            "Another set",
            on_click=_restart,
            args=(replace(drawn, seed=following),),
        )
        own = session.question().shelf
        if state.own_shelf:
            st.button(
                "Choose from the five invented greys",
                on_click=_restart,
                args=(replace(drawn, own_shelf=False),),
            )
        elif own != demo_shelf():
            st.button(
                "Choose from my shelf",
                on_click=_restart,
                args=(replace(drawn, own_shelf=True),),
            )
    st.caption(words.set_words(state.seed))


def _restart(state: GuessState) -> None:
    _keep(state)
    st.session_state[_REVEALED] = False
