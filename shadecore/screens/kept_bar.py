"""One line on every page: what the colour is kept as, its name, undo, and trouble."""

from typing import Any, Final

import streamlit as st

from shadecore.book.asked import asked_of
from shadecore.book.kept import Change, Kept
from shadecore.book.records import BookColour
from shadecore.book.shop_records import BookJob
from shadecore.book.working import is_named
from shadecore.screens import say, session, shop, shop_shelf, shop_things
from shadecore.screens.as_read import as_read
from shadecore.screens.kept_photos import show_photos_of
from shadecore.telling.book_words import version_words

_KEY: Final = "kept_bar"


def show_kept_bar() -> None:
    """Show what the session's colour is kept as, and what to do about it.

    To be called after :func:`shadecore.screens.shop.keep_colour`, so that it says what
    was just kept; its place on the page may have been taken before.
    """
    trouble, there = shop.trouble(), shop.conflict()
    if there is not None:
        _show_conflict(there)
        return
    if trouble:
        say.warning(trouble)
    kept = shop.colour()
    if kept is None:
        if shop.from_elsewhere():
            with _line():
                say.words("This colour is not in this book.")
                st.button("Keep it", key=f"{_KEY}_take_in", on_click=shop.take_in)
                if shop_shelf.shelf_kept():
                    _show_undo(shop_things.last_change())
        elif shop_shelf.shelf_kept():
            show_last_change()
    elif shop.changed_elsewhere(kept):
        with _line():
            st.markdown(f"Somebody changed **{say.plain(kept.thing.name)}** meanwhile.")
            st.button(
                "Show it",
                key=f"{_KEY}_show",
                on_click=shop.open_colour,
                args=(kept,),
            )
    else:
        _show_kept(kept)


def _line() -> "st.delta_generator.DeltaGenerator":
    return st.container(
        key=_KEY, horizontal=True, vertical_alignment="center", gap="small"
    )


def _show_kept(kept: Kept[BookColour]) -> None:
    named = is_named(kept)
    with _line():
        st.markdown(f"Kept as **{say.plain(kept.thing.name)}**")
        _ask_name(kept, named=named)
        show_photos_of(kept, f"{_KEY}_photos")
        _show_undo(shop_things.last_change())


@st.fragment
def _ask_name(kept: Kept[BookColour], *, named: bool) -> None:
    label, key = "Rename" if named else "Name it", f"{_KEY}_name"
    with st.popover(label, key=key, on_change="rerun") as name:
        if name.open:
            ask_words(kept, f"{_KEY}_{kept.uid}", named=named)


def _show_undo(change: Change | None) -> None:
    if change is not None:
        st.button(
            "Undo",
            key=f"{_KEY}_undo",
            help=f"Takes back: {say.plain(change.what)}",
            on_click=shop.undo,
            args=(change,),
        )


def ask_words(
    kept: Kept[BookColour] | Kept[BookJob], key: str, *, named: bool = True
) -> None:
    """Ask for the name, code and car of a colour or a job.

    Parameters
    ----------
    kept : Kept of BookColour or BookJob
        What is asked about.
    key : str
        For the widgets.
    named : bool
        Whether somebody named it; else the box for the name begins empty.
    """
    submit = f"{key}_keep"
    read: Kept[Any] = as_read(kept, submit)
    thing = read.thing
    with st.form(f"{key}_{read.version}", border=False):
        name = st.text_input("Name", thing.name if named else "")
        code = st.text_input("Paint code", thing.code)
        car = st.text_input("Car", thing.car, help="Stays in this book only.")
        if st.form_submit_button("Keep", type="primary", key=submit):
            shop_things.describe(read, name=name or thing.name, code=code, car=car)
            st.rerun()


def show_last_change() -> None:
    """Say what was done to the book last, and offer to take it back."""
    change = shop_things.last_change()
    if change is None:
        return
    with st.container(horizontal=True, vertical_alignment="center", key="last_change"):
        st.markdown(f":small[Last: {say.plain(change.what)}.]")
        st.button("Undo", key="last_undo", on_click=shop.undo, args=(change,))


def _show_conflict(there: Kept[BookColour]) -> None:
    """Show both versions of a colour that somebody else changed, and let choose."""
    mine, theirs = session.question(), asked_of(there.thing).question
    name = say.plain(there.thing.name)
    with st.container(key=_KEY, border=True):
        st.markdown(
            f"**Somebody changed {name} meanwhile.** Nothing is lost: choose what "
            "stays.\n\n"
            f"- Yours: {say.plain(version_words(mine, theirs))}\n"
            f"- Theirs: {say.plain(version_words(theirs, mine))}"
        )
        with st.container(horizontal=True):
            for label, yours, others in (
                ("Mine", True, False),
                ("Theirs", False, True),
                ("Both, as two colours", True, True),
            ):
                st.button(
                    label,
                    key=f"{_KEY}_{label}",
                    on_click=shop.settle,
                    kwargs={"mine": yours, "theirs": others},
                )
