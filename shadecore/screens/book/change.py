"""Changes made on the page of the book, with what went wrong said there."""

from dataclasses import replace
from typing import Any

import streamlit as st

from shadecore.book.kept import Kept
from shadecore.screens import shop
from shadecore.screens.open_book import done


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
