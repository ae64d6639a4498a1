"""The three views of the plan, and the bar that chooses one."""

from typing import Final

import streamlit as st

from shadecore.screens import session

PARAMETER: Final = "view"
"""Of a link."""
SET_UP: Final = "setup"
BENCH: Final = "bench"
SHEET: Final = "sheet"
VIEWS: Final = {SET_UP: "Set up", BENCH: "At the bench", SHEET: "Sheet"}
_CHOSEN: Final = "plan_view"


def ask_view(*, begun: bool) -> str:
    """Show the bar.

    Parameters
    ----------
    begun : bool
        Whether something of the job is done; such a job opens at the bench.

    Returns
    -------
    str
        The view chosen, which the link keeps.
    """
    if st.session_state.get(_CHOSEN) not in VIEWS:
        asked = session.parameters().get(PARAMETER, "")
        usual = BENCH if begun else SET_UP
        st.session_state[_CHOSEN] = asked if asked in VIEWS else usual
        if asked not in VIEWS and begun:
            # The bar at a phone's lower edge was drawn before the job was known.
            session.keep(session.question(), {PARAMETER: usual})
            st.rerun()
    view = st.segmented_control(
        "View",
        list(VIEWS),
        format_func=VIEWS.__getitem__,
        required=True,
        key=_CHOSEN,
        label_visibility="collapsed",
        width="stretch",
    )
    chosen = str(view)
    session.keep(session.question(), {PARAMETER: chosen})
    return chosen


def chosen() -> str:
    """The view that is open, or will be.

    Returns
    -------
    str
        Where the page was not drawn yet, the link's, or else the form.
    """
    asked = session.parameters().get(PARAMETER, "")
    usual = asked if asked in VIEWS else SET_UP
    return str(st.session_state.get(_CHOSEN) or usual)


def show(view: str) -> None:
    """Turn to a view, before the bar is drawn.

    Parameters
    ----------
    view : str
        One of ``VIEWS``.
    """
    st.session_state[_CHOSEN] = view
