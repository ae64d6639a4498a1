"""What the parts of the form share: a part that runs when it is open, a quantity."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Final

import streamlit as st

from shadecore.products.ranges import Range
from shadecore.screens import say
from shadecore.units import Quantity

Key = Callable[[str], str]
"""Key of a widget by its name."""
PERCENT: Final = Quantity("%", 100.0)
"""What a share is asked in."""


@contextmanager
def part(label: str, name: str, said: str = "") -> Iterator[bool]:
    """A part of the form that is closed at first and then says what is set in it.

    Parameters
    ----------
    label : str
        What it asks for.
    name : str
        Tells it from the other parts.
    said : str
        What is set now.

    Yields
    ------
    bool
        Whether it is open; the fields of a closed one need not run.
    """
    with st.container(gap=None):
        # What is set stands under the label, not in it: Streamlit closes an expander
        # whose label changes.
        with st.expander(label, key=f"plan_{name}", on_change="rerun") as found:
            yield bool(found.open)
        if said and not found.open:
            st.caption(say.plain(said))


def ask_number(
    label: str, unit: Quantity, metric: float, ends: Range, key: str
) -> float:
    """Ask for a quantity in the shop's units.

    Parameters
    ----------
    label : str
        What it is.
    unit : Quantity
        What it is asked in.
    metric : float
        As it stands; what is not touched stays exactly so.
    ends : Range
        Between what it may lie, metric.
    key : str
        Of the widget.

    Returns
    -------
    float
        Metric.
    """
    low, high = (unit.number(end) for end in (ends.low, ends.high))
    shown = round(unit.number(metric), 1)
    value = st.number_input(
        f"{label} ({unit.unit})",
        low,
        high,
        shown,
        step=1.0,
        format="%.1f",
        key=f"{key}_{unit.unit}",
    )
    if value == shown:
        return metric
    return min(max(unit.metric(value), ends.low), ends.high)
