"""What the parts of the form share: a part that runs when it is open, a quantity."""

from collections.abc import Callable

import streamlit as st

from shadecore.products.ranges import Range
from shadecore.screens import say
from shadecore.units import Quantity

Key = Callable[[str], str]
"""Key of a widget by its name."""


def part(
    label: str, name: str, said: str = ""
) -> "st.delta_generator.DeltaGenerator | None":
    """A part of the form that is closed at first and says what is set in it.

    Parameters
    ----------
    label : str
        What it asks for.
    name : str
        Tells it from the other parts.
    said : str
        What is set now.

    Returns
    -------
    DeltaGenerator or None
        None where it is closed: its fields then need not run.
    """
    now = f": {say.plain(said)}" if said else ""
    found = st.expander(f"**{label}**{now}", key=f"plan_{name}", on_change="rerun")
    return found if found.open else None


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
