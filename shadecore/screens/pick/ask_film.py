"""The film of one coat: given, or worked out from the gun and the mix."""

from dataclasses import replace
from typing import Final

import streamlit as st

from shadecore.coats.settings import LARGEST_CAP
from shadecore.question.plain import RANGES
from shadecore.question.question import Question
from shadecore.screens import session
from shadecore.screens.pick.widgets import MIX, fill
from shadecore.units import UM_PER_MIL

_MIXES: Final = ((1.0, 1.0), (2.0, 1.0), (3.0, 1.0), (4.0, 1.0), (1.0, 0.0))
_FILM_MIL: Final = "film_mil"


def ask_film(question: Question) -> None:
    """Ask for the film of one coat, or for what it can be worked out from.

    Parameters
    ----------
    question : Question
        What is set so far.
    """
    if question.film.from_gun:
        fill(question, "wet_um", "overlap_percent")
    elif question.units != "us":
        fill(question, "film_um")
    fill(question, "from_gun", MIX, "solids_percent", "transfer_percent")
    fill(question, "coat_cap", "film_limit_um")
    st.toggle("Work it out from the gun and the mix", key="from_gun")
    st.selectbox(
        "Mix, paint to reducer",
        [*_MIXES, *{_mix(question)}.difference(_MIXES)],
        format_func=lambda mix: f"{mix[0]:g}:{mix[1]:g}",
        key=MIX,
    )
    st.number_input(
        "Volume solids of the paint as it comes (%)",
        *RANGES["solids_percent"],
        key="solids_percent",
    )
    if question.film.from_gun:
        st.number_input("Wet film of one pass (µm)", *RANGES["wet_um"], key="wet_um")
        st.number_input(
            "Overlap (%)", *RANGES["overlap_percent"], step=5.0, key="overlap_percent"
        )
    elif question.units == "us":
        thinnest, thickest = RANGES["film_um"]
        st.session_state[_FILM_MIL] = question.film.dry_film_um / UM_PER_MIL
        st.number_input(
            "Dry film of one coat (mil)",
            thinnest / UM_PER_MIL,
            thickest / UM_PER_MIL,
            step=0.05,
            key=_FILM_MIL,
            on_change=_take_mil,
            help="Base coat is usually 0.3 to 0.6 mil; common practice, no source.",
        )
    else:
        st.number_input(
            "Dry film of one coat (µm)",
            *RANGES["film_um"],
            step=1.0,
            key="film_um",
            help="Base coat is usually 8 to 15 µm; common practice, no source.",
        )
    st.number_input(
        "Paint that stays on the part (%)",
        *RANGES["transfer_percent"],
        step=5.0,
        key="transfer_percent",
    )
    st.number_input("Coats counted at most", 1, LARGEST_CAP, key="coat_cap")
    st.number_input(
        "Dry film not to be exceeded (µm)",
        *RANGES["film_limit_um"],
        step=5.0,
        key="film_limit_um",
    )


def _take_mil() -> None:
    question = session.question()
    film_um = st.session_state[_FILM_MIL] * UM_PER_MIL
    session.keep(replace(question, film=replace(question.film, dry_film_um=film_um)))


def _mix(question: Question) -> tuple[float, float]:
    return question.film.paint_parts, question.film.reducer_parts
