"""The shop's book opened once for all sessions, its settings, and what went wrong."""

from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache
from typing import Any, Final, TypeVar

import streamlit as st

from shadecore.book.book import Book, open_book
from shadecore.book.kept import Kept
from shadecore.book.shop_records import ShopSettings
from shadecore.book.where import book_path
from shadecore.errors import ShadecoreError
from shadecore.pages.letterhead import Letterhead

T = TypeVar("T")
_TROUBLE: Final = "shop_trouble"
_BOOKS_OPEN: Final = 8
"""A shop has one; a test opens more, one after the other."""


@lru_cache(_BOOKS_OPEN)
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
        tell(error)
        return None


def find(record: type[T], uid: str) -> Kept[T] | None:
    """A thing that the book holds.

    Parameters
    ----------
    record : type
        Class of its record.
    uid : str
        Its ``uid``; a name is not enough.

    Returns
    -------
    Kept or None
        None where there is none, or it lies in the bin.
    """
    shop = book()
    if shop is None or not uid:
        return None
    try:
        kept = shop.show(record, uid)
    except ShadecoreError:
        return None
    return None if kept.removed is not None or kept.uid != uid else kept


def trouble() -> str:
    """Why the last change could not be kept.

    Returns
    -------
    str
        A sentence; empty where all is well.
    """
    found: str = st.session_state.get(_TROUBLE, "")
    return found


def tell(trouble: object) -> None:
    """Note what could not be kept, for :func:`trouble`.

    Parameters
    ----------
    trouble : object
        An error or a text; empty where all is well again.
    """
    st.session_state[_TROUBLE] = str(trouble)


def done(change: Callable[[], object]) -> bool:
    """Do a change of the book, or note what stood against it.

    Parameters
    ----------
    change : callable
        Does it.

    Returns
    -------
    bool
        Whether it was done.
    """
    try:
        change()
    except ShadecoreError as error:
        tell(error)
        return False
    tell("")
    return True


def settings() -> ShopSettings:
    """How the shop works; as usual where there is no book.

    Returns
    -------
    ShopSettings
    """
    shop = book()
    return ShopSettings() if shop is None else shop.settings().thing


def letterhead() -> Letterhead:
    """What the shop's prints carry.

    Returns
    -------
    Letterhead
        Bare where nobody said.
    """
    now = settings()
    return Letterhead(now.shop, now.paper)


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
        tell(error)
