"""What kind of colour it is, and its readings at several angles."""

from typing import Final

import streamlit as st

from shadecore.colour.angle_table import readings_from_text
from shadecore.colour.angles import AngleReadings
from shadecore.colour.kinds import KINDS, NOT_SAID, OVER_A_GROUND, SOLID
from shadecore.errors import ShadecoreError
from shadecore.question.question import Question
from shadecore.screens.pick.settings_row import setting_button
from shadecore.telling.settings_words import angles_set

KIND, ANGLES = "kind", "angles_text"
_TYPED: Final = "angles_typed"
"""Key of the box for the text, which is there only while its button is open."""
_NAMES: Final = {
    NOT_SAID: "not said",
    "solid": "solid",
    "metallic": "metallic",
    "pearl": "pearl",
    "three-stage": "three-stage",
    "candy": "candy",
}


_WIDTH: Final = 132
"""Pixels, so that colour and kind stand in one row on a phone."""


def fill_kind(question: Question, *, anew: bool) -> None:
    """Give the widgets that have no value the question's.

    Parameters
    ----------
    question : Question
        The session's.
    anew : bool
        Whether those that have one belong to another question.
    """
    readings = question.angles
    lines = [] if readings is None else zip(readings.angles, readings.lab, strict=True)
    text = "\n".join(
        f"{angle:g} {' '.join(f'{round(value, 2) + 0.0:g}' for value in lab)}"
        for angle, lab in lines
    )
    if anew:
        st.session_state.pop(_TYPED, None)
    for key, value in ((KIND, question.kind), (ANGLES, text)):
        if anew or key not in st.session_state:
            st.session_state[key] = value


def ask_kind() -> None:
    """Ask what kind of colour it is."""
    st.selectbox(
        "Kind",
        (NOT_SAID, *KINDS),
        format_func=lambda kind: _NAMES[kind],
        key=KIND,
        width=_WIDTH,
        help="Of a three-stage or candy colour give the ground's colour: that is "
        "what hides.",
    )


def ask_angles(kept: Question) -> tuple[str, AngleReadings | None, str]:
    """Ask for readings at several angles, where the kind has them.

    Parameters
    ----------
    kept : Question
        The session's; its readings stay as they are while their text is not changed.

    Returns
    -------
    kind : str
        One of ``KINDS``, or empty.
    angles : AngleReadings or None
        None where there are none that can be used.
    trouble : str
        What is wrong with them; empty where nothing is.
    """
    kind: str = st.session_state[KIND]
    if kind == SOLID or kind in OVER_A_GROUND:
        return kind, None, ""
    if kind == NOT_SAID and not st.session_state[ANGLES]:
        return kind, None, ""
    if _TYPED in st.session_state:
        st.session_state[ANGLES] = st.session_state[_TYPED]
    if st.session_state["colour"] != kept.colour and kept.angles is not None:
        # They were readings of the colour before: another one was typed.
        st.session_state[ANGLES] = ""
        st.session_state.pop(_TYPED, None)
    angles, trouble = _read(st.session_state[ANGLES], kept)
    opened = setting_button(angles_set(angles), "angles")
    if not opened.open:
        return kind, angles, trouble
    if _TYPED not in st.session_state:
        st.session_state[_TYPED] = st.session_state[ANGLES]
    with opened:
        st.text_area(
            "Readings at several angles, in the place of the one above",
            key=_TYPED,
            height=150,
            placeholder="15 109 0 -1\n45 35 0 -1.5\n110 13 0 -2",
            help="Aspecular degrees and L*, a*, b*, one angle a line, or pasted from "
            "the instrument's table; 45 at least, of 15, 25, 45, 75 and 110.",
        )
    return kind, angles, trouble


def _read(text: str, kept: Question) -> tuple[AngleReadings | None, str]:
    """Readings, and what is wrong with them."""
    if not text.strip():
        return None, ""
    try:
        readings = readings_from_text(text, kept.condition)
    except ShadecoreError as error:
        return None, f"{error} The one reading is used meanwhile."
    own = kept.angles
    if own is not None and own.angles == readings.angles and _alike(own, readings):
        return own, ""
    return readings, ""


def _alike(one: AngleReadings, other: AngleReadings) -> bool:
    """Whether two readings show the same numbers."""
    return all(
        abs(mine - theirs) < _SHOWN
        for here, there in zip(one.lab, other.lab, strict=True)
        for mine, theirs in zip(here, there, strict=True)
    )


_SHOWN: Final = 0.0051
"""The text shows two decimals. [L*, a*, b*]"""
