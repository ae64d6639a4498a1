"""The shop's book: its shelf, paint, sheets, settings, bin, and ways in and out."""

from collections.abc import Callable
from typing import Final

import streamlit as st

from shadecore.book.book import Book
from shadecore.errors import ShadecoreError
from shadecore.screens import say, session, shop
from shadecore.screens.book import (
    exchange,
    left_overs,
    paints,
    photos,
    settings,
    sheets,
    shelves,
    steps,
    the_bin,
    whole,
)
from shadecore.screens.book.change import run_again_if_stale
from shadecore.screens.kept_bar import show_last_change

_PART: Final = "book_part"
_PARTS: Final[dict[str, Callable[[Book], None]]] = {
    "Shelf": shelves.show,
    "Paint and guns": paints.show,
    "Product sheets": sheets.show,
    "Left-overs": left_overs.show,
    "Steps": steps.show,
    "Photos": photos.show,
    "Settings": settings.show,
    "In and out": exchange.show,
    "Backup": whole.show,
    "Bin": the_bin.show,
}


def page() -> None:
    """Run the page from top to bottom."""
    session.leave_link()
    st.title("The shop's book", anchor=False)
    book = shop.book()
    # What goes wrong below is said up here, so the place is filled last.
    trouble = st.container()
    if book is not None:
        _show_parts(book)
    if shop.trouble():
        with trouble:
            say.warning(shop.trouble())


def _show_parts(book: Book) -> None:
    if book.read_only:
        say.warning("The book's file may only be read, so nothing can be changed.")
    part = st.segmented_control(
        "Part of the book",
        list(_PARTS),
        default="Shelf",
        key=_PART,
        required=True,
        label_visibility="collapsed",
    )
    try:
        _PARTS[part](book)
    except ShadecoreError as error:
        say.error(error)
    show_last_change()
    run_again_if_stale()
