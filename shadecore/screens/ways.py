"""Ways from one page to another."""

from typing import Final

import streamlit as st
from streamlit.navigation.page import StreamlitPage

_PAGES: Final = "pages"


def remember(pages: dict[str, StreamlitPage]) -> None:
    """Keep the pages, so that each can lead to the others.

    Parameters
    ----------
    pages : dict of str to StreamlitPage
        By their names.
    """
    st.session_state[_PAGES] = pages


def go_to(name: str, query: dict[str, str] | None = None) -> None:
    """Go on to another page.

    Parameters
    ----------
    name : str
        Its name.
    query : dict of str to str, optional
        Parameters of its link.
    """
    st.switch_page(st.session_state[_PAGES][name], query_params=query)
