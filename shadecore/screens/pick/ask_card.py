"""A test card's readings, typed or uploaded."""

from itertools import chain
from typing import Final

import pandas as pd
import streamlit as st

from shadecore.card.card_table import parse_card
from shadecore.card.reading import DEFAULT_BLACK, DEFAULT_WHITE, LAB, Card
from shadecore.colour.condition import WORKING, Condition
from shadecore.errors import ShadecoreError
from shadecore.formats.table import decode
from shadecore.screens import say
from shadecore.screens.pick.settings_row import CARD_START

_EDITION: Final = "card_edition"
_TROUBLE_HERE: Final = "card_trouble"
_KEPT: Final = (
    "The card is kept as it was read in, carried to D65/10 degrees, 45/0. To change "
    "it, read its file in again."
)
_Row = tuple[str, float, float | None, float | None, float | None]
_COLUMNS = ("area", "coats", "L", "a", "b")
_EMPTY: list[_Row] = [("black", 2, None, None, None), ("white", 2, None, None, None)]

EXPLANATION = (
    "Spray a black-and-white card with the paint as mixed, with the gun as set, one or "
    "more steps of coats; let it dry and read it over black and over white. *Full* is "
    "the paint where it hides; *0 coats* is the bare card, black under 1 % and white "
    "80 % unless given."
)


def ask_card(condition: Condition) -> tuple[Card | None, str]:
    """Ask for the readings of a card.

    Parameters
    ----------
    condition : Condition
        How it was read.

    Returns
    -------
    card : Card or None
        None while there is none that can be used.
    trouble : str
        What is wrong with it; empty where nothing is.
    """
    st.markdown(EXPLANATION)
    st.file_uploader(
        "Readings from a CSV file (area, coats, L, a, b; or Y; or a spectrum)",
        type=["csv", "txt"],
        key="card_file",
        on_change=_take_card,
        args=(condition,),
    )
    if st.session_state.get(_TROUBLE_HERE):
        say.error(st.session_state[_TROUBLE_HERE])
    start: Card | None = st.session_state[CARD_START]
    card, trouble = start, ""
    if start is None or (condition == WORKING and _is_lab(start)):
        card, trouble = _edited(start, condition)
    else:
        st.text(_KEPT)
    if card is not None:
        st.button("Do without the card", on_click=start_card, args=(None,))
    return card, trouble


def start_card(card: Card | None) -> None:
    """Put a card in place of the one being edited.

    Parameters
    ----------
    card : Card or None
        The card; None for none.
    """
    st.session_state[CARD_START] = card
    st.session_state[_TROUBLE_HERE] = ""
    st.session_state[_EDITION] = st.session_state.get(_EDITION, 0) + 1


def _edited(start: Card | None, condition: Condition) -> tuple[Card | None, str]:
    """The card as it stands in the table; None while it has no complete row."""
    before = _frame(start)
    edited = st.data_editor(
        before,
        num_rows="dynamic",
        hide_index=True,
        width="stretch",
        placeholder="",
        column_config={
            "area": st.column_config.SelectboxColumn(
                options=["black", "white", "full"], required=True
            ),
            "coats": st.column_config.NumberColumn(min_value=0, max_value=20, step=1),
        },
        key=f"card_editor_{st.session_state[_EDITION]}",
    )
    if edited.equals(before):
        return start, ""
    complete = edited.dropna(subset=["area", "L"])
    if complete.empty:
        return None, ""
    try:
        return parse_card(complete.to_csv(index=False), "The card", condition), ""
    except ShadecoreError as error:
        return None, f"{error} The answer does without the card."


def _frame(card: Card | None) -> pd.DataFrame:
    rows: list[tuple[object, ...]] = list(_EMPTY)
    if card is not None:
        rows = [
            (area, float(step.coats), *reading)
            for step in card.steps
            for area, reading in (
                ("black", step.over_black),
                ("white", step.over_white),
            )
        ]
        if card.full is not None:
            rows.append(("full", 0.0, *card.full))
    frame = pd.DataFrame(rows, columns=list(_COLUMNS))
    return frame.astype(
        {"coats": "float64", "L": "float64", "a": "float64", "b": "float64"}
    )


def _is_lab(card: Card) -> bool:
    """Whether all readings fit the table of Lab values."""
    steps = ((each.over_black, each.over_white) for each in card.steps)
    readings = [*chain.from_iterable(steps), *filter(None, (card.full,))]
    own_areas = (card.black, card.white) != (DEFAULT_BLACK, DEFAULT_WHITE)
    return not own_areas and all(len(each) == LAB for each in readings)


def _take_card(condition: Condition) -> None:
    upload = st.session_state["card_file"]
    st.session_state[_TROUBLE_HERE] = ""
    if upload is None:
        return
    try:
        card = parse_card(
            decode(upload.getvalue(), upload.name), upload.name, condition
        )
    except ShadecoreError as error:
        st.session_state[_TROUBLE_HERE] = str(error)
        return
    start_card(card)
