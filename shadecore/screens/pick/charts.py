"""The curves of the pick.

Building a chart takes longer than a click may wait, so each is built once a theme.
"""

from functools import lru_cache
from typing import Any, Final

import altair as alt
import pandas as pd

from shadecore.coats.answer import Answer
from shadecore.colour.appearance import WAVELENGTHS_NM
from shadecore.datafiles import data_file
from shadecore.screens.chart_style import styled, told_apart
from shadecore.screens.curve_labels import (
    LABELS_SHARE,
    LEAD,
    MOST_LABELS,
    Ends,
    beside,
)
from shadecore.telling.counts import coats_words
from shadecore.telling.names import MIX

_KEPT: Final = 16
"""Charts kept ready."""
_LOWEST_DIFFERENCE = 0.3
"""Below this nobody sees a difference, and the axis need not go there."""
_COATS_IN_SPECTRUM = (1, 2, 4)


@lru_cache(maxsize=_KEPT)
def difference_spec(answer: Answer, front: str) -> dict[str, Any]:
    """Difference left after each coat over each sealer, with the tolerance.

    Parameters
    ----------
    answer : Answer
        The answer.
    front : str
        The ink of the theme.

    Returns
    -------
    dict
        Vega-Lite.
    """
    drawn = answer.lines[:MOST_LABELS]
    names = [MIX if each.undercoat.parts else each.undercoat.name for each in drawn]
    rows = pd.DataFrame(
        [
            (name, coat, max(left, _LOWEST_DIFFERENCE))
            for name, each in zip(names, drawn, strict=True)
            for coat, left in enumerate(each.difference, start=1)
        ],
        columns=["Sealer", "Coats", "Difference"],
    )
    cap, highest = answer.settings.coat_cap, float(rows["Difference"].max())
    ends = (_LOWEST_DIFFERENCE, max(highest, answer.settings.tolerance) * 1.1)
    room = LABELS_SHARE * max(cap - 1, 1)
    first = [max(each.difference[0], _LOWEST_DIFFERENCE) for each in drawn]
    start = Ends(first, ends, "Coats", "Difference", 1.0, 1.0 - LEAD * room, logs=True)
    labels = beside(names, "Sealer", start, front)
    x = alt.X(
        "Coats:Q",
        scale=alt.Scale(domain=[1 - room * bool(labels.layers), cap], nice=False),
        axis=alt.Axis(values=list(range(1, cap + 1)), format="d", grid=False),
        title="Coats",
    )
    y = alt.Y(
        "Difference:Q",
        scale=alt.Scale(type="log", domain=list(ends), nice=False),
        axis=alt.Axis(values=[0.3, 0.5, 1, 2, 5, 10, 20, 50]),
        title="Difference (CIEDE2000)",
    )
    limit = pd.DataFrame({"Difference": [answer.settings.tolerance]})
    tips = ["Sealer", "Coats", alt.Tooltip("Difference", format=".1f")]
    layers = [
        alt.Chart(limit).mark_rule(strokeWidth=2, color=front).encode(y=y),
        alt.Chart(rows)
        .mark_line(point=True)
        .encode(x=x, y=y, tooltip=tips, **labels.encodings),
        *(each.encode(x=x, y=y) for each in labels.layers),
    ]
    return styled(alt.LayerChart(layer=layers)).to_dict()


@lru_cache(maxsize=_KEPT)
def reliability_spec(front: str) -> dict[str, Any]:
    """How often films hid that were given a probability to, on simulated paints.

    Parameters
    ----------
    front : str
        The ink of the theme.

    Returns
    -------
    dict
        Vega-Lite.
    """
    rows = pd.read_csv(data_file("reliability-simulated.csv"), comment="#")
    rows["Tolerance"] = rows["tolerance"].map("tolerance {:g}".format)
    names = sorted(rows["Tolerance"].unique())
    share = alt.Axis(format="%", tickCount=5)
    points = (
        alt.Chart(rows)
        .mark_line(point=True)
        .encode(
            x=alt.X("predicted:Q", axis=share, title="Chance given"),
            y=alt.Y("observed:Q", axis=share, title="Share that hid"),
            # The two lines lie on each other, so that labels beside them do not fit.
            **told_apart("Tolerance", names),
        )
    )
    ends = pd.DataFrame({"predicted": [0.0, 1.0], "observed": [0.0, 1.0]})
    diagonal = alt.Chart(ends).mark_line(strokeWidth=1, color=front)
    diagonal = diagonal.encode(x="predicted:Q", y="observed:Q")
    return styled(alt.LayerChart(layer=[diagonal, points])).to_dict()


@lru_cache(maxsize=_KEPT)
def spectrum_spec(answer: Answer, front: str) -> dict[str, Any]:
    """Over wavelength: the full colour, and where the film is still see-through.

    Parameters
    ----------
    answer : Answer
        The answer.
    front : str
        The ink of the theme.

    Returns
    -------
    dict
        Vega-Lite.
    """
    wanted = [n for n in _COATS_IN_SPECTRUM if n <= answer.settings.coat_cap]
    curves = {
        "finished colour": answer.bands.full,
        answer.recommended.undercoat.name: answer.recommended.undercoat.reflectance,
        **{f"after {coats_words(n)}": answer.bands.see_through[n - 1] for n in wanted},
    }
    rows = pd.DataFrame(
        [
            (name, nm, value)
            for name, values in curves.items()
            for nm, value in zip(WAVELENGTHS_NM, values, strict=True)
        ],
        columns=["Curve", "Wavelength", "Share"],
    )
    names, last = list(curves), [float(values[-1]) for values in curves.values()]
    top = 1.05 * max(0.1, float(rows["Share"].max()))
    room = LABELS_SHARE * 300.0
    end = Ends(last, (0.0, top), "Wavelength", "Share", 700.0, 700.0 + LEAD * room)
    labels = beside(names, "Curve", end, front)
    x = alt.X(
        "Wavelength:Q",
        scale=alt.Scale(domain=[400, 700 + room * bool(labels.layers)], nice=False),
        axis=alt.Axis(values=[400, 500, 600, 700], grid=False),
        title="Wavelength (nm)",
    )
    y = alt.Y(
        "Share:Q",
        scale=alt.Scale(domain=[0, top], nice=False),
        axis=alt.Axis(format="%", tickCount=5),
        title="Share of the light",
    )
    layers = [
        alt.Chart(rows).mark_line().encode(x=x, y=y, **labels.encodings),
        *(each.encode(x=x, y=y) for each in labels.layers),
    ]
    return styled(alt.LayerChart(layer=layers)).to_dict()
