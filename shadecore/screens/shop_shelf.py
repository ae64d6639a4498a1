"""The shop's shelf on the pages: what is asked over, and the one that is in use."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Final

import streamlit as st

from shadecore.book.book import Book
from shadecore.book.kinds import kind_of
from shadecore.book.records import BookShelf, Stocked
from shadecore.book.shelf_note import line_of
from shadecore.book.shop_records import ShopSettings
from shadecore.book.working import own_shelf
from shadecore.errors import ShadecoreError
from shadecore.screens import session
from shadecore.screens.open_book import book, tell
from shadecore.undercoats.shelf import Shelf
from shadecore.undercoats.shelf_table import demo_shelf
from shadecore.undercoats.shelf_words import new_names

OWN_SHELF: Final = "Our shelf"
INVENTED_SHELF: Final = "Invented greys"
_SHELF_KEPT: Final = "shop_shelf_kept"


def asks_own_shelf() -> bool:
    """Whether the session asks over the shelf that the shop has in use.

    Returns
    -------
    bool
        False where a link, or an older job, brought greys of its own.
    """
    shop = book()
    return shop is None or session.question().shelf == own_shelf(shop)


def ask_own_shelf() -> None:
    """Let the session's question ask over the shelf in use."""
    shop = book()
    if shop is not None and not asks_own_shelf():
        question = replace(session.question(), shelf=own_shelf(shop), areas=())
        session.put(question, session.problems())


def own_stock() -> dict[str, float | None]:
    """How much is left of each undercoat of the shelf in use.

    Returns
    -------
    dict of str to float or None
        By name; empty where the session asks over another shelf.
    """
    shop = book()
    uid = "" if shop is None else shop.settings().thing.shelf
    if shop is None or not uid or not asks_own_shelf():
        return {}
    return shop.show(BookShelf, uid).thing.stock


def keep_shelf(
    shelf: Shelf,
    name: str = OWN_SHELF,
    told: Mapping[str, float | None] | None = None,
    line: str = "",
) -> bool:
    """Make a shelf the shop's own, in use until another is kept.

    Parameters
    ----------
    shelf : tuple of Undercoat
        The shelf; what is in stock of an undercoat stays with its name.
    name : str
        What the shop's first shelf is called; later it keeps its name, but the
        invented greys give their name up with the first one of the shop's own.
    told : mapping of str to float or None, optional
        What is in stock by name, where somebody said so with the shelf.
    line : str
        What is added to the shelf's note.

    Returns
    -------
    bool
        Whether the shop keeps it.
    """
    shop = book()
    if shop is None or shop.read_only:
        return False
    st.session_state[_SHELF_KEPT] = True
    try:
        named = shop.settings().thing.shelf
        if not named:
            _begin_shelf(shop, BookShelf(name, _stocked(shelf, (), told), line))
            return True
        kept = shop.show(BookShelf, named)
        items = _stocked(shelf, kept.thing.items, told)
        own = kept.thing.name == INVENTED_SHELF and not set(shelf) <= set(demo_shelf())
        called = OWN_SHELF if own else kept.thing.name
        now = kept.thing.with_items(items)
        now = replace(now, name=called, note=f"{now.note}\n{line}".strip())
        if (now.items, now.note) != (kept.thing.items, kept.thing.note):
            shop.change(kept, now)
    except ShadecoreError as error:
        tell(error)
        return False
    return True


def note_on(name: str) -> str:
    """What the shelf in use notes of a sealer, such as the doubt of a photo.

    Parameters
    ----------
    name : str
        What the shop calls it.

    Returns
    -------
    str
        Its line of the shelf's note; empty where there is none.
    """
    shop = book()
    named = "" if shop is None else shop.settings().thing.shelf
    if shop is None or not named:
        return ""
    return line_of(shop.show(BookShelf, named).thing.note, name)


def shelf_kept() -> bool:
    """Whether this session made a shelf the shop's own.

    Returns
    -------
    bool
    """
    return bool(st.session_state.get(_SHELF_KEPT))


def _stocked(
    shelf: Shelf, before: tuple[Stocked, ...], told: Mapping[str, float | None] | None
) -> tuple[Stocked, ...]:
    """Undercoats with what is in stock of each, which a new name does not change."""
    left = {each.undercoat.name: each.stock for each in before}
    renamed = new_names(tuple(each.undercoat for each in before), shelf)
    stock = {now: left[was] for was, now in renamed.items()}
    stock |= {name: each for name, each in (told or {}).items() if each is not None}
    return tuple(Stocked(each, stock.get(each.name)) for each in shelf)


def _begin_shelf(shop: Book, shelf: BookShelf) -> None:
    """Keep the shop's first shelf and use it, as one change."""
    now = shop.settings()
    with shop.changing(f"kept the shelf {shelf.name}") as change:
        (kept,) = change.add(kind_of(BookShelf), (shelf,))
        used = replace(now.thing, shelf=kept.uid)
        change.put(kind_of(ShopSettings), now, used, removed=False)
