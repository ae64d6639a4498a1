"""A test card's readings, typed or uploaded."""

import pandas as pd
import streamlit as st

from shadecore.card.card_table import parse_card
from shadecore.card.reading import Card
from shadecore.colour.condition import Condition
from shadecore.errors import ShadecoreError
from shadecore.formats.table import decode, read_rows
from shadecore.screens import say
from shadecore.screens.ask import TROUBLE

_Row = tuple[str, float, float | None, float | None, float | None]
_COLUMNS = ("area", "coats", "L", "a", "b")
_EMPTY: list[_Row] = [("black", 2, None, None, None), ("white", 2, None, None, None)]

EXPLANATION = (
    "Spray a black-and-white card with the paint as mixed, with the gun as set, one or "
    "more steps of coats; let it dry and read it over black and over white. *Full* is "
    "the paint where it hides; *0 coats* is the bare card, black under 1 % and white "
    "80 % unless given."
)


def ask_card(condition: Condition) -> tuple[str, Card | None]:
    """Ask for the readings of a card.

    Parameters
    ----------
    condition : Condition
        How it was read.

    Returns
    -------
    text : str
        The readings as CSV, empty for none.
    card : Card or None
        The card, None while there is none that can be used.
    """
    st.markdown(EXPLANATION)
    st.file_uploader(
        "Readings from a CSV file (area, coats, L, a, b; or Y; or a spectrum)",
        type=["csv", "txt"],
        key="card_file",
        on_change=_take_card,
    )
    if st.session_state.get("card_trouble"):
        say.error(st.session_state["card_trouble"])
    start = st.session_state["card_start"]
    text = start
    if _is_lab(start):
        text = _edited(start)
    else:
        st.text("The uploaded readings are spectra or Y values and stand as uploaded.")
    if not text:
        return "", None
    st.button("Do without the card", on_click=_drop_card)
    try:
        return text, parse_card(text, "The card", condition)
    except ShadecoreError as error:
        st.session_state[TROUBLE].append(f"{error} The answer does without the card.")
        return text, None


def _edited(start: str) -> str:
    """The readings as they stand in the table; empty while none is complete."""
    edited = st.data_editor(
        _frame(start),
        num_rows="dynamic",
        hide_index=True,
        width="stretch",
        column_config={
            "area": st.column_config.SelectboxColumn(
                options=["black", "white", "full"], required=True
            ),
            "coats": st.column_config.NumberColumn(min_value=0, max_value=20, step=1),
        },
        key=f"card_editor_{st.session_state['card_edition']}",
    )
    complete = edited.dropna(subset=["area", "L"])
    return "" if complete.empty else str(complete.to_csv(index=False))


def _frame(text: str) -> pd.DataFrame:
    rows = list(_EMPTY)
    if text:
        rows = [
            (
                row.cells["area"],
                row.number_or("coats", 0.0),
                row.number("l"),
                row.number_or("a", 0.0),
                row.number_or("b", 0.0),
            )
            for row in read_rows(text, "The card", ("area", "l"))
        ]
    frame = pd.DataFrame(rows, columns=list(_COLUMNS))
    return frame.astype(
        {"coats": "float64", "L": "float64", "a": "float64", "b": "float64"}
    )


def _is_lab(text: str) -> bool:
    """Whether readings fit the table of Lab values."""
    if not text:
        return True
    try:
        _frame(text)
    except ShadecoreError:
        return False
    return True


def _take_card() -> None:
    upload = st.session_state["card_file"]
    st.session_state["card_trouble"] = ""
    if upload is None:
        return
    try:
        text = decode(upload.getvalue(), upload.name)
        parse_card(text, upload.name)
    except ShadecoreError as error:
        st.session_state["card_trouble"] = str(error)
        return
    st.session_state["card_start"] = text
    st.session_state["card_edition"] += 1


def _drop_card() -> None:
    st.session_state["card_start"] = ""
    st.session_state["card_trouble"] = ""
    st.session_state["card_edition"] += 1
