"""The first start asks what greys stand on the shelf: half a minute, or not at all."""

from typing import Final, NamedTuple

import streamlit as st

from shadecore.screens import say, shop, shop_shelf
from shadecore.screens.entry import Line, Used, ask_lines, use_lines
from shadecore.screens.home.greys import show_greys
from shadecore.undercoats.grey_text import read_greys
from shadecore.undercoats.shelf import Shelf, check_shelf
from shadecore.undercoats.shelf_table import demo_shelf

_ENTERED: Final = "first_entered"
_TYPED: Final = "first_typed"
_SKIPPED: Final = "first_skipped"


class _Entered(NamedTuple):
    """What was entered so far.

    A line that comes while the page is busy ends its run at the next access to the
    session. So all of this is kept as one value: in two, a line could be noted as taken
    without its grey.
    """

    greys: Shelf = ()
    used: Used = Used()


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
        before = _entered()
        lines = ask_lines("Grey", "White 90, or Mid N 5.5", _TYPED, before.used.back)
        entered = _with_lines(before, lines)
        st.session_state[_ENTERED] = entered
        if entered.used.back != before.used.back:
            # The box was drawn before it was known that a line goes back into it.
            st.rerun()
        if entered.used.trouble:
            say.error(entered.used.trouble)
        show_greys(entered.greys, _drop)
        with st.container(horizontal=True):
            if entered.greys:
                st.button("Use this shelf", type="primary", on_click=_use)
            else:
                st.button("Take the invented greys", on_click=_take_invented)
            st.button("Later", type="tertiary", on_click=_skip)


def _entered() -> _Entered:
    found: _Entered = st.session_state.get(_ENTERED, _Entered())
    return found


def _with_lines(entered: _Entered, lines: tuple[Line, ...]) -> _Entered:
    greys = entered.greys

    def add(text: str) -> None:
        nonlocal greys
        greys = check_shelf((*greys, *read_greys(text)))

    used = use_lines(entered.used, lines, add)
    return _Entered(greys, used)


def _drop(name: str) -> None:
    entered = _entered()
    kept = tuple(each for each in entered.greys if each.name != name)
    st.session_state[_ENTERED] = entered._replace(greys=kept)


def _use() -> None:
    greys = st.session_state.pop(_ENTERED, _Entered()).greys
    # The second press of a double click finds nothing left.
    if greys:
        shop_shelf.keep_shelf(greys)
        shop.new_colour()


def _take_invented() -> None:
    shop_shelf.keep_shelf(demo_shelf(), shop_shelf.INVENTED_SHELF)
    shop.new_colour()


def _skip() -> None:
    st.session_state[_SKIPPED] = True
