"""Shelves, paint lines, guns and sheets: one chosen, added, renamed or removed."""

from collections.abc import Callable
from typing import Any, TypeVar

import streamlit as st

from shadecore.book.book import Book
from shadecore.book.in_use import IN_USE
from shadecore.book.kept import Kept
from shadecore.book.kinds import kind_of
from shadecore.screens import shop_things
from shadecore.screens.as_read import as_read
from shadecore.screens.open_book import done

T = TypeVar("T")


def ask_in_use(
    things: tuple[Kept[T], ...],
    uid: str,
    label: str,
    use: Callable[[str], object],
    none: str = "Not said",
) -> Kept[T] | None:
    """Ask which of some things is in use.

    Parameters
    ----------
    things : tuple of Kept
        The things.
    uid : str
        Of the one that is in use; empty for none.
    label : str
        What to ask.
    use : callable
        Called with the ``uid`` of another one that somebody chooses, and only then.
    none : str
        What stands for none of them.

    Returns
    -------
    Kept or None
    """
    uids = ["", *(each.uid for each in things)]
    by_uid: dict[str, Any] = {each.uid: each for each in things}
    # Of what is in use now, so that it follows what others choose.
    key = f"in_use_{label}_{uid}"

    def chosen_one() -> None:
        use(st.session_state[key])

    chosen = st.selectbox(
        label,
        uids,
        uids.index(uid) if uid in uids else 0,
        format_func=lambda one: by_uid[one].thing.name if one else none,
        key=key,
        on_change=chosen_one,
    )
    return by_uid.get(chosen)


def ask_new(book: Book, label: str, make: Callable[[str], Any], key: str) -> None:
    """Ask for the name of a new thing, and keep it; the first of its kind is used.

    Parameters
    ----------
    book : Book
        The book.
    label : str
        What to ask.
    make : callable
        From the name to the record.
    key : str
        For the widget.
    """
    box = f"{key}_new"

    def add() -> None:
        name = st.session_state[box].strip()
        if name and done(lambda: _add(book, make(name))):
            st.session_state[box] = ""

    st.text_input(label, key=box, on_change=add, placeholder="Name, then Enter")


def _add(book: Book, thing: Any) -> None:  # noqa: ANN401 - of any kind
    """Keep a thing, and use it where nothing of its kind was there before."""
    record: type[Any] = type(thing)
    first = record in IN_USE and not book.list(record, limit=1)
    with book.changing(f"added the {kind_of(record).word} {thing.name}"):
        kept = book.add(thing)
        if first:
            book.use(record, kept)


def show_menu(kept: Kept[Any], key: str) -> None:
    """Show what can be done with a thing: another name, into the bin.

    Parameters
    ----------
    kept : Kept
        The thing.
    key : str
        For the widgets.
    """
    with st.popover("Rename or remove", key=f"{key}_menu"):
        submit = f"{key}_{kept.uid}_keep"
        read = as_read(kept, submit)
        with st.form(f"{key}_{kept.uid}_{read.version}", border=False):
            name = st.text_input("Name", read.thing.name)
            if st.form_submit_button("Keep", type="primary", key=submit):
                shop_things.describe(read, name=name or read.thing.name)
                st.rerun()
        st.button(
            "Remove", key=f"{key}_remove", on_click=shop_things.remove, args=(kept,)
        )
