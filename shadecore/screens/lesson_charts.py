"""The lesson's charts: why, the contrast ratio, the two rules."""

from collections.abc import Sequence
from functools import cache
from typing import Any, Final

import altair as alt
import numpy as np
import pandas as pd
from numpy.typing import NDArray

from shadecore.colour.appearance import WAVELENGTHS_NM, lab_from_reflectance
from shadecore.colour.display import hex_from_lab
from shadecore.film.drawdown import COMPLETE_HIDING
from shadecore.lesson.card import ContrastCard
from shadecore.lesson.panels import Lesson
from shadecore.lesson.rules import Ruled
from shadecore.report.lesson_words import CLOSED_BELOW, colour_word
from shadecore.report.reasons import BANDS
from shadecore.screens.chart_style import (
    GREY,
    HUES,
    LABEL_SIZE,
    curtain_colour,
    ink,
    mixed,
    page_colour,
    styled,
)
from shadecore.undercoats.shelf import munsell_value

_WHY_HEIGHT: Final = 460
_RATIO_HEIGHT: Final = 320
_STEP_NM: Final = int(WAVELENGTHS_NM[1] - WAVELENGTHS_NM[0])
_FIRST_NM, _LAST_NM = 395, 705
_ROOM_FOR_NAMES_NM: Final = 45
_STRIP: Final = (-0.07, -0.02)
"""Where the strip of the spectrum lies under the curves, on the axis of shares."""
_WORDS_AT: Final = (1.12, 1.06)
_TOP: Final = 1.16
_LINE, _EDGE = 0.008, 0.014
"""Half the height of an undercoat's line, and of it with its edges."""
_OVERLAP_NM: Final = 1
_STRIP_LIGHT: Final = 9.0
"""How bright one wavelength of the strip is lit, so that it can be told."""


def why_chart(lesson: Lesson, coats: int) -> alt.LayerChart:
    """Undercoats behind the film's curtain, the full colour in front.

    The curtain is dense where the film is closed, so an undercoat is seen only where
    the film is see-through: there it shows what it adds to the full colour.

    Parameters
    ----------
    lesson : Lesson
        The lesson.
    coats : int
        0 to the cap.

    Returns
    -------
    altair.LayerChart
    """
    x: dict[str, Any] = {
        "x": alt.X(
            "nm:Q",
            scale=alt.Scale(
                domain=[_FIRST_NM, _LAST_NM + _ROOM_FOR_NAMES_NM], nice=False
            ),
            axis=alt.Axis(values=[400, 500, 600, 700], grid=False),
            title="Wavelength (nm)",
        )
    }
    y = alt.Y(
        "share:Q",
        scale=alt.Scale(domain=[_STRIP[0] - 0.01, _TOP], nice=False),
        axis=alt.Axis(format="%", values=[0, 0.25, 0.5, 0.75, 1.0], grid=False),
        title="Light thrown back",
    )
    full = alt.Chart(_full(lesson))
    layers = [
        _blocks(_curtain(lesson, coats), x, y),
        _blocks(_undercoats(lesson, coats), x, y),
        full.mark_line(strokeWidth=9, color=page_colour()).encode(**x, y=y),
        full.mark_line(strokeWidth=5, color=ink()).encode(**x, y=y),
        _blocks(_strip(), x, y),
        *_words(lesson, coats, x, y),
    ]
    return styled(alt.LayerChart(layer=layers), _WHY_HEIGHT)


def why_words_for_chart(lesson: Lesson, coats: int) -> str:
    """What the chart shows, for who cannot see it.

    Parameters
    ----------
    lesson : Lesson
        The lesson.
    coats : int
        0 to the cap.

    Returns
    -------
    str
    """
    shares = ", ".join(
        f"{band.name} {_mean(lesson.see_through[coats], band.columns):.0%} through, "
        f"full colour {_mean(lesson.reflectance, band.columns):.0%}"
        for band in BANDS
    )
    greys = ", ".join(
        f"{each.undercoat.name} {np.mean(each.undercoat.reflectance):.0%}"
        for each in lesson.panels
    )
    return f"Over wavelength: {shares}. Undercoats throw back: {greys}."


