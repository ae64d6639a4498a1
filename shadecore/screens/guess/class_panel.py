"""The trainer's side of a class: the code, how many answered, the results."""

from collections.abc import Callable
from html import escape
from typing import Final

import streamlit as st

from shadecore.lesson.colours import shown
from shadecore.lesson.guess import Exercise, ExerciseColour
from shadecore.screens import phone, say
from shadecore.screens.guess import pictures as guess_pictures
from shadecore.screens.qr import qr_html
from shadecore.serving import class_room
from shadecore.serving.class_room import ClassRoom
from shadecore.serving.gate import CLASS_PATH
from shadecore.serving.store import serving
from shadecore.telling import phone_words as words
from shadecore.telling.exercise_words import go_on_words, names_of, question_words

_LOOK_S: Final = 1.5
_BEST: Final = ' class="best"'
STYLE: Final = """
<style>
.sc-tally {display: grid; gap: .35rem .7rem; align-items: center; font-size: 1.1rem;
  grid-template-columns: minmax(7rem, max-content) 1fr 5rem max-content;}
.sc-tally .head {font-weight: 400;}
.sc-tally i {display: block; height: 2rem; border: 1px solid #8a8a8a; min-width: 2px;}
.sc-tally .best {font-weight: 700;}
</style>
"""


def running() -> bool:
    """Whether a class runs that this page leads.

    Returns
    -------
    bool
    """
    return phone.from_here() and serving().room is not None


def offer(exercise: Exercise) -> None:
    """Offer to let a class answer from its phones.

    Parameters
    ----------
    exercise : Exercise
        What it will answer.
    """
    if phone.from_here():
        st.button(
            words.START_CLASS,
            on_click=serving().start_class,
            args=(exercise,),
            help=words.START_CLASS_HELP,
        )


@st.fragment(run_every=_LOOK_S)
def lead() -> None:
    """Lead the class that runs: only this part of the page looks for answers."""
    room = serving().room
    if room is None:
        # Ended in another window.
        st.rerun()
    st.html(STYLE + phone.STYLE)
    code, asked = st.columns([1, 2])
    with code:
        _show_code(room)
    with asked:
        if room.question is None:
            _show_end(room)
        else:
            _show_colour(room)
    st.button(words.END_CLASS, on_click=serving().end_class)


def _show_code(room: ClassRoom) -> None:
    door = serving().door
    if door.problem:
        say.error(door.problem)
    elif door.url:
        address = f"{door.url}{CLASS_PATH}"
        st.html(
            f"{qr_html(f'{address}#{room.code}', '100%')}"
            f'<p class="sc-url">{escape(address)}</p>'
        )
    st.html(
        f"<p>{words.CLASS_CODE}</p>"
        f'<p class="sc-code" data-code="class">{words.grouped(room.code)}</p>'
    )


def _show_colour(room: ClassRoom) -> None:
    question = room.question
    if question is None:
        return
    name = names_of(room.exercise)[room.place]
    st.subheader(question_words(room.exercise, room.place), anchor=False)
    picture = guess_pictures.question_html(question, name)
    st.html(f'<div class="sc-class">{picture}</div>')
    given = words.answers_words(len(room.answers), len(room.phones))
    st.html(f'<p class="sc-score" role="status" data-answers>{given}</p>')
    if not room.shown:
        st.html(_choices_html(room))
        _step(words.SHOW_RESULTS, class_room.with_results)
        return
    st.html(_tally_html(room.exercise, room.tally, question))
    _step(go_on_words(room.exercise, room.place), class_room.next_colour)


def _show_end(room: ClassRoom) -> None:
    st.subheader(words.CLASS_RESULT, anchor=False)
    names = names_of(room.exercise)
    for name, question, tally in zip(
        names, room.exercise.questions, room.tallies, strict=True
    ):
        st.markdown(say.plain(words.class_line(name, question, tally)))


def _step(label: str, step: Callable[[ClassRoom], ClassRoom]) -> None:
    st.button(label, type="primary", on_click=serving().step_class, args=(step,))


def _choices_html(room: ClassRoom) -> str:
    undercoats = room.exercise.undercoats
    swatches = shown([each.lab for each in undercoats])
    cells = "".join(
        f'<div><i style="background:{swatch.hex}"></i><strong>{escape(each.name)}'
        "</strong></div>"
        for each, swatch in zip(undercoats, swatches, strict=True)
    )
    return f'<div class="sc-costs">{cells}</div>'


def _tally_html(
    exercise: Exercise, tally: tuple[int, ...], question: ExerciseColour
) -> str:
    """Answers by undercoat as bars in the undercoat's own grey, and its coats."""
    best = question.best
    most = max(1, *tally)
    swatches = shown([each.lab for each in exercise.undercoats])
    rows = "".join(
        f"<span{_BEST if place in best else ''}>"
        f"{'✓ ' if place in best else ''}{escape(each.name)}</span>"
        f'<i style="background:{swatch.hex};width:{round(100 * count / most)}%"></i>'
        f'<span data-votes="{escape(each.name)}">{count}</span>'
        f"<span{_BEST if place in best else ''}>{takes}</span>"
        for place, (each, swatch, count, takes) in enumerate(
            zip(
                exercise.undercoats,
                swatches,
                tally,
                words.costs_words(question),
                strict=True,
            )
        )
    )
    heads = "".join(f'<span class="head">{each}</span>' for each in words.TALLY_HEADS)
    return f'<div class="sc-tally">{heads}{rows}</div>'
