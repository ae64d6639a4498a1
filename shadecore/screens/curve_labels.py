"""Names beside the curves of a chart, instead of a legend that has to be looked up."""

import math
from collections.abc import Sequence
from typing import Any, Final, NamedTuple

import altair as alt
import pandas as pd

from shadecore.screens.chart_style import HEIGHT, LABEL_SIZE, told_apart

MOST_LABELS: Final = 9
LABELS_SHARE: Final = 0.62
"""Width for names beside the curves, as a share of the curves' own."""
LEAD: Final = 0.08
"""Part of that width for the lines from curves to their names."""
_LONGEST_LABEL: Final = 20
"""Characters that fit beside a curve on a phone; longer names go into a legend."""
_LINE_PX: Final = 1.25 * LABEL_SIZE
"""Height of a name."""


class Labels(NamedTuple):
    """Names beside curves.

    Attributes
    ----------
    layers : list of altair.Chart
        What is drawn of them; none where a legend takes their place.
    encodings : dict
        Colour, dashes and legend of the curves.
    """

    layers: list[alt.Chart]
    encodings: dict[str, Any]


class Ends(NamedTuple):
    """Where curves begin or end: the names stand there.

    Attributes
    ----------
    at : sequence of float
        Value of each curve there, on the axis ``y``.
    span : tuple of float
        Ends of that axis.
    x, y : str
        The columns.
    curve, label : float
        Where the curve ends and its name begins, on the axis ``x``.
    logs : bool
        Whether ``y`` is logarithmic.
    """

    at: Sequence[float]
    span: tuple[float, float]
    x: str
    y: str
    curve: float
    label: float
    logs: bool = False


def beside(names: list[str], column: str, ends: Ends, front: str) -> Labels:
    """Put names at the ends of curves, or a legend where they would not fit.

    Parameters
    ----------
    names : list of str
        The curves.
    column : str
        The column that names them.
    ends : Ends
        Where the curves end.
    front : str
        The ink of the theme.

    Returns
    -------
    Labels
    """
    if len(names) > MOST_LABELS or max(map(len, names)) > _LONGEST_LABEL:
        return Labels([], told_apart(column, names))
    scale, back = (math.log, math.exp) if ends.logs else (float, float)
    low, high = map(scale, ends.span)
    px = [(scale(value) - low) / (high - low) * HEIGHT for value in ends.at]
    placed = [low + each / HEIGHT * (high - low) for each in apart(px, _LINE_PX)]
    told = pd.DataFrame(
        {column: names, ends.x: ends.label, ends.y: [back(each) for each in placed]}
    )
    starts = pd.DataFrame({column: names, ends.x: ends.curve, ends.y: ends.at})
    right = ends.label > ends.curve
    text = (
        alt.Chart(told)
        .mark_text(
            align="left" if right else "right",
            dx=4 if right else -4,
            fontSize=LABEL_SIZE,
            color=front,
        )
        .encode(text=f"{column}:N")
    )
    both = _lines_apart(column, names)
    lead = alt.Chart(pd.concat([starts, told])).mark_line(strokeWidth=1)
    return Labels([lead.encode(color=both["color"]), text], both)


def apart(places: Sequence[float], least: float) -> list[float]:
    """Move labels up and down until none covers another.

    Parameters
    ----------
    places : sequence of float
        Where each wants to stand.
    least : float
        Distance between two neighbours, in the same unit.

    Returns
    -------
    list of float
        In the order of ``places``; they keep their order along the axis, and each
        crowd stays around its middle.

    Examples
    --------
    >>> apart([1.0, 1.0, 5.0], 2.0)
    [0.0, 2.0, 5.0]
    """
    order = sorted(range(len(places)), key=lambda each: places[each])
    crowds: list[list[int]] = []
    for each in order:
        crowds.append([each])
        while len(crowds) > 1 and _overlap(crowds[-2], crowds[-1], places, least):
            last = crowds.pop()
            crowds[-1] += last
    found = list(places)
    for crowd in crowds:
        for place, each in zip(_spread(crowd, places, least), crowd, strict=True):
            found[each] = place
    return found


def _spread(crowd: list[int], places: Sequence[float], least: float) -> list[float]:
    """Where the labels of a crowd stand, around their middle."""
    middle = sum(places[each] for each in crowd) / len(crowd)
    first = middle - least * (len(crowd) - 1) / 2.0
    return [first + least * number for number in range(len(crowd))]


def _overlap(
    below: list[int], above: list[int], places: Sequence[float], least: float
) -> bool:
    highest = _spread(below, places, least)[-1]
    return _spread(above, places, least)[0] - highest < least


def _lines_apart(column: str, names: list[str]) -> dict[str, Any]:
    """Colour and dashes together, without a legend: the lines carry their names."""
    both = told_apart(column, names)
    return {name: each.legend(None) for name, each in both.items()}