def _mean(spectrum: Sequence[float], columns: Any) -> float:  # noqa: ANN401
    return float(np.mean(np.array(spectrum)[columns]))


def _undercoats(lesson: Lesson, coats: int) -> pd.DataFrame:
    """The undercoats' lines with their edges, as far as the film lets them be seen."""
    greys = hex_from_lab([each.undercoat.lab for each in lesson.panels])
    through = lesson.see_through[coats]
    behind = [mixed(page_colour(), curtain_colour(), 1.0 - each) for each in through]
    return pd.concat(
        [
            _blocks_at(
                np.array(each.undercoat.reflectance) - half,
                np.array(each.undercoat.reflectance) + half,
                [
                    mixed(curtain, colour, share)
                    for curtain, share in zip(behind, through, strict=True)
                ],
            )
            for each, grey in zip(lesson.panels, greys, strict=True)
            for half, colour in ((_EDGE, ink()), (_LINE, grey))
        ]
    )


def _blocks_at(
    bottom: NDArray[np.float64] | float,
    top: NDArray[np.float64] | float,
    colours: Sequence[str],
) -> pd.DataFrame:
    """A block for each wavelength; they overlap, so that no seam shows the page."""
    return pd.DataFrame(
        {
            "nm": WAVELENGTHS_NM - _STEP_NM / 2,
            "to": WAVELENGTHS_NM + _STEP_NM / 2 + _OVERLAP_NM,
            "share": bottom,
            "top": top,
            "colour": colours,
        }
    )


def _blocks(rows: pd.DataFrame, x: dict[str, Any], y: alt.Y) -> alt.Chart:
    drawn: alt.Chart = (
        alt.Chart(rows)
        .mark_rect(strokeWidth=0)
        .encode(
            **x,
            y=y,
            x2="to",
            y2="top",
            color=alt.Color("colour:N", scale=None, legend=None),
        )
    )
    return drawn


def _edges() -> list[int]:
    return [_FIRST_NM, *WAVELENGTHS_NM.tolist(), _LAST_NM]


def _stretched(values: Sequence[float]) -> list[float]:
    return [values[0], *values, values[-1]]


def _full(lesson: Lesson) -> pd.DataFrame:
    return pd.DataFrame({"nm": _edges(), "share": _stretched(lesson.reflectance)})


def _curtain(lesson: Lesson, coats: int) -> pd.DataFrame:
    through = lesson.see_through[coats]
    colours = [mixed(page_colour(), curtain_colour(), 1.0 - each) for each in through]
    return _blocks_at(0.0, 1.0, colours)


@cache
def _light() -> tuple[str, ...]:
    """What each wavelength looks like, as far as a screen can show it."""
    one_each = np.eye(WAVELENGTHS_NM.size) * _STRIP_LIGHT
    return tuple(hex_from_lab(lab_from_reflectance(one_each)))


def _strip() -> pd.DataFrame:
    return _blocks_at(*_STRIP, _light())


def _words(lesson: Lesson, coats: int, x: dict[str, Any], y: alt.Y) -> list[alt.Chart]:
    """Names of the lines, and what each band of light meets."""
    through = [_mean(lesson.see_through[coats], band.columns) for band in BANDS]
    bands = pd.DataFrame(
        {
            "nm": [(band.low_nm + band.high_nm) / 2 for band in BANDS],
            "share": _WORDS_AT[1],
            "above": _WORDS_AT[0],
            "word": [
                "closed" if each < CLOSED_BELOW else f"{each:.0%} through"
                for each in through
            ],
            "light": [f"{band.name} light" for band in BANDS],
        }
    )
    names = pd.DataFrame(
        {
            "nm": float(_LAST_NM + 3),
            "share": [each.undercoat.reflectance[-1] for each in lesson.panels],
            "word": [
                f"N {round(munsell_value(each.undercoat.lightness), 1):g}"
                for each in lesson.panels
            ],
        }
    )
    peak = int(np.argmax(lesson.reflectance))
    own = pd.DataFrame(
        {
            "nm": [float(np.clip(WAVELENGTHS_NM[peak], 450, 650))],
            "share": [float(np.max(lesson.reflectance))],
            "word": [f"full {colour_word(lesson.topcoat.lab)}"],
        }
    )
    text: dict[str, Any] = {"fontSize": LABEL_SIZE, "color": ink()}
    return [
        alt.Chart(bands)
        .mark_text(**text, fontWeight="bold")
        .encode(**x, y=y, text="word:N"),
        alt.Chart(bands)
        .mark_text(**text)
        .encode(**x, y=alt.Y("above:Q"), text="light:N"),
        alt.Chart(names)
        .mark_text(**text, align="left")
        .encode(**x, y=y, text="word:N"),
        alt.Chart(own)
        .mark_text(**text, fontWeight="bold", dy=-14)
        .encode(**x, y=y, text="word:N"),
    ]


