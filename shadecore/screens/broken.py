"""What stands in place of a page that broke."""

import streamlit as st

from shadecore.telling.phone_words import BROKEN


def show() -> None:
    """Say so in one sentence, with a way back; no page ever shows a traceback."""
    st.error(BROKEN)
    # A plain link: it starts a new session, whatever was wrong with this one.
    st.html('<p><a href="/" target="_self">Back to the start</a></p>')
