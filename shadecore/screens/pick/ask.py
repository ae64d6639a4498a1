"""Widgets in, a frozen record out."""

from dataclasses import fields
from typing import Final

import pandas as pd
import streamlit as st

from shadecore.coats.settings import LARGEST_CAP, TOLERANCES
from shadecore.colour.condition import ILLUMINANTS, OBSERVERS, SPECULAR, Condition
from shadecore.colour.topcoat import (
    HOW_TO_WRITE,
    spectrum_line,
    topcoat_from_spectrum,
)
from shadecore.errors import ShadecoreError
from shadecore.formats.table import decode
from shadecore.question.plain import RANGES
from shadecore.question.question import Question
from shadecore.screens import say
from shadecore.telling.numbers import UNIT_NAMES
from shadecore.undercoats.blends import strength_from_blend
from shadecore.undercoats.shelf import Shelf
from shadecore.undercoats.shelf_table import parse_shelf, write_shelf
from shadecore.units import UM_PER_MIL

_MIXES = ((1.0, 1.0), (2.0, 1.0), (3.0, 1.0), (4.0, 1.0), (1.0, 0.0))
START: Final = "shelf_start"
"""Where the session keeps the shelf that the editing started from."""
_EDITION: Final = "shelf_edition"
TROUBLE: Final = "trouble"
"""Where the session keeps what is wrong below the answer, to say it above."""


def ask_first() -> None:
    """Ask for what every answer needs, in one line."""
    colour, tolerance, units = st.columns([3, 2, 1], vertical_alignment="bottom")
    with colour:
        ask_colour()
    with tolerance:
        ask_tolerance()
    with units:
        ask_units()


def ask_colour() -> None:
    """Ask for the topcoat in one box."""
    st.text_input(
        "Topcoat colour",
        key="colour",
        help=f"The colour code's Lab values, or: {HOW_TO_WRITE}.",
        placeholder="45 60 35",
    )


def ask_tolerance() -> None:
    """Ask how close counts as hidden."""
    names = {value: name.replace("-", " ") for name, (value, _) in TOLERANCES.items()}
    choices = [*sorted(names), *{st.session_state["tolerance"]}.difference(names)]
    st.segmented_control(
        "Hidden when seen",
        choices,
        format_func=lambda value: f"{names.get(value, 'own')} ({value:g})",
        key="tolerance",
        required=True,
        help="CIEDE2000 difference to the full colour that counts as hidden.",
    )


def ask_units() -> None:
    """Ask for the system of units."""
    st.segmented_control(
        "Units",
        ["metric", "us"],
        format_func=UNIT_NAMES.__getitem__,
        key="units",
        required=True,
    )


def ask_condition() -> None:
    """Ask how Lab values were measured."""
    st.selectbox("Illuminant", ILLUMINANTS, key="illuminant")
    st.radio(
        "Observer", OBSERVERS, format_func="{}°".format, key="observer", horizontal=True
    )
    st.radio(
        "Specular reflection",
        SPECULAR,
        key="specular",
        horizontal=True,
        help="45/0 instruments exclude it; sphere instruments may include it.",
    )
    st.file_uploader(
        "Or a reflectance spectrum (CSV)",
        type=["csv", "txt"],
        key="spectrum_file",
        on_change=_take_spectrum,
        help="Wavelength in nm and reflectance, every 10 or 20 nm from 400 to 700.",
    )
    _show_trouble("spectrum_trouble")


def _take_spectrum() -> None:
    """Turn an uploaded spectrum into the line that the colour's box reads."""
    upload = st.session_state["spectrum_file"]
    st.session_state["spectrum_trouble"] = ""
    if upload is None:
        return
    try:
        text = decode(upload.getvalue(), upload.name)
        topcoat = topcoat_from_spectrum(text, _condition())
    except ShadecoreError as error:
        st.session_state["spectrum_trouble"] = str(error)
        return
    # The line holds the 45/0 reading, so the mirror reflection is already out.
    st.session_state["specular"] = "excluded"
    st.session_state["colour"] = spectrum_line(topcoat)