def ratio_chart(card: ContrastCard, coats: int) -> alt.LayerChart:
    """Contrast ratio coat by coat, with its interval and the line of complete hiding.

    Parameters
    ----------
    card : ContrastCard
        The card.
    coats : int
        The coats shown beside it.

    Returns
    -------
    altair.LayerChart
    """
    rows = pd.DataFrame(
        {
            "coats": range(len(card.contrast_ratio)),
            "ratio": card.contrast_ratio,
            "low": card.low,
            "high": card.high,
        }
    )
    x = alt.X("coats:Q", axis=alt.Axis(tickMinStep=1), title="Coats")
    y = alt.Y("ratio:Q", scale=alt.Scale(domain=[0, 1.05]), title="Contrast ratio")
    base = alt.Chart(rows)
    line = pd.DataFrame(
        {"coats": [0.0], "ratio": [COMPLETE_HIDING], "word": [f"{COMPLETE_HIDING}"]}
    )
    layers = [
        base.mark_area(color=GREY, opacity=0.35).encode(x=x, y="low:Q", y2="high"),
        alt.Chart(line)
        .mark_rule(color=ink(), strokeWidth=2, strokeDash=[6, 3])
        .encode(y=y),
        alt.Chart(line)
        .mark_text(color=ink(), fontSize=LABEL_SIZE, align="left", dy=12, dx=4)
        .encode(x=x, y=y, text=alt.value(f"{COMPLETE_HIDING}: complete hiding")),
        base.mark_line(
            color=ink(), strokeWidth=3, point={"color": ink(), "size": 40}
        ).encode(x=x, y=y),
        alt.Chart(rows.iloc[coats : coats + 1])
        .mark_point(color=ink(), size=320, strokeWidth=3)
        .encode(x=x, y=y),
    ]
    return styled(alt.LayerChart(layer=layers), _RATIO_HEIGHT)


def rules_chart(rows: Sequence[Ruled]) -> alt.LayerChart:
    """Coats over the best undercoat and over the closest in lightness.

    Parameters
    ----------
    rows : sequence of Ruled
        Colours, in order.

    Returns
    -------
    altair.LayerChart
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
    y = alt.Y("Colour:N", sort=names, title=None)
    x = alt.X(
        "Coats:Q",
        scale=alt.Scale(domain=[0, cap + 4], nice=False),
        axis=alt.Axis(
            values=[*range(1, cap, 2), cap + 1],
            labelExpr=f"datum.value > {cap} ? '>{cap}' : datum.label",
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
                scale=alt.Scale(domain=kinds, range=[ink(), HUES[1]]),
                legend=alt.Legend(orient="bottom", title=None),
            ),
        ),
        alt.Chart(spans)
        .mark_text(align="left", dx=14, fontSize=LABEL_SIZE, color=ink())
        .encode(x=alt.X("to:Q"), y=y, text="verdict:N"),
    ]
    return styled(alt.LayerChart(layer=layers), _WHY_HEIGHT)


def _verdict(row: Ruled) -> str:
    return "works" if row.lightness_works else "fails"
