"""What a session's boxes were filled with, so that a stale edit meets what is new."""

from collections.abc import Mapping
from typing import Any, Final, TypeVar

import streamlit as st

from shadecore.book.kept import Kept
from shadecore.book.records import Stocked
from shadecore.formats.echo import cut, shown

T = TypeVar("T")
_READ: Final = "as_read"
_MOST: Final = 90
"""Characters of a version in a message."""


def as_read(now: Kept[T], submit: str = "") -> Kept[T]:
    """A thing as this session's boxes show it, whatever others wrote meanwhile.

    Parameters
    ----------
    now : Kept
        As the book holds it.
    submit : str
        Key of the button of a form, whose boxes are filled anew unless it was pressed.

    Returns
    -------
    Kept
        Its version belongs in the keys of the boxes.
    """
    key = f"{_READ}_{now.uid}_{submit}"
    if submit and not st.session_state.get(submit):
        st.session_state[key] = now
    found: Kept[T] = st.session_state.setdefault(key, now)
    return found


def read_anew(uid: str) -> None:
    """Fill the boxes of a thing with what the book holds of it by now.

    Parameters
    ----------
    uid : str
        Of the thing.
    """
    for key in list(st.session_state):
        if str(key).startswith(f"{_READ}_{uid}_"):
            del st.session_state[key]


def clash(now: Kept[Any], read: Kept[Any], wanted: Mapping[str, Any]) -> str:
    """What somebody else changed meanwhile that is to be changed here as well.

    Parameters
    ----------
    now, read : Kept
        As the book holds it, and as this session's boxes showed it.
    wanted : mapping
        What its fields are to become.

    Returns
    -------
    str
        A sentence with both versions; empty where nothing stands against the change.
    """
    for name, mine in wanted.items():
        theirs = getattr(now.thing, name)
        if theirs not in (getattr(read.thing, name), mine):
            return (
                f"Somebody changed this meanwhile: the book has {_words(theirs)}. "
                f"Yours, {_words(mine)}, was not kept; enter it again if it is to stay."
            )
    return ""


def _words(value: Any) -> str:  # noqa: ANN401 - of any field
    if isinstance(value, tuple) and all(isinstance(each, Stocked) for each in value):
        parts = []
        for each in value:
            left = "" if each.stock is None else f", {each.stock:g} left"
            grey = each.undercoat
            parts.append(f"{grey.name} (L* {grey.lightness:.1f}{left})")
        text = ", ".join(parts)
    else:
        text = shown(value) if isinstance(value, str) else str(value)
    return cut(text, _MOST)
