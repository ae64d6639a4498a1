"""Greys put on the shelf one line after another, none of them lost."""

from collections.abc import Callable
from typing import Final, NamedTuple

import streamlit as st

from shadecore.screens import say, session
from shadecore.screens.entry import Line, Used, ask_lines, use_lines
from shadecore.undercoats.shelf import Shelf
from shadecore.undercoats.shelf_table import demo_shelf
from shadecore.undercoats.shelf_words import with_added

LABEL: Final = "Name, and L* or N"
OPEN: Final = "shelf_add"
"""Key of the button: whether the box for new greys is open."""
_TYPED: Final = "shelf_typed"
_ENTERED: Final = "shelf_entered"


class _Entered(NamedTuple):
    """What was entered, and the shelf that came of it where it is not put yet.

    A line that comes while the page is busy ends its run at the next access to the
    session. So both are kept as one value: a shelf that was not put is put then.
    """

    used: Used = Used()
    shelf: Shelf | None = None


@st.fragment
def ask_new(put: Callable[[Shelf], None]) -> None:
    """Offer to add greys.

    Parameters
    ----------
    put : callable
        Puts a shelf in the place of the one that is asked over.
    """
    # Drawn only while it is open, so that no other click waits for it.
    with st.popover("Add a grey", key=OPEN, on_change="rerun") as new:
        if not new.open:
            return
        before = _entered()
        typed = ask_lines(LABEL, "My white 92", _TYPED, before.used.back, focus=True)
        now = _with_lines(before, session.question().shelf, typed)
        if now != before or now.shelf is not None:
            st.session_state[_ENTERED] = now
            if now.shelf is not None:
                put(now.shelf)
                st.session_state[_ENTERED] = now._replace(shelf=None)
            st.rerun()
        if now.used.trouble:
            say.error(now.used.trouble)
        elif session.question().shelf == demo_shelf():
            st.caption("The invented greys give way to your first one.")


def forget() -> None:
    """Forget what could not be used, since another question took the place."""
    st.session_state[_ENTERED] = _Entered(Used(_entered().used.taken))


def _entered() -> _Entered:
    found: _Entered = st.session_state.get(_ENTERED, _Entered())
    return found


def _with_lines(entered: _Entered, shelf: Shelf, lines: tuple[Line, ...]) -> _Entered:
    grown = entered.shelf

    def add(text: str) -> None:
        nonlocal grown
        grown = with_added(grown or shelf, text)

    used = use_lines(entered.used, lines, add)
    return _Entered(used, grown)
