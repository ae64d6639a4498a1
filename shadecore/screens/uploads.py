"""What visitors gave the app to read is given back when they leave its page.

Streamlit holds all files until the session ends; how many it takes in is bounded by
:mod:`shadecore.serving.uploads`.
"""

from typing import Final

import streamlit as st
from streamlit.runtime.scriptrunner import get_script_run_ctx

_PAGE: Final = "uploads_page"


def begin(page: str) -> None:
    """Give back the files of a page that was left.

    Parameters
    ----------
    page : str
        Address of the page that is about to be shown.
    """
    context = get_script_run_ctx()
    if context is None or st.session_state.setdefault(_PAGE, page) == page:
        return
    st.session_state[_PAGE] = page
    context.uploaded_file_mgr.remove_session_files(context.session_id)
