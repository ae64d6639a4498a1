"""Ways from one page to another."""

from typing import Final

import streamlit as st
from streamlit.navigation.page import StreamlitPage

_PAGES: Final = "pages"
_TO_THE_TOP: Final = """
<style class="sc-top">
[data-testid="stElementContainer"]:has(.sc-top) {display: none;}
</style>
<script>/* PAGE */
document.querySelector('[data-testid="stMain"]').scrollTo(0, 0);
</script>"""
"""The page's name makes it another script on each page: the browser runs one again only
when its text changes."""


def remember(pages: dict[str, StreamlitPage]) -> None:
    """Keep the pages, so that each can lead to the others.

    Parameters
    ----------
    pages : dict of str to StreamlitPage
        By their names.
    """
    st.session_state[_PAGES] = pages


def begin_at_top(page: str) -> None:
    """Let a page begin at its top, wherever the one before had been left.

    Parameters
    ----------
    page : str
        Its address.
    """
    script = _TO_THE_TOP.replace("PAGE", page)
    st.html(script, unsafe_allow_javascript=True)


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
