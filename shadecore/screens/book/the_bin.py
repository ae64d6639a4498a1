"""The bin: what was removed, put back or removed for good."""

from datetime import UTC, datetime
from typing import Any, Final

import streamlit as st

from shadecore.book.bin_contents import goes_along
from shadecore.book.book import Book
from shadecore.book.kept import Kept
from shadecore.book.kinds import kind_of
from shadecore.screens import say
from shadecore.screens.book.change import sure
from shadecore.screens.open_book import done
from shadecore.telling.book_words import when_changed_words

_SHOWN: Final = 12


def show(book: Book) -> None:
    """Show the bin, last removed first.

    Parameters
    ----------
    book : Book
        The book.
    """
    found = sorted(book.bin(), key=_removed, reverse=True)
    if not found:
        st.markdown("The bin is empty.")
        return
    now = datetime.now(UTC).astimezone()
    for kept in found[:_SHOWN]:
        word = kind_of(type(kept.thing)).word
        name = say.plain(getattr(kept.thing, "name", ""))
        day = when_changed_words(_removed(kept), now)
        with st.container(horizontal=True, vertical_alignment="center"):
            st.button(
                "Put back",
                key=f"put_back_{kept.uid}",
                on_click=_put_back,
                args=(book, kept),
            )
            st.markdown(f"**{name}** :small[{word}, removed {day}]")
    if len(found) > _SHOWN:
        st.caption(f"And {len(found) - _SHOWN} more.")
    along = goes_along(book)
    if along:
        st.caption("With them go, for good:")
        say.words(*along)
    gone = "Yes, remove them for good: this cannot be undone"
    if sure("Empty the bin", gone, "empty_bin") and done(book.empty_bin):
        st.rerun()


def _removed(kept: Kept[Any]) -> datetime:
    return kept.removed or kept.changed


def _put_back(book: Book, kept: Kept[Any]) -> None:
    done(lambda: book.put_back(kept))
