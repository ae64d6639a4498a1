"""Paint lines and guns: which are in use, and what was learned of them."""

from collections.abc import Callable

import streamlit as st

from shadecore.book.book import Book
from shadecore.book.kept import Kept
from shadecore.book.learning import Learned
from shadecore.book.loadings import experience, forget
from shadecore.book.shop_records import BookSheet, PaintLine, SprayGun
from shadecore.screens import say, shop
from shadecore.screens.as_read import as_read
from shadecore.screens.book import named
from shadecore.screens.book.change import change, keep_edits
from shadecore.screens.open_book import done
from shadecore.telling.seen import learned_words

Paint = Kept[PaintLine] | Kept[SprayGun]


def show(book: Book) -> None:
    """Show lines and guns, each with what was learned of it.

    Parameters
    ----------
    book : Book
        The book.
    """
    settings = shop.settings()
    with st.spinner("Looking through the records"):
        known = experience(book)
    left, right = st.columns(2, gap="medium")
    with left:
        lines = book.list(PaintLine)
        line = named.ask_in_use(
            lines,
            settings.line,
            "Paint line in use",
            lambda uid: shop.change_settings(line=uid),
        )
        if line is not None:
            _show_line(book, line)
            _show_learned(book, line, "This line", known.line)
        named.ask_new(book, "Add a paint line", PaintLine, "line")
    with right:
        gun = named.ask_in_use(
            book.list(SprayGun),
            settings.gun,
            "Gun in use",
            lambda uid: shop.change_settings(gun=uid),
        )
        if gun is not None:
            _show_gun(gun)
            _show_learned(book, gun, "This gun", known.gun)
        named.ask_new(book, "Add a gun (whoever sprays may be named)", SprayGun, "gun")


def _show_line(book: Book, line: Kept[PaintLine]) -> None:
    thing, read = line.thing, as_read(line)
    batch = st.text_input(
        "Batch in use",
        read.thing.batch,
        key=f"batch_{line.uid}_{read.version}",
        help="Another batch makes what was learned a little less sure.",
    )
    sheets = book.list(BookSheet)
    named.ask_in_use(
        sheets,
        thing.sheet,
        "Product sheet",
        lambda uid: change(line, sheet=uid),
        "The invented product line",
    )
    edited = batch.strip() != read.thing.batch
    keep_edits(line, read, **({"batch": batch.strip()} if edited else {}))


def _show_gun(gun: Kept[SprayGun]) -> None:
    read = as_read(gun)
    key = f"gun_note_{gun.uid}_{read.version}"
    note = st.text_input("Tip, pressure, who sprays", read.thing.note, key=key)
    edited = note.strip() != read.thing.note
    keep_edits(gun, read, **({"note": note.strip()} if edited else {}))


def _show_learned(
    book: Book,
    kept: Paint,
    what: str,
    learned: Callable[[str], Learned],
) -> None:
    """Say what was learned, and let it be forgotten or remembered again."""
    found = learned(kept.uid)
    say.words(learned_words(what, found.mean, found.jobs))
    forgotten = kept.thing.forgotten is not None
    with st.container(horizontal=True, vertical_alignment="bottom"):
        if found.jobs or forgotten:
            st.button(
                "Remember again" if forgotten else "Forget what was learned",
                key=f"forget_{kept.uid}",
                on_click=_forget,
                args=(book, kept),
                kwargs={"again": forgotten},
            )
        named.show_menu(kept, kept.uid)


def _forget(book: Book, kept: Paint, *, again: bool) -> None:
    done(lambda: forget(book, kept, again=again))