def ask_film(question: Question) -> None:
    """Ask for the film of one coat, or for what it can be worked out from.

    Parameters
    ----------
    question : Question
        What is set so far.
    """
    st.toggle("Work it out from the gun and the mix", key="from_gun")
    st.selectbox(
        "Mix, paint to reducer",
        [*_MIXES, *{_mix(question)}.difference(_MIXES)],
        format_func=lambda mix: f"{mix[0]:g}:{mix[1]:g}",
        key="mix",
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
        st.session_state["film_mil"] = question.film.dry_film_um / UM_PER_MIL
        st.number_input(
            "Dry film of one coat (mil)",
            thinnest / UM_PER_MIL,
            thickest / UM_PER_MIL,
            step=0.05,
            key="film_mil",
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
    st.session_state["film_um"] = st.session_state["film_mil"] * UM_PER_MIL


def _mix(question: Question) -> tuple[float, float]:
    return question.film.paint_parts, question.film.reducer_parts


def ask_shelf(question: Question) -> Shelf:
    """Ask what stands on the shelf.

    Parameters
    ----------
    question : Question
        What is set so far.

    Returns
    -------
    tuple of Undercoat
        The shelf as it now stands; the last good one while it is being mended.
    """
    st.file_uploader(
        "Shelf from a CSV file (name, L, and a, b, price, unit)",
        type=["csv", "txt"],
        key="shelf_file",
        on_change=_take_shelf,
    )
    _show_trouble("shelf_trouble")
    start: Shelf = st.session_state[START]
    edited = st.data_editor(
        _shelf_frame(start),
        num_rows="dynamic",
        hide_index=True,
        width="stretch",
        key=f"shelf_editor_{st.session_state[_EDITION]}",
    )
    shelf = _edited_shelf(edited, start)
    st.download_button(
        "Save the shelf as CSV",
        write_shelf(shelf),
        "shelf.csv",
        "text/csv",
        on_click="ignore",
    )
    st.toggle("Two sealers may be mixed", key="blends")
    if question.mixing.allowed:
        _ask_strength(shelf)
    return shelf


def _ask_strength(shelf: Shelf) -> None:
    st.number_input(
        "Strength of the darker one in a blend",
        *RANGES["strength"],
        step=0.1,
        key="strength",
        help="1 unless you mixed and measured a blend; then work it out below.",
    )
    with st.popover("Work it out from a measured blend"):
        names = [each.name for each in shelf]
        by_name = dict(zip(names, shelf, strict=True))
        lighter = st.selectbox("Lighter", names, key="blend_lighter")
        darker = st.selectbox("Darker", names, index=len(names) - 1, key="blend_darker")
        light_parts = st.number_input("Parts of the lighter", 0.1, value=9.0)
        dark_parts = st.number_input("Parts of the darker", 0.1, value=1.0)
        measured = st.number_input("Measured L* of the dry blend", 0.0, 100.0, 80.0)
        try:
            strength = strength_from_blend(
                by_name[lighter], by_name[darker], (light_parts, dark_parts), measured
            )
        except ShadecoreError as error:
            say.warning(error)
            return
        st.button(
            f"Use strength {strength:.2f}",
            on_click=lambda: st.session_state.update(strength=round(strength, 2)),
        )


def _take_shelf() -> None:
    """Put an uploaded shelf in place of the one being edited."""
    upload = st.session_state["shelf_file"]
    st.session_state["shelf_trouble"] = ""
    if upload is None:
        return
    try:
        text = decode(upload.getvalue(), upload.name)
        shelf, bad = parse_shelf(text, upload.name, _condition())
    except ShadecoreError as error:
        st.session_state["shelf_trouble"] = str(error)
        return
    if bad:
        left_out = "; ".join(str(row) for row in bad)
        st.session_state["shelf_trouble"] = f"Left out of the shelf: {left_out}"
    start_shelf(shelf)


def start_shelf(shelf: Shelf) -> None:
    """Put a shelf in place of the one being edited.

    Parameters
    ----------
    shelf : tuple of Undercoat
        The shelf.
    """
    st.session_state[START] = shelf
    st.session_state[_EDITION] = st.session_state.get(_EDITION, 0) + 1


def _condition() -> Condition:
    """How colours and shelf were measured, as the widgets stand."""
    return Condition(*(st.session_state[each.name] for each in fields(Condition)))


def _show_trouble(key: str) -> None:
    if st.session_state.get(key):
        say.error(st.session_state[key])


def _shelf_frame(shelf: Shelf) -> pd.DataFrame:
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


def _edited_shelf(edited: pd.DataFrame, start: Shelf) -> Shelf:
    """Shelf of the edited table; rows left alone keep their measured spectrum."""
    before = _shelf_frame(start)
    if edited.equals(before):
        return start
    try:
        shelf, bad = parse_shelf(edited.to_csv(index=False), "The shelf")
    except ShadecoreError as error:
        st.session_state[TROUBLE].append(f"{error} The shelf before is used meanwhile.")
        return start
    for row in bad:
        say.error(f"The shelf, row {row.line - 1}: {row.reason}")
    rows = before.to_numpy().tolist()
    untouched = {str(row): each for row, each in zip(rows, start, strict=True)}
    own = {each.name: str(row) for each, row in zip(shelf, _rows(shelf), strict=True)}
    return tuple(untouched.get(own[each.name], each) for each in shelf)


def _rows(shelf: Shelf) -> list[list[object]]:
    return list(_shelf_frame(shelf).to_numpy().tolist())
