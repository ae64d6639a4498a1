"""Changes made on the page of the book, with what went wrong said there."""

from dataclasses import replace
from typing import Any, Final

import streamlit as st

from shadecore.book.kept import Kept
from shadecore.screens import shop
from shadecore.screens.as_read import clash, read_anew
from shadecore.screens.open_book import done

_AGAIN: Final = "book_stale"


def change(kept: Kept[Any], **values: Any) -> bool:  # noqa: ANN401 - of any field
    """Change fields of a thing.

    Parameters
    ----------
    kept : Kept
        The thing as it was shown.
    **values
        Fields of its record.

    Returns
    -------
    bool
        Whether it was done.
    """
    book = shop.book()
    if book is None:
        return False
    return done(lambda: book.change(kept, replace(kept.thing, **values)))


def keep_edits(now: Kept[Any], read: Kept[Any], **wanted: Any) -> None:  # noqa: ANN401
    """Keep what was edited in boxes, beside what others changed meanwhile.

    Parameters
    ----------
    now, read : Kept
        The thing as the book holds it, and as the boxes showed it.
    **wanted
        Fields that were edited; the page runs anew where the boxes are to be filled
        anew.
    """
    against = clash(now, read, wanted)
    if against:
        shop.tell(against)
    elif wanted and not change(now, **wanted):
        return
    if wanted:
        read_anew(now.uid)
        st.rerun()
    if now.version != read.version:
        # At the end of the page: what was pressed further down comes first.
        st.session_state[_AGAIN] = now.uid


def run_again_if_stale() -> None:
    """Run the page anew where boxes show what somebody else changed meanwhile."""
    stale = st.session_state.pop(_AGAIN, "")
    if stale:
        read_anew(stale)
        st.rerun()


def sure(label: str, yes: str, key: str) -> bool:
    """A button that asks once more before it does what cannot be undone.

    Parameters
    ----------
    label, yes : str
        What the first and the second button say.
    key : str
        For the widgets.

    Returns
    -------
    bool
        Whether the second one was pressed.
    """
    asked = f"{key}_asked"
    with st.container(horizontal=True):
        if not st.session_state.get(asked):
            st.button(label, key=key, on_click=_set, args=(asked,))
            return False
        pressed = st.button(yes, key=f"{key}_yes", type="primary")
        st.button("No", key=f"{key}_no", on_click=_clear, args=(asked,))
    if pressed:
        _clear(asked)
    return pressed


def _set(name: str) -> None:
    st.session_state[name] = True


def _clear(name: str) -> None:
    st.session_state.pop(name, None)
