"""What is left of paints: kept with its day, and whether it may be used."""

from collections.abc import Sequence
from datetime import date, datetime
from typing import Final

import streamlit as st

from shadecore.book.book import Book
from shadecore.book.left_overs import judged, left_over, sheets_of
from shadecore.book.records import BookColour
from shadecore.book.shop_records import BookLeftOver
from shadecore.errors import ShadecoreError
from shadecore.products.product import ProductSheet
from shadecore.screens import say, shop
from shadecore.screens.book import named
from shadecore.screens.open_book import done
from shadecore.telling.left_over_words import left_over_words
from shadecore.units import UNITS

_FORM: Final = "left_over"
_CAN: Final = "An opened can"
_MIX: Final = "A mix"


def show(book: Book) -> None:
    """Show what is left, and let more be kept.

    Parameters
    ----------
    book : Book
        The book.
    """
    today = datetime.now().astimezone().date()
    sheets, units = sheets_of(book), UNITS[shop.settings().units]
    there = book.list(BookLeftOver)
    if not there:
        st.markdown(
            "Nothing is left over. Mixed two-pack paint is waste and is not kept."
        )
    for kept in there:
        with st.container(horizontal=True, vertical_alignment="center"):
            say.words(left_over_words(judged(sheets, kept, today), units))
            named.show_menu(kept, kept.uid)
    _ask(book, sheets, today)


def _ask(book: Book, sheets: Sequence[ProductSheet], today: date) -> None:
    """Ask for what is left, and keep it."""
    products = [each for sheet in sheets for each in sheet.products if each.components]
    names = {each.key: each.name for each in reversed(products)}
    colours = {"": "None", **{e.uid: e.thing.name for e in book.list(BookColour)}}
    with st.form(_FORM, border=True):
        st.markdown("**Keep what is left**")
        first, second, third = st.columns(3)
        word = first.selectbox("Product", list(names), format_func=names.__getitem__)
        name = first.text_input("Name", placeholder="Red base, shelf 2")
        amount = second.text_input("How much", placeholder="200 ml")
        batch = second.text_input("Batch")
        since = third.date_input("Mixed or opened", today, format="YYYY-MM-DD")
        what = third.selectbox("What it is", (_MIX, _CAN))
        colour = first.selectbox(
            "Colour", list(colours), format_func=lambda uid: colours[uid]
        )
        if not st.form_submit_button("Keep", type="primary"):
            return
        day = since if isinstance(since, date) else today
        try:
            left = left_over(
                *(sheets, word, amount, day, today),
                mixed=what == _MIX,
                batch=batch.strip(),
            )
        except ShadecoreError as error:
            # Beside the button: on a phone the page's head is out of sight here.
            say.error(error)
            return
    usual = f"{names[word]}, {colours[colour]}" if colour else names[word]
    thing = BookLeftOver(name.strip() or usual, left, colour=colour)
    if done(lambda: book.add(thing)):
        st.rerun()
