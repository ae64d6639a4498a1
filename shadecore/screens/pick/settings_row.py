"""What is set less often: buttons that say it and ask when they are opened."""

from collections.abc import Callable
from dataclasses import replace
from typing import Final

import streamlit as st
from streamlit.elements.lib.mutable_popover_container import PopoverContainer

from shadecore.coats.settings import TOLERANCES
from shadecore.question.question import Question
from shadecore.screens.pick.ask_condition import ask_condition
from shadecore.screens.pick.ask_film import ask_film
from shadecore.screens.pick.ask_mixing import ask_mixing
from shadecore.screens.pick.ask_seen import SEEN_START, ask_seen, start_seen
from shadecore.screens.pick.widgets import fill
from shadecore.telling.numbers import UNIT_NAMES
from shadecore.telling.settings_words import (
    card_set,
    condition_set,
    film_set,
    mixing_set,
    records_set,
    tolerance_name,
)
from shadecore.units import UNITS

CARD_START: Final = "card_start"
"""Where the session keeps the card that the editing started from."""
_PREFIX: Final = "set_"
"""Of the keys under which the session keeps whether a button is opened."""


def ask_settings(question: Question) -> tuple[Question, str]:
    """Show what is set, and ask for what is opened.

    Parameters
    ----------
    question : Question
        What is set so far.

    Returns
    -------
    question : Question
        With the test card and the records that are being edited.
    trouble : str
        What is wrong there; empty where nothing is.
    """
    shop = UNITS[question.units]
    with st.container(horizontal=True, gap="xsmall", key="pick_settings"):
        _ask(tolerance_name(question.tolerance), "tolerance", _ask_tolerance, question)
        _ask(film_set(question, shop), "film", ask_film, question)
        question, trouble = _ask_card(question)
        question = _ask_seen(question)
        condition = condition_set(question.condition)
        _ask(condition, "condition", ask_condition, question)
        _ask(mixing_set(question), "mixing", ask_mixing, question)
        _ask(UNIT_NAMES[question.units], "units", _ask_units, question)
    return question, trouble


def forget() -> None:
    """Forget what was edited, since another question took the place."""
    for key in (CARD_START, SEEN_START):
        st.session_state.pop(key, None)


def setting_button(label: str, name: str) -> PopoverContainer:
    """A button that says what is set, and stays open when that changes.

    Parameters
    ----------
    label : str
        What is set.
    name : str
        Of the setting; part of the button's key.

    Returns
    -------
    PopoverContainer
        What is drawn in it is seen while it is open.
    """
    key, said = _PREFIX + name, f"{_PREFIX}{name}_said"
    label_before, was_open = st.session_state.get(said, (label, False))
    if was_open and label != label_before:
        # To Streamlit a button of another label is another button, and closed.
        st.session_state[key] = True
    button = st.popover(label, key=key, on_change="rerun")
    st.session_state[said] = (label, button.open)
    return button


def _ask(
    label: str, name: str, asks: Callable[[Question], None], question: Question
) -> None:
    opened = setting_button(label, name)
    if opened.open:
        with opened:
            asks(question)


def _ask_card(question: Question) -> tuple[Question, str]:
    opened = setting_button(card_set(question), "card")
    if not opened.open:
        st.session_state.pop(CARD_START, None)
        return question, ""
    # Its table takes long to load, and most answers need none.
    from shadecore.screens.pick.ask_card import ask_card, start_card  # noqa: PLC0415

    if CARD_START not in st.session_state:
        start_card(question.card)
    with opened:
        card, trouble = ask_card(question.condition)
    return replace(question, card=card), trouble


def _ask_seen(question: Question) -> Question:
    opened = setting_button(records_set(question), "seen")
    if not opened.open:
        st.session_state.pop(SEEN_START, None)
        return question
    if SEEN_START not in st.session_state:
        start_seen(question.seen)
    with opened:
        return replace(question, seen=ask_seen(question))


def _ask_tolerance(question: Question) -> None:
    fill(question, "tolerance")
    usual = sorted(value for value, _ in TOLERANCES.values())
    st.segmented_control(
        "Hidden when seen",
        [*usual, *{question.tolerance}.difference(usual)],
        format_func=tolerance_name,
        key="tolerance",
        required=True,
        help="How close the last coat must come: edge to edge beside an old panel, or "
        "on a whole car with nothing next to it.",
    )


def _ask_units(question: Question) -> None:
    fill(question, "units")
    st.segmented_control(
        "Units",
        tuple(UNITS),
        format_func=UNIT_NAMES.__getitem__,
        key="units",
        required=True,
    )
