"""How the colour was measured, and a spectrum in the place of its numbers."""

from dataclasses import fields

import streamlit as st

from shadecore.colour.condition import ILLUMINANTS, OBSERVERS, SPECULAR, Condition
from shadecore.colour.topcoat import spectrum_line, topcoat_from_spectrum
from shadecore.errors import ShadecoreError
from shadecore.formats.table import decode
from shadecore.question.question import Question
from shadecore.screens import say
from shadecore.screens.pick.widgets import fill

_TROUBLE = "spectrum_trouble"


def ask_condition(question: Question) -> None:
    """Ask how Lab values were measured.

    Parameters
    ----------
    question : Question
        What is set so far.
    """
    fill(question, *(each.name for each in fields(Condition)))
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
    if st.session_state.get(_TROUBLE):
        say.error(st.session_state[_TROUBLE])


def _take_spectrum() -> None:
    """Turn an uploaded spectrum into the line that the colour's box reads."""
    upload = st.session_state["spectrum_file"]
    st.session_state[_TROUBLE] = ""
    if upload is None:
        return
    condition = Condition(*(st.session_state[each.name] for each in fields(Condition)))
    try:
        text = decode(upload.getvalue(), upload.name)
        topcoat = topcoat_from_spectrum(text, condition)
    except ShadecoreError as error:
        st.session_state[_TROUBLE] = str(error)
        return
    # The line holds the 45/0 reading, so the mirror reflection is already out.
    st.session_state["specular"] = "excluded"
    st.session_state["colour"] = spectrum_line(topcoat)
