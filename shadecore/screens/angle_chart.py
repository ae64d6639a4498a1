"""Curves over the angle between the mirror direction and the eye."""

from collections.abc import Mapping, Sequence
from typing import Any, Final

import altair as alt
import pandas as pd

from shadecore.screens.chart_style import styled
from shadecore.screens.curve_labels import Ends, beside

_NAMED: Final = (15.0, 45.0, 75.0, 110.0)
"""Angles named on the axis, in degrees; all of them would run into each other."""
_HEADROOM: Final = 1.05
_LETTER: Final = 0.023
"""Width of a letter on a phone, as a share of the axis with the names."""


def angle_spec(
    curves: Mapping[str, Sequence[float]],
    angles: Sequence[float],
    titles: tuple[str, str],
    front: str,
) -> dict[str, Any]:
    """Draw curves over the angle, with their names at the end.

    Parameters
    ----------
    curves : mapping of str to sequence of float
        Values at every angle, by the name of the curve.
    angles : sequence of float
        Degrees from the mirror direction, ascending.
    titles : tuple of str
        What a curve is, and what its values are.
    front : str
        The ink of the theme.

    Returns
    -------
    dict
        Vega-Lite.
    """
    what, value = titles
    rows = pd.DataFrame(
        [
            (name, angle, float(each))
            for name, values in curves.items()
            for angle, each in zip(angles, values, strict=True)
        ],
        columns=[what, "Angle", value],
    )
    last = float(angles[-1])
    ends = Ends(
        [float(values[-1]) for values in curves.values()],
        (0.0, _HEADROOM * float(rows[value].max())),
        "Angle",
        value,
        last,
        _HEADROOM * last,
    )
    labels = beside(list(curves), what, ends, front)
    room = _HEADROOM / (1.0 - _LETTER * max(map(len, curves)))
    x = alt.X(
        "Angle:Q",
        scale=alt.Scale(domain=[0, room * last if labels.layers else last], nice=False),
        axis=alt.Axis(values=[each for each in angles if each in _NAMED], grid=False),
        title="Degrees from the mirror direction",
    )
    y = alt.Y(
        f"{value}:Q", scale=alt.Scale(domain=list(ends.span), nice=False), title=value
    )
    layers = [
        alt.Chart(rows).mark_line(point=True).encode(x=x, y=y, **labels.encodings),
        *(each.encode(x=x, y=y) for each in labels.layers),
    ]
    return styled(alt.LayerChart(layer=layers)).to_dict()
