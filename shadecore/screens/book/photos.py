"""Photos that stand in the book, with the colours they belong to."""

from typing import Final

import streamlit as st

from shadecore.book.book import Book
from shadecore.book.records import BookColour, BookPhoto
from shadecore.screens import say
from shadecore.screens.kept_photos import show_photo

_AT_ONCE: Final = 6
_MORE: Final = "book_more_photos"


def show(book: Book) -> None:
    """Show the photos, those kept last first.

    Parameters
    ----------
    book : Book
        The book.
    """
    photos = book.list(BookPhoto)
    if not photos:
        st.markdown(
            "None. A photo is kept only where page Photo is told to: a smaller copy, "
            "without where and when it was taken."
        )
        return
    st.caption(
        "Smaller copies, without where and when they were taken. They leave this "
        "computer in a backup and where you save them, and stand in no link and no "
        "job file."
    )
    shown = _AT_ONCE * (1 + st.session_state.get(_MORE, 0))
    columns = st.columns(2, gap="medium")
    for place, photo in enumerate(photos[:shown]):
        with columns[place % 2]:
            name = book.show(BookColour, photo.thing.colour).thing.name
            st.markdown(f"**{say.plain(name)}**")
            show_photo(book, photo, name, "book_photo")
    if len(photos) > shown:
        st.button("More", on_click=_more)


def _more() -> None:
    st.session_state[_MORE] = st.session_state.get(_MORE, 0) + 1
