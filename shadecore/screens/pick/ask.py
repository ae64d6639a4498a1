"""What every answer needs: the colour and its kind, in one row."""

from typing import Final

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from shadecore.colour.topcoat import HOW_TO_WRITE
from shadecore.screens.pick import ask_kind

COLOUR_LABEL: Final = "Topcoat colour"
_FOCUS: Final = f"""<script>
let looks = 0;
const look = setInterval(() => {{
  const box = document.querySelector('input[aria-label="{COLOUR_LABEL}"]');
  looks += 1;
  if (!box && looks < 50) return;
  clearInterval(look);
  // A box of our own lies in a part with a shadow root, which has the focus for it.
  const there = document.activeElement;
  const busy = there.shadowRoot || there.matches(
    "input, textarea, button, a:not([href*='/pick'])");
  if (box && !busy && matchMedia("(pointer: fine)").matches) {{
    box.focus();
    box.select();
  }}
}}, 100);
</script>"""
"""Looks for the box for five seconds, since it may be drawn after this."""


def ask_colour() -> tuple[DeltaGenerator, DeltaGenerator]:
    """Ask for the colour and its kind, beside the page's name.

    Returns
    -------
    angles, bar : DeltaGenerator
        Places in the same line, or in the next one where a screen is narrow: for
        readings at several angles, and for what the colour is kept as. They keep
        their height while they are empty, so that nothing below them moves.
    """
    with st.container(
        horizontal=True, gap="xsmall", vertical_alignment="bottom", key="pick_ask"
    ):
        st.title("Which sealer?", anchor=False, width="content")
        st.text_input(
            COLOUR_LABEL,
            key="colour",
            help=f"The colour code's Lab values, or: {HOW_TO_WRITE}.",
            placeholder="45 60 35",
        )
        ask_kind.ask_kind()
        with st.container(
            horizontal=True, gap="xsmall", vertical_alignment="center", key="pick_bar"
        ):
            angles = st.container(width="content", key="pick_angles")
            return angles, st.container(key="pick_kept_as")


def focus_colour() -> None:
    """Put the cursor into the colour's box where there is a keyboard."""
    st.html(_FOCUS, unsafe_allow_javascript=True)
