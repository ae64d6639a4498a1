"""What the shop has seen of the paint: plain questions, none of them required."""

from typing import Final, Literal

import streamlit as st

from shadecore.coats.seen import Seen
from shadecore.coats.settings import LARGEST_CAP
from shadecore.errors import ShadecoreError
from shadecore.question.question import Question
from shadecore.screens import say
from shadecore.telling.seen import record_words
from shadecore.undercoats.shelf import Shelf

SEEN_START: Final = "seen_records"
"""Where the session keeps the records."""
_TROUBLE: Final = "seen_trouble"
_NOT_SAID: Final = "not said"
_HOW: Final = {
    "job": "A job of ours",
    "data-sheet": "The data sheet says",
    "check": "A black-and-white check by eye",
}
_ANSWERS: Final = {
    "hid": "hid, and was looked at after each coat",
    "late": "hid, looked at only at the end",
    "not": "did not hide yet",
}


def ask_seen(question: Question) -> tuple[Seen, ...]:
    """Ask what was seen of this paint.

    Parameters
    ----------
    question : Question
        Its shelf names what may have been under it.

    Returns
    -------
    tuple of Seen
    """
    st.markdown(
        "One remembered job, or what the data sheet says, narrows the count a lot."
    )
    source = st.radio(
        "Who says so",
        list(_HOW),
        format_func=lambda name: _HOW[name],
        horizontal=True,
        key="seen_source",
    )
    names = [each.name for each in question.shelf]
    left, middle, right = st.columns(3)
    with left:
        low = st.number_input("Coats", 1, LARGEST_CAP, 3, key="seen_low")
        if source == "data-sheet":
            high = st.number_input("to", low, LARGEST_CAP, low, key="seen_high")
        else:
            high = low
    with middle:
        over = _NOT_SAID
        if source != "check":
            choices = names if source == "job" else [_NOT_SAID, *names]
            over = st.selectbox("Over", choices, key=f"seen_over_{source}")
    with right:
        how = "hid"
        if source != "data-sheet":
            how = st.radio(
                "It",
                list(_ANSWERS),
                format_func=lambda name: _ANSWERS[name],
                key="seen_how",
            )
    st.button(
        "Add this record",
        on_click=_add,
        args=(source, (int(low), int(high)), over, how, question.shelf),
    )
    if st.session_state.get(_TROUBLE):
        say.error(st.session_state[_TROUBLE])
    return _list()


def start_seen(records: tuple[Seen, ...]) -> None:
    """Put records in place of those being edited.

    Parameters
    ----------
    records : tuple of Seen
        The records.
    """
    st.session_state[SEEN_START] = records


def _list() -> tuple[Seen, ...]:
    records: tuple[Seen, ...] = st.session_state[SEEN_START]
    for place, each in enumerate(records):
        words, button = st.columns([4, 1], vertical_alignment="center")
        with words:
            say.words(record_words(each))
        button.button(
            "Remove", key=f"seen_remove_{place}", on_click=_remove, args=(place,)
        )
    return records


def _add(
    source: Literal["job", "data-sheet", "check"],
    coats: tuple[int, int],
    over: str,
    how: str,
    shelf: Shelf,
) -> None:
    st.session_state[_TROUBLE] = ""
    low, high = coats
    try:
        record = Seen(
            source,
            1 if how == "not" else low,
            high,
            hid=how != "not",
            undercoat=next((each for each in shelf if each.name == over), None),
            looked=how != "late",
        )
    except ShadecoreError as error:
        st.session_state[_TROUBLE] = str(error)
        return
    st.session_state[SEEN_START] = (*st.session_state[SEEN_START], record)


def _remove(place: int) -> None:
    records = st.session_state[SEEN_START]
    st.session_state[SEEN_START] = (*records[:place], *records[place + 1 :])
