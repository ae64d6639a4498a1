"""The shelf as chips: tap one to change it, add one in a line."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Final

import streamlit as st

from shadecore.errors import ShadecoreError
from shadecore.screens import say, session, shop_shelf
from shadecore.screens.pick import new_greys
from shadecore.undercoats.shelf import Shelf, check_shelf
from shadecore.undercoats.shelf_words import with_changed, words_of_undercoat

MOST_CHIPS: Final = 12
"""A larger shelf is edited as a table."""
_CHIP, _EDIT = "shelf_chip", "shelf_edit"
_TROUBLE: Final = "shelf_trouble"


def ask_chips(shelf: Shelf) -> None:
    """Show the shelf and what can be done to it.

    Parameters
    ----------
    shelf : tuple of Undercoat
        The shelf.
    """
    names = [each.name for each in shelf]
    with st.container(
        horizontal=True,
        gap="xsmall",
        vertical_alignment="center",
        key="pick_shelf",
    ):
        if len(shelf) <= MOST_CHIPS:
            st.pills(
                "Shelf",
                names,
                format_func=say.plain,
                key=_CHIP,
                label_visibility="collapsed",
            )
        else:
            st.text(f"{len(shelf)} sealers on the shelf")
        new_greys.ask_new(put)
        if not shop_shelf.asks_own_shelf():
            st.button(
                "Use our shelf",
                help="These greys are not the shelf in use; a change stays with this "
                "colour.",
                on_click=shop_shelf.ask_own_shelf,
            )
    if st.session_state.get(_TROUBLE):
        say.error(st.session_state[_TROUBLE])
    chosen = st.session_state.get(_CHIP)
    if chosen in names:
        _ask_change(shelf, chosen)


def put(shelf: Shelf, stock: Mapping[str, float | None] | None = None) -> None:
    """Put a shelf in the place of the one that is asked over.

    Where that is the shelf in use, the shop's own follows; greys that a link brought
    are changed for this colour only.

    Parameters
    ----------
    shelf : tuple of Undercoat
        The shelf.
    stock : mapping of str to float or None, optional
        What is left of each by name, where a file said so.
    """
    own = shop_shelf.asks_own_shelf()
    session.keep(replace(session.question(), shelf=shelf))
    if own:
        shop_shelf.keep_shelf(shelf, told=stock)


def forget() -> None:
    """Forget what was edited, since another question took the place."""
    for key in (_TROUBLE, _CHIP):
        st.session_state.pop(key, None)
    new_greys.forget()


def _ask_change(shelf: Shelf, name: str) -> None:
    each = next(each for each in shelf if each.name == name)
    key = f"{_EDIT}_{name}"
    if key not in st.session_state:
        st.session_state[key] = words_of_undercoat(each)
    with st.container(horizontal=True, gap="xsmall", vertical_alignment="bottom"):
        st.text_input(
            new_greys.LABEL, key=key, on_change=_change, args=(name, key), width=260
        )
        st.button(
            "Delete",
            on_click=_delete,
            args=(name,),
            disabled=len(shelf) == 1,
            key="cut",
        )
        st.button("Done", on_click=_close, key="shelf_done")
    noted = shop_shelf.note_on(name)
    if noted:
        st.caption(say.plain(noted))


def _change(name: str, key: str) -> None:
    question = session.question()
    st.session_state[_TROUBLE] = ""
    try:
        shelf = with_changed(question.shelf, name, st.session_state[key])
    except ShadecoreError as error:
        st.session_state[_TROUBLE] = str(error)
        return
    _close()
    put(shelf)


def _delete(name: str) -> None:
    kept = tuple(each for each in session.question().shelf if each.name != name)
    _close()
    put(check_shelf(kept))


def _close() -> None:
    st.session_state[_CHIP] = None
    st.session_state[_TROUBLE] = ""
