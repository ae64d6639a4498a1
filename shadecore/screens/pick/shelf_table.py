"""The shelf as a table: a large one, prices, a file in and out."""

from collections.abc import Mapping
from typing import Final

import pandas as pd
import streamlit as st

from shadecore.errors import ShadecoreError
from shadecore.formats.bad_rows import BadRow
from shadecore.formats.table import decode
from shadecore.question.question import Question
from shadecore.screens import say, session, shop_shelf
from shadecore.screens.pick import chips
from shadecore.undercoats.shelf import Shelf
from shadecore.undercoats.shelf_table import parse_shelf, parse_stock, write_shelf

_FILE: Final = "shelf_file"
_TROUBLE: Final = "shelf_table_trouble"
_TAKEN: Final = "shelf_taken"


def ask_shelf(question: Question) -> None:
    """Show the shelf as a table, and take another from the table or a file.

    Parameters
    ----------
    question : Question
        What is asked.
    """
    st.file_uploader(
        "Shelf from a CSV file (name, L, and a, b, price, unit, stock)",
        type=["csv", "txt"],
        key=_FILE,
        on_change=_take_file,
    )
    with st.form("shelf_table_form", border=False):
        edited = st.data_editor(
            _frame(question.shelf),
            num_rows="dynamic",
            hide_index=True,
            width="stretch",
            placeholder="",
        )
        if st.form_submit_button("Use this shelf"):
            _take_table(edited, question.shelf)
    if st.session_state.get(_TROUBLE):
        say.error(st.session_state[_TROUBLE])
    st.download_button(
        "Save the shelf as CSV",
        write_shelf(question.shelf, shop_shelf.own_stock()),
        "shelf.csv",
        "text/csv",
        on_click="ignore",
    )
    if st.session_state.pop(_TAKEN, False):
        # The answer above is another one now.
        st.rerun()


def _take_file() -> None:
    upload = st.session_state[_FILE]
    st.session_state[_TROUBLE] = ""
    if upload is None:
        return
    condition = session.question().condition
    try:
        text = decode(upload.getvalue(), upload.name)
        held, bad = parse_stock(text, upload.name, condition)
    except ShadecoreError as error:
        st.session_state[_TROUBLE] = str(error)
        return
    stock = {each.undercoat.name: each.stock for each in held}
    _take(tuple(each.undercoat for each in held), bad, stock)


def _take_table(edited: pd.DataFrame, before: Shelf) -> None:
    st.session_state[_TROUBLE] = ""
    shown = _frame(before)
    if edited.equals(shown):
        return
    try:
        shelf, bad = parse_shelf(edited.to_csv(index=False), "The shelf")
    except ShadecoreError as error:
        st.session_state[_TROUBLE] = f"{error} The shelf before is used meanwhile."
        return
    # A row that was left alone keeps its measured spectrum.
    untouched = dict(zip(_rows(before), before, strict=True))
    rows = _rows(shelf)
    _take(tuple(map(untouched.get, rows, shelf)), bad)


def _take(
    shelf: Shelf,
    bad: tuple[BadRow, ...],
    stock: Mapping[str, float | None] | None = None,
) -> None:
    if bad:
        left_out = "; ".join(str(row) for row in bad)
        st.session_state[_TROUBLE] = f"Left out of the shelf: {left_out}"
    chips.put(shelf, stock)
    st.session_state[_TAKEN] = True


def _frame(shelf: Shelf) -> pd.DataFrame:
    return pd.DataFrame(
        {
            "name": [each.name for each in shelf],
            "L": [round(each.lab[0], 2) for each in shelf],
            "a": [round(each.lab[1], 2) for each in shelf],
            "b": [round(each.lab[2], 2) for each in shelf],
            "price": pd.Series([each.price for each in shelf], dtype="float64"),
            "unit": [each.unit for each in shelf],
        }
    )


def _rows(shelf: Shelf) -> list[str]:
    return [str(row) for row in _frame(shelf).to_numpy().tolist()]
