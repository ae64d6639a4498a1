"""Whether two sealers may be mixed, and how strongly the darker one counts."""

import streamlit as st

from shadecore.errors import ShadecoreError
from shadecore.question.plain import RANGES
from shadecore.question.question import Question
from shadecore.screens import say
from shadecore.screens.pick.widgets import fill
from shadecore.undercoats.blends import strength_from_blend
from shadecore.undercoats.shelf import Shelf


def ask_mixing(question: Question) -> None:
    """Ask whether two sealers may be mixed.

    Parameters
    ----------
    question : Question
        What is set so far.
    """
    fill(question, "blends", "strength")
    st.toggle("Two sealers may be mixed", key="blends")
    if question.mixing.allowed:
        st.number_input(
            "Strength of the darker one in a mix of two sealers",
            *RANGES["strength"],
            step=0.1,
            key="strength",
            help="1 unless you mixed two and measured the mix; then work it out below.",
        )
        _work_out(question.shelf)


def _work_out(shelf: Shelf) -> None:
    st.markdown("From a mix that was measured:")
    names = [each.name for each in shelf]
    by_name = dict(zip(names, shelf, strict=True))
    left, right = st.columns(2)
    with left:
        lighter = st.selectbox("Lighter", names, key="blend_lighter")
        light_parts = st.number_input("Its parts", 0.1, value=9.0, key="blend_light")
    with right:
        darker = st.selectbox("Darker", names, len(names) - 1, key="blend_darker")
        dark_parts = st.number_input("Its parts", 0.1, value=1.0, key="blend_dark")
    measured = st.number_input("Measured L* of the dry mix", 0.0, 100.0, 80.0)
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
