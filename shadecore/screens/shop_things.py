"""Things of the book renamed and removed from a page, and the last change."""

from dataclasses import replace
from typing import Any

from shadecore.book.book import Book
from shadecore.book.errors import BookConflict
from shadecore.book.kept import Change, Kept
from shadecore.screens import shop, shop_shelf
from shadecore.screens.as_read import clash, read_anew
from shadecore.screens.open_book import done


def describe(kept: Kept[Any], **values: str) -> None:
    """Change what a thing is called and what else stands beside it.

    Parameters
    ----------
    kept : Kept
        The thing as it was shown.
    **values
        Fields of its record that become another text.
    """
    book = shop.book()
    changed = {
        name: text.strip()
        for name, text in values.items()
        if text.strip() != getattr(kept.thing, name)
    }
    if book is not None and changed:
        done(lambda: _describe(book, kept, changed))
        read_anew(kept.uid)


def _describe(book: Book, kept: Kept[Any], changed: dict[str, str]) -> None:
    onto = book.show(type(kept.thing), kept.uid)
    against = clash(onto, kept, changed)
    if against:
        raise BookConflict(against, replace(kept.thing, **changed), onto)
    if set(changed) == {"name"}:
        book.rename(onto, changed["name"])
    else:
        book.change(onto, replace(onto.thing, **changed))


def remove(kept: Kept[Any]) -> None:
    """Put a thing into the bin, as it stands by now.

    Parameters
    ----------
    kept : Kept
        The thing.
    """
    book, now = shop.book(), shop.colour()
    if book is None:
        return
    own = shop_shelf.asks_own_shelf()
    removed = done(lambda: book.remove(book.show(type(kept.thing), kept.uid)))
    if removed and now is not None and now.uid == kept.uid:
        shop.new_colour()
    elif own:
        shop_shelf.ask_own_shelf()


def last_change() -> Change | None:
    """The book's last change, where it can be undone.

    Returns
    -------
    Change or None
    """
    book = shop.book()
    if book is None or book.read_only:
        return None
    return next(iter(book.changes(1)), None)
