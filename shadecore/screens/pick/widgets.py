"""The widgets of the pick and the question they stand for.

Most settings are drawn only while somebody looks at them. A widget that is not drawn
has no value, and the session's question holds what it was.
"""

from dataclasses import fields, replace
from typing import Any, Final

import streamlit as st

from shadecore.colour.condition import Condition
from shadecore.question.question import FilmAsked, Mixing, Question
from shadecore.screens import session

_FILLED: Final = "pick_filled_at"
MIX: Final = "mix"
"""Key of the widget that asks for paint and reducer together."""
_FILM_KEYS: Final = {
    field.name: "film_um" if field.name == "dry_film_um" else field.name
    for field in fields(FilmAsked)
    if field.name not in {"paint_parts", "reducer_parts"}
}
_CONDITION: Final = tuple(each.name for each in fields(Condition))
_PLAIN: Final = ("colour", "tolerance", "units", "coat_cap", "film_limit_um")


def values_of(question: Question) -> dict[str, Any]:
    """What the widgets show for a question, by their keys.

    Parameters
    ----------
    question : Question
        The question.

    Returns
    -------
    dict
    """
    return {
        **{name: getattr(question, name) for name in _PLAIN},
        "blends": question.mixing.allowed,
        "strength": question.mixing.strength,
        MIX: (question.film.paint_parts, question.film.reducer_parts),
        **{key: getattr(question.film, name) for name, key in _FILM_KEYS.items()},
        **{name: getattr(question.condition, name) for name in _CONDITION},
    }


def begin() -> tuple[Question, bool]:
    """The session's question, its widgets filled anew where another took its place.

    Returns
    -------
    question : Question
        The session's.
    anew : bool
        Whether what was edited on the page belongs to another question.
    """
    kept = session.question()
    anew = st.session_state.get(_FILLED) != session.edition()
    if anew:
        st.session_state[_FILLED] = session.edition()
        for key, value in values_of(kept).items():
            if key in st.session_state:
                st.session_state[key] = value
    fill(kept, "colour")
    return kept, anew


def fill(question: Question, *keys: str) -> None:
    """Give widgets that are about to be drawn the question's values.

    One that has a value is left alone: setting it would write over what is being typed.

    Parameters
    ----------
    question : Question
        The session's.
    *keys : str
        Keys of the widgets.
    """
    values = values_of(question)
    for key in keys:
        if key not in st.session_state:
            st.session_state[key] = values[key]


def question_now(kept: Question) -> Question:
    """The question that the widgets stand for.

    Parameters
    ----------
    kept : Question
        For what no widget holds. The doubt of a photo goes when another colour is
        typed.

    Returns
    -------
    Question
    """
    values = values_of(kept)
    now = {key: st.session_state.get(key, value) for key, value in values.items()}
    paint, reducer = now[MIX]
    film = {name: now[key] for name, key in _FILM_KEYS.items()}
    return replace(
        kept,
        **{name: now[name] for name in _PLAIN},
        photo=kept.photo if now["colour"] == kept.colour else None,
        mixing=Mixing(now["blends"], now["strength"]),
        film=FilmAsked(**film, paint_parts=paint, reducer_parts=reducer),
        condition=Condition(*(now[name] for name in _CONDITION)),
    )
