"""What others do to the same job shows within two seconds."""

from typing import Final

import streamlit as st

from shadecore.errors import ShadecoreError
from shadecore.screens import say, shop, shop_things
from shadecore.screens.plan import job
from shadecore.telling.clash_words import clash_words

_LOOK_SECONDS: Final = 2
_SEEN: Final = "live_seen"
_THEIRS: Final = {"mine": False}
_MINE: Final = {"mine": True}


@st.fragment(run_every=_LOOK_SECONDS)
def watch() -> None:
    """Look for a change in the book, and draw the page anew after one of this job.

    A look reads one number; the job itself only where that number has risen.
    """
    book = shop.book()
    if book is None or job.synced() is None:
        return
    try:
        number = book.last_change
    except ShadecoreError:
        # Somebody writes just now: the next look tells.
        return
    if st.session_state.get(_SEEN) == number:
        return
    st.session_state[_SEEN] = number
    if job.changed_elsewhere():
        st.rerun()


def show_state(*, undo: bool) -> None:
    """Say what could not be kept, and ask about what was changed at two places.

    Parameters
    ----------
    undo : bool
        Whether the book's last change can be taken back here.
    """
    if job.trouble():
        say.error(job.trouble())
    if job.from_elsewhere():
        with st.container(horizontal=True, vertical_alignment="center", key="job_from"):
            st.markdown("This job is not in this book.", width="content")
            st.button("Keep it", on_click=job.take_in)
    if job.synced() is not None and undo:
        _show_undo()
    found = job.clashes()
    if not found:
        return
    lines = "\n".join(f"- {say.plain(clash_words(*each))}" for each in found)
    st.warning(f"Changed here and elsewhere at the same time:\n{lines}")
    with st.container(horizontal=True, key="job_clash"):
        st.button("Keep what was chosen elsewhere", on_click=job.settle, kwargs=_THEIRS)
        st.button("Take what was chosen here", on_click=job.settle, kwargs=_MINE)


def _show_undo() -> None:
    change = shop_things.last_change()
    if change is None:
        return
    with st.container(horizontal=True, vertical_alignment="center", key="job_kept"):
        st.markdown("Kept in the shop's book.", width="content")
        st.button(
            "Undo",
            help=f"Takes back: {say.plain(change.what)}",
            on_click=shop.undo,
            args=(change,),
        )
