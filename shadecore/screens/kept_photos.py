"""Photos that somebody chose to keep: shown with their colour, saved, removed."""

from base64 import b64encode
from functools import lru_cache
from html import escape
from typing import Final

import streamlit as st

from shadecore.book.book import Book
from shadecore.book.kept import Kept
from shadecore.book.records import BookColour, BookPhoto
from shadecore.errors import ShadecoreError
from shadecore.screens import say, shop, shop_things
from shadecore.telling.book_words import photos_words

_REMEMBERED: Final = 64
"""Small pictures kept in memory, of some 40 kB each."""


def show_photos_of(kept: Kept[BookColour], key: str) -> None:
    """Offer the photos of a colour; none where it has none.

    Parameters
    ----------
    kept : Kept of BookColour
        The colour.
    key : str
        For the widgets.
    """
    book = shop.book()
    photos = () if book is None else book.list(BookPhoto, belongs={"colour": kept.uid})
    if book is None or not photos:
        return
    # A closed one draws no picture.
    label = photos_words(len(photos))
    with st.popover(label.capitalize(), key=key, on_change="rerun") as found:
        if found.open:
            for photo in photos:
                show_photo(book, photo, kept.thing.name, key)


def show_photo(book: Book, photo: Kept[BookPhoto], colour: str, key: str) -> None:
    """Show a photo, with ways to save and remove it.

    Parameters
    ----------
    book : Book
        The book.
    photo : Kept of BookPhoto
        The photo.
    colour : str
        Name of the colour that it belongs to.
    key : str
        For the widgets.
    """
    try:
        content = book.picture(photo)
        drawn = _drawn(content)
    except (ShadecoreError, OSError):
        say.error(f"The photo {photo.thing.name!r} cannot be read; restore a backup.")
        return
    name = photo.thing.name or "Photo"
    said = escape(f"Photo of {colour}: {name}")
    st.html(f'<img class="sc-photo" src="{drawn}" alt="{said}">')
    with st.container(horizontal=True, vertical_alignment="center", gap="small"):
        st.markdown(f":small[{say.plain(name)}]")
        st.download_button(
            "Save it",
            content,
            "photo.jpg",
            "image/jpeg",
            key=f"{key}_save_{photo.uid}",
            on_click="ignore",
        )
        st.button(
            "Remove",
            key=f"{key}_remove_{photo.uid}",
            help="Into the bin of the book; Undo brings it back.",
            on_click=shop_things.remove,
            args=(photo,),
        )


@lru_cache(_REMEMBERED)
def _drawn(content: bytes) -> str:
    """A small copy of a picture as an address of its own."""
    # Readers of pictures take a moment to import, and only photos need them.
    from shadecore.book.photo_copy import small_copy  # noqa: PLC0415

    encoded = b64encode(small_copy(content)).decode("ascii")
    return f"data:image/jpeg;base64,{encoded}"
