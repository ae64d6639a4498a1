"""Why and More: what stands behind the answer, made only when it is opened."""

from typing import Final

import streamlit as st

from shadecore.coats.answer import Answer
from shadecore.question.question import Question
from shadecore.screens import session, shop, ways
from shadecore.units import UNITS

_OPEN: Final = "pick_further"
_PART: Final = "pick_part"
WHY, MORE = "Why", "More"
REDUCTIONS, COST, SAND_THROUGHS = "1:1 or 2:1", "Cost", "Sand-throughs"
GROUND_COAT, SHELF = "Ground coat", "Shelf as a table"
_PARTS: Final = (REDUCTIONS, COST, SAND_THROUGHS, GROUND_COAT, SHELF)


def ask_further() -> None:
    """Offer the plan, the reasons and what follows."""
    with st.container(horizontal=True, gap="xsmall"):
        if st.button("Plan this job", type="primary"):
            ways.go_to("plan")
        st.pills("Look further", (WHY, MORE), key=_OPEN, label_visibility="collapsed")


def show_further(found: Answer) -> None:
    """Show what was opened.

    Parameters
    ----------
    found : Answer
        The answer.
    """
    opened = st.session_state.get(_OPEN)
    if opened is not None:
        _show(opened, found)


@st.fragment
def _show(opened: str, found: Answer) -> None:
    """Runs by itself as what it asks changes."""
    question = session.question()
    if opened == WHY:
        # Charts and tables take long to load, and most visits need none.
        from shadecore.screens.pick.why import show_why  # noqa: PLC0415

        show_why(question, found)
    if opened == MORE:
        _show_more(question, found)


def _show_more(question: Question, found: Answer) -> None:
    from shadecore.screens.pick import more  # noqa: PLC0415 - as above

    units = UNITS[question.units]
    part = st.segmented_control(
        "More",
        _PARTS,
        default=REDUCTIONS,
        key=_PART,
        required=True,
        label_visibility="collapsed",
    )
    asked = question
    if part == REDUCTIONS:
        more.show_reductions(question, units)
    elif part == COST:
        asked = more.show_cost(question, found, units)
    elif part == SAND_THROUGHS:
        asked = more.show_sand_throughs(question)
    elif part == GROUND_COAT:
        more.show_grounds(question, units)
    elif part == SHELF:
        from shadecore.screens.pick.shelf_table import ask_shelf  # noqa: PLC0415

        ask_shelf(question)
    if asked != question:
        session.keep(asked)
        shop.keep_colour(asked)
