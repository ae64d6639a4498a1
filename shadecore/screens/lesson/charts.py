"""The lesson's other charts: the contrast ratio, the two rules.

Building a chart takes longer than a slider may wait, so each is built once a theme.
"""

from functools import lru_cache
from typing import Any, Final

import altair as alt
import pandas as pd

from shadecore.film.drawdown import COMPLETE_HIDING
from shadecore.lesson.contrast_card import ContrastCard
from shadecore.lesson.rules import Ruled
from shadecore.screens.chart_style import GREY, HUES, LABEL_SIZE, styled
from shadecore.telling.counts import number_words

_RULES_HEIGHT: Final = 460
_RATIO_HEIGHT: Final = 320
_RATIO_TOP: Final = 1.15
_KEPT: Final = 32
"""Charts kept ready."""


@lru_cache(maxsize=_KEPT)
def ratio_spec(card: ContrastCard, front: str) -> dict[str, Any]:
    """Contrast ratio coat by coat, with its interval and the line of complete hiding.

    Parameters
    ----------
    card : ContrastCard
        The card.

    front : str
        The ink of the theme.

    Returns
    -------
    dict
        Vega-Lite.
    """
    rows = pd.DataFrame(
        {
            "coats": range(len(card.contrast_ratio)),
            "ratio": card.contrast_ratio,
            "low": card.low,
            "high": card.high,
        }
    )
    x = alt.X("coats:Q", axis=alt.Axis(tickMinStep=1, format="d"), title="Coats")
    # Above 1, where no curve goes, is room for the words on the line.
    y = alt.Y(
        "ratio:Q",
        scale=alt.Scale(domain=[0, _RATIO_TOP], nice=False),
        axis=alt.Axis(values=[0, 0.2, 0.4, 0.6, 0.8, 1.0], format=".1f"),
        title="Contrast ratio",
    )
    base = alt.Chart(rows)
    line = pd.DataFrame({"coats": [0.0], "ratio": [COMPLETE_HIDING]})
    layers = [
        base.mark_area(color=GREY, opacity=0.35).encode(x=x, y="low:Q", y2="high"),
        alt.Chart(line)
        .mark_rule(color=front, strokeWidth=2, strokeDash=[6, 3])
        .encode(y=y),
        alt.Chart(line)
        .mark_text(
            color=front,
            fontSize=LABEL_SIZE,
            align="left",
            baseline="bottom",
            dx=4,
            dy=-4,
        )
        .encode(
            x=x, y=alt.datum(1.0), text=alt.value(f"{COMPLETE_HIDING}: complete hiding")
        ),
        base.mark_line(
            color=front, strokeWidth=3, point={"color": front, "size": 40}
        ).encode(x=x, y=y),
    ]
    return styled(alt.LayerChart(layer=layers), _RATIO_HEIGHT).to_dict()


@lru_cache(maxsize=_KEPT)
def rules_spec(rows: tuple[Ruled, ...], front: str) -> dict[str, Any]:
    """Coats over the best undercoat and over the closest in lightness.

    Parameters
    ----------
    rows : tuple of Ruled
        Colours, in order.

    front : str
        The ink of the theme.

    Returns
    -------
    dict
        Vega-Lite.
    """
    cap = max(each.cap for each in rows)
    kinds = ["fewest coats", "closest in lightness"]
    table = pd.DataFrame(
        [
            (each.name, coats, kind)
            for each in rows
            for coats, kind in zip(
                (each.best_coats, each.closest_coats), kinds, strict=True
            )
        ],
        columns=["Colour", "Coats", "Rule"],
    )
    spans = pd.DataFrame(
        [
            (each.name, each.best_coats, each.closest_coats, _verdict(each))
            for each in rows
        ],
        columns=["Colour", "Coats", "to", "verdict"],
    )
    names = [each.name for each in rows]
    last, beyond = cap + 1, number_words(None, cap)
    y = alt.Y("Colour:N", sort=names, title=None, axis=alt.Axis(labelFlush=False))
    x = alt.X(
        "Coats:Q",
        scale=alt.Scale(domain=[0, cap + 4], nice=False),
        axis=alt.Axis(
            values=[*range(1, cap, 2), last],
            labelExpr=f"datum.value >= {last} ? '{beyond}' : format(datum.value, 'd')",
            grid=False,
        ),
        title="Coats to hide",
    )
    layers = [
        alt.Chart(spans).mark_rule(strokeWidth=4, color=GREY).encode(x=x, x2="to", y=y),
        alt.Chart(table)
        .mark_point(size=200, strokeWidth=3, opacity=1.0)
        .encode(
            x=x,
            y=y,
            shape=alt.Shape(
                "Rule:N",
                scale=alt.Scale(domain=kinds, range=["circle", "diamond"]),
                legend=alt.Legend(orient="bottom", title=None),
            ),
            color=alt.Color(
                "Rule:N",
                scale=alt.Scale(domain=kinds, range=[front, HUES[1]]),
                legend=alt.Legend(orient="bottom", title=None),
            ),
        ),
        alt.Chart(spans)
        .mark_text(align="left", dx=14, fontSize=LABEL_SIZE, color=front)
        .encode(x=alt.X("to:Q"), y=y, text="verdict:N"),
    ]
    return styled(alt.LayerChart(layer=layers), _RULES_HEIGHT).to_dict()


def _verdict(row: Ruled) -> str:
    return "works" if row.lightness_works else "fails"
