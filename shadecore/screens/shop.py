"""The shop's book on the pages: opened once for all, kept as somebody works.

A link carries the whole question, so it opens the same answer on another computer. The
``uid`` of the book's colour stands beside it: a book that does not hold it says so.
"""

from dataclasses import replace
from typing import Any, Final

import streamlit as st

from shadecore.book.book import Book, open_book
from shadecore.book.errors import BookConflict
from shadecore.book.kept import Kept
from shadecore.book.records import BookColour, BookShelf, Stocked
from shadecore.book.shop_records import ShopSettings
from shadecore.book.where import book_path
from shadecore.book.working import asked_again, save, shop_question
from shadecore.errors import ShadecoreError
from shadecore.question.question import Question
from shadecore.screens import session
from shadecore.undercoats.shelf import Shelf

COLOUR_ID: Final = "colour_id"
"""Parameter of a link: ``uid`` of the colour in the book."""
JOB_ID: Final = "job_id"
"""Parameter of a link: ``uid`` of the job in the book."""
OWN_SHELF: Final = "Our shelf"
_SAVED: Final = "shop_saved"
_TROUBLE: Final = "shop_trouble"


@st.cache_resource(show_spinner=False, max_entries=8)
def _opened(path: str) -> Book:
    return open_book(path)


def book() -> Book | None:
    """The shop's book, the same for all sessions.

    Returns
    -------
    Book or None
        None where it cannot be opened; :func:`trouble` then says why.
    """
    try:
        return _opened(str(book_path()))
    except ShadecoreError as error:
        st.session_state[_TROUBLE] = str(error)
        return None


def trouble() -> str:
    """Why the last change could not be kept.

    Returns
    -------
    str
        A sentence; empty where all is well.
    """
    found: str = st.session_state.get(_TROUBLE, "")
    return found


def settings() -> ShopSettings:
    """How the shop works; as usual where there is no book.

    Returns
    -------
    ShopSettings
    """
    shop = book()
    return ShopSettings() if shop is None else shop.settings().thing


def change_settings(**values: Any) -> None:  # noqa: ANN401 - of any field
    """Change how the shop works.

    Parameters
    ----------
    **values
        Fields of ShopSettings.
    """
    shop = book()
    if shop is None:
        return
    try:
        kept = shop.settings()
        shop.change(kept, replace(kept.thing, **values))
    except ShadecoreError as error:
        st.session_state[_TROUBLE] = str(error)


def start() -> Question:
    """The question that a session without a link begins with.

    Returns
    -------
    Question
        With the shop's shelf and units, and what its line and gun have taught.
    """
    shop = book()
    if shop is None:
        return Question()
    try:
        return shop_question(shop)
    except ShadecoreError as error:
        st.session_state[_TROUBLE] = str(error)
        return Question()


def begin() -> None:
    """Give a session that asks nothing yet the shop's own question to begin with."""
    if not session.begun():
        session.put(start(), ())


def colour() -> Kept[BookColour] | None:
    """The book's colour that the session works on.

    Returns
    -------
    Kept of BookColour or None
        None where there is none, or the link names one that this book does not hold.
    """
    shop, uid = book(), session.parameters().get(COLOUR_ID, "")
    if shop is None or not uid:
        return None
    try:
        kept = shop.show(BookColour, uid)
    except ShadecoreError:
        return None
    return None if kept.removed is not None or kept.uid != uid else kept


def from_elsewhere() -> bool:
    """Whether the link names a colour that this book does not hold.

    Returns
    -------
    bool
    """
    return bool(session.parameters().get(COLOUR_ID)) and colour() is None


def keep_colour(question: Question) -> None:
    """Keep what the session asks, where it changed since it was kept last.

    A link from elsewhere is not kept until somebody says so: see :func:`take_in`.

    Parameters
    ----------
    question : Question
        What is asked; one that has an answer.
    """
    shop = book()
    if shop is None or shop.read_only or from_elsewhere():
        return
    if st.session_state.get(_SAVED) == question:
        return
    now = colour()
    if now is None and question == start():
        return
    try:
        kept = save(shop, question, "" if now is None else now.uid)
    except BookConflict as error:
        st.session_state[_TROUBLE] = str(error)
        return
    except ShadecoreError as error:
        st.session_state[_TROUBLE] = str(error)
        return
    st.session_state[_TROUBLE] = ""
    st.session_state[_SAVED] = question
    session.keep(question, {COLOUR_ID: kept.uid})


def take_in() -> None:
    """Take the colour of a link from elsewhere into this book."""
    session.drop(COLOUR_ID)
    st.session_state.pop(_SAVED, None)
    keep_colour(session.question())


def open_colour(kept: Kept[BookColour]) -> None:
    """Go on with a colour of the book, on every page.

    Parameters
    ----------
    kept : Kept of BookColour
        The colour.
    """
    shop = book()
    if shop is None:
        return
    read = asked_again(shop, kept)
    st.session_state[_SAVED] = read.question
    session.drop(JOB_ID)
    session.put(read.question, read.problems, {COLOUR_ID: kept.uid})


def new_colour() -> None:
    """Begin another colour, with the shop's shelf."""
    st.session_state.pop(_SAVED, None)
    session.drop(COLOUR_ID)
    session.drop(JOB_ID)
    session.put(start(), ())


def keep_shelf(shelf: Shelf) -> None:
    """Make a shelf the shop's own, in use until another is kept.

    Parameters
    ----------
    shelf : tuple of Undercoat
        The shelf; what is in stock of an undercoat stays with its name.
    """
    shop = book()
    if shop is None or shop.read_only:
        return
    try:
        named = shop.settings().thing.shelf
        if not named:
            items = tuple(Stocked(each) for each in shelf)
            change_settings(shelf=shop.add(BookShelf(OWN_SHELF, items)).uid)
            return
        kept = shop.show(BookShelf, named)
        stock = {each.undercoat.name: each.stock for each in kept.thing.items}
        items = tuple(Stocked(each, stock.get(each.name)) for each in shelf)
        if items != kept.thing.items:
            shop.change(kept, replace(kept.thing, items=items))
    except ShadecoreError as error:
        st.session_state[_TROUBLE] = str(error)


def undo() -> str:
    """Take the book's last change back, and show the colour as it then is.

    Returns
    -------
    str
        What was taken back; empty where nothing could be.
    """
    shop = book()
    if shop is None:
        return ""
    try:
        what = shop.undo().what
    except ShadecoreError as error:
        st.session_state[_TROUBLE] = str(error)
        return ""
    st.session_state.pop(_SAVED, None)
    kept = colour()
    if kept is None:
        new_colour()
    else:
        open_colour(kept)
    return what
