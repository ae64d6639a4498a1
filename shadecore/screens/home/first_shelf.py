"""The first start asks what greys stand on the shelf: half a minute, or not at all."""

from typing import Final

import streamlit as st

from shadecore.errors import ShadecoreError
from shadecore.screens import say, shop, shop_shelf
from shadecore.screens.home.entry import Line, ask_lines
from shadecore.screens.home.greys import show_greys
from shadecore.undercoats.grey_text import read_greys
from shadecore.undercoats.shelf import Shelf, check_shelf
from shadecore.undercoats.shelf_table import demo_shelf

_GREYS: Final = "first_greys"
_TYPED: Final = "first_typed"
_TAKEN: Final = "first_taken"
_BACK: Final = "first_back"
_TROUBLE: Final = "first_trouble"
_SKIPPED: Final = "first_skipped"


def is_asked() -> bool:
    """Whether the shop has not said yet what stands on its shelf.

    Returns
    -------
    bool
    """
    book = shop.book()
    return (
        book is not None
        and not book.read_only
        and not shop.settings().shelf
        and not st.session_state.get(_SKIPPED)
    )


def ask_first_shelf() -> None:
    """Ask for the greys one by one, or take the invented ones."""
    with st.container(border=True, key="first_shelf"):
        st.markdown("**Which greys stand on your shelf?** Name and L* or Munsell N.")
        back: Line | None = st.session_state.get(_BACK)
        lines = ask_lines("Grey", "White 90, or Mid N 5.5", _TYPED, back)
        _take(lines)
        if st.session_state.get(_BACK) != back:
            # The box was drawn before it was known that a line goes back into it.
            st.rerun()
        greys: Shelf = st.session_state.get(_GREYS, ())
        if st.session_state.get(_TROUBLE):
            say.error(st.session_state[_TROUBLE])
        show_greys(greys, _drop)
        with st.container(horizontal=True):
            if greys:
                st.button("Use this shelf", type="primary", on_click=_use)
            else:
                st.button("Take the invented greys", on_click=_take_invented)
            st.button("Later", type="tertiary", on_click=_skip)


def _take(lines: tuple[Line, ...]) -> None:
    """Put the lines that are new on the shelf, each for itself."""
    taken: set[str] = st.session_state.setdefault(_TAKEN, set())
    for line in lines:
        if line.uid in taken:
            continue
        taken.add(line.uid)
        greys: Shelf = st.session_state.get(_GREYS, ())
        st.session_state[_TROUBLE], st.session_state[_BACK] = "", None
        try:
            st.session_state[_GREYS] = check_shelf((*greys, *read_greys(line.text)))
        except ShadecoreError as error:
            st.session_state[_TROUBLE], st.session_state[_BACK] = str(error), line


def _drop(name: str) -> None:
    greys: Shelf = st.session_state[_GREYS]
    st.session_state[_GREYS] = tuple(each for each in greys if each.name != name)


def _use() -> None:
    shop_shelf.keep_shelf(st.session_state.pop(_GREYS))
    shop.new_colour()


def _take_invented() -> None:
    shop_shelf.keep_shelf(demo_shelf(), shop_shelf.INVENTED_SHELF)
    shop.new_colour()


def _skip() -> None:
    st.session_state[_SKIPPED] = True
