"""What visitors gave the app to read is given back when they leave its page.

Streamlit holds all files until the session ends; how many it takes in is bounded by
:mod:`shadecore.serving.uploads`.
"""

from typing import Final

import streamlit as st
from streamlit.runtime.scriptrunner import get_script_run_ctx

from shadecore.screens import say
from shadecore.serving.store import turned_away
from shadecore.telling.phone_words import TOO_MANY_FILES

_PAGE: Final = "uploads_page"


def begin(page: str) -> None:
    """Give back the files of a page that was left, and say where some were not taken.

    Parameters
    ----------
    page : str
        Address of the page that is about to be shown.
    """
    context = get_script_run_ctx()
    if context is None:
        return
    session, away = context.session_id, turned_away()
    if st.session_state.setdefault(_PAGE, page) != page:
        st.session_state[_PAGE] = page
        away.discard(session)
        context.uploaded_file_mgr.remove_session_files(session)
    if session in away:
        say.warning(TOO_MANY_FILES)
