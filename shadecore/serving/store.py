"""The one place where the server and its pages meet, held by Streamlit's own store."""

import streamlit as st

from shadecore.book.where import book_path
from shadecore.serving.keys import FILE_NAME
from shadecore.serving.state import Serving


@st.cache_resource(show_spinner=False)
def serving() -> Serving:
    """What the server and its pages share in this process.

    Returns
    -------
    Serving
        Always the same; with nothing shared at first.
    """
    return Serving(book_path().with_name(FILE_NAME))


@st.cache_resource(show_spinner=False)
def turned_away() -> set[str]:
    """Visitors of whose files one was not taken in, by their session.

    Returns
    -------
    set of str
        Always the same; a page takes its own out when it is left.
    """
    return set()
