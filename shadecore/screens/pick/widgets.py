"""The widgets of the pick and the question they stand for."""

from dataclasses import fields, replace
from typing import Any, Final

import streamlit as st

from shadecore.coats.cost import Rates
from shadecore.colour.condition import Condition
from shadecore.question.question import FilmAsked, Mixing, Question

_FILM_KEYS: Final = {
    field.name: "film_um" if field.name == "dry_film_um" else field.name
    for field in fields(FilmAsked)
    if field.name not in {"paint_parts", "reducer_parts"}
}
MIX: Final = "mix"
"""Key of the widget that asks for paint and reducer together."""


def fill(question: Question) -> None:
    """Give the widgets that have no value the question's.

    A widget that is not drawn in one run loses its value, as all do at first and after
    another page. One that has a value is left alone: setting it would write over what
    is being typed.

    Parameters
    ----------
    question : Question
        The session's.
    """
    values: dict[str, Any] = {
        "colour": question.colour,
        "tolerance": question.tolerance,
        "units": question.units,
        "coat_cap": question.coat_cap,
        "film_limit_um": question.film_limit_um,
        "blends": question.mixing.allowed,
        "strength": question.mixing.strength,
        MIX: (question.film.paint_parts, question.film.reducer_parts),
        **{key: getattr(question.film, name) for name, key in _FILM_KEYS.items()},
        **{each.name: getattr(question.condition, each.name) for each in _CONDITION},
        **{each.name: getattr(question.rates, each.name) for each in fields(Rates)},
    }
    for key, value in values.items():
        if key not in st.session_state:
            st.session_state[key] = value


def question_now(kept: Question) -> Question:
    """The question that the widgets stand for.

    Parameters
    ----------
    kept : Question
        For what no widget holds: shelf, card, areas, and the doubt of a photo, which
        goes when another colour is typed.

    Returns
    -------
    Question
    """
    now = st.session_state
    paint, reducer = now[MIX]
    film = {name: now[key] for name, key in _FILM_KEYS.items()}
    return replace(
        kept,
        colour=now["colour"],
        photo=kept.photo if now["colour"] == kept.colour else None,
        tolerance=now["tolerance"],
        units=now["units"],
        coat_cap=now["coat_cap"],
        film_limit_um=now["film_limit_um"],
        mixing=Mixing(now["blends"], now["strength"]),
        film=FilmAsked(**film, paint_parts=paint, reducer_parts=reducer),
        condition=Condition(*(now[each.name] for each in _CONDITION)),
        rates=Rates(**{each.name: now[each.name] for each in fields(Rates)}),
    )


_CONDITION: Final = fields(Condition)
