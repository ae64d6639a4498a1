"""What a photo leaves in the book: itself beside its colour, or an undercoat."""

from dataclasses import replace
from typing import Final

import streamlit as st

from shadecore.book.records import BookPhoto
from shadecore.book.shelf_note import FROM_PHOTO
from shadecore.book.working import own_shelf
from shadecore.errors import ShadecoreError
from shadecore.photo.measure import PhotoColour
from shadecore.screens import session, shop, shop_shelf
from shadecore.telling.photo_words import PHOTO_SURE, photo_colour_words
from shadecore.undercoats.shelf import check_shelf, undercoat

_NAME: Final = "photo_undercoat"


def keep_photos(photos: list[tuple[str, bytes]]) -> None:
    """Keep photos beside the colour that the session works on.

    Parameters
    ----------
    photos : list of (str, bytes)
        Names and files; one that is kept already is left out.
    """
    book, colour = shop.book(), shop.colour()
    if book is None or colour is None:
        return
    known = book.list(BookPhoto, belongs={"colour": colour.uid})
    names = {each.thing.name for each in known}
    try:
        for name, content in photos:
            if name not in names:
                book.add_photo(BookPhoto(colour.uid, name), content)
    except ShadecoreError as error:
        shop.tell(error)


def ask_undercoat(colour: PhotoColour) -> None:
    """Let the measured colour go on the shelf as an undercoat, with its doubt.

    Parameters
    ----------
    colour : PhotoColour
        What was measured.
    """
    book = shop.book()
    if book is None or book.read_only:
        return
    with (
        st.popover("It is a sealer"),
        st.form("photo_undercoat_form", border=False),
    ):
        name = st.text_input("Name on the shelf", key=_NAME)
        if st.form_submit_button("Put it on the shelf", type="primary"):
            shop.tell("")
            try:
                _put_on_shelf(name, colour)
            except ShadecoreError as error:
                shop.tell(error)
            st.rerun()


def _put_on_shelf(name: str, colour: PhotoColour) -> None:
    lab = tuple(round(float(value), 1) for value in colour.lab)
    book = shop.book()
    if book is None:
        return
    # A link may have brought other greys: the shop's own shelf is what gets one more.
    asked, shelf = (
        check_shelf((*greys, undercoat(name, lab)))
        for greys in (session.question().shelf, own_shelf(book))
    )
    read = f"{photo_colour_words(colour)} ({PHOTO_SURE})"
    shop_shelf.keep_shelf(shelf, line=f"{shelf[-1].name}: {read}{FROM_PHOTO}")
    session.put(replace(session.question(), shelf=asked), ())
