"""What all charts have in common: colours, dashes, sizes, fonts, grid, axes."""

import tomllib
from functools import cache
from typing import Any, Final, TypeVar

import altair as alt
import streamlit as st

from shadecore.datafiles import screens_settings

HEIGHT: Final = 420
LABEL_SIZE: Final = 14
_LEGEND_WIDTH: Final = 260
GREY: Final = "#7A7A7A"
"""Visible on a light and on a dark page."""
HUES: Final = ("#0072B2", "#D55E00", "#009E73", "#CC79A7", "#E69F00", "#56B4E9", GREY)
"""Told apart by the colour-blind: M. Okabe and K. Ito, "Color Universal Design" (2008),
with a grey in place of black and of yellow, which vanish on a dark and a light page."""
DASHES: Final = ((1, 0), (6, 3), (2, 2), (8, 3, 2, 3), (4, 4), (1, 3), (10, 4))
_CURTAIN: Final = {"light": "#A8A8A8", "dark": "#6A6A6A"}
_GRID: Final = {"light": "#D0D0D0", "dark": "#4A4A4A"}

_Chart = TypeVar("_Chart", bound=alt.TopLevelMixin)


def _theme() -> str:
    """Whether the page is light or dark; a test's page is light."""
    return st.context.theme.type or "light"


@cache
def _shipped() -> dict[str, Any]:
    """The look that the app comes with."""
    settings = tomllib.loads(screens_settings().read_text("utf-8"))
    look: dict[str, Any] = settings["theme"]
    return look


def _of_theme(name: str) -> str:
    """A colour of the page; the app's own where it was started without its settings."""
    own = st.get_option(f"theme.{_theme()}.{name}")
    return str(own or _shipped()[_theme()][name])


def ink() -> str:
    """Colour of what stands out from the page most."""
    return _of_theme("textColor")


def page_colour() -> str:
    """Colour of the page, for a halo around a line or a bar that covers."""
    return _of_theme("backgroundColor")


def curtain_colour() -> str:
    """Neutral that covers what a closed film covers."""
    return _CURTAIN[_theme()]


def mixed(first: str, second: str, share: float) -> str:
    """A colour between two, in sRGB.

    Parameters
    ----------
    first, second : str
        Hex codes.
    share : float
        Of the second, 0..1; beyond it is cut.

    Returns
    -------
    str
        Hex code.
    """
    part = min(max(share, 0.0), 1.0)
    levels = [
        round(int(one, 16) * (1.0 - part) + int(other, 16) * part)
        for one, other in (
            (first[i : i + 2], second[i : i + 2]) for i in range(1, len(first), 2)
        )
    ]
    return "#" + "".join(f"{level:02x}" for level in levels)


def styled(chart: _Chart, height: int = HEIGHT) -> _Chart:
    """Give a chart the common look.

    Parameters
    ----------
    chart : altair chart
        The chart.
    height : int
        In pixels.

    Returns
    -------
    altair chart
        The same with height, fonts, grid and background set.
    """
    text = ink()
    sized: Any = chart
    look: _Chart = (
        # The chart library's own menu leads to pages and files that are not ours.
        sized.properties(
            height=height,
            background="transparent",
            usermeta={"embedOptions": {"actions": False}},
        )
        .configure_axis(
            labelFontSize=LABEL_SIZE,
            titleFontSize=LABEL_SIZE,
            labelColor=text,
            titleColor=text,
            gridColor=_GRID[_theme()],
            domainColor=GREY,
            tickColor=GREY,
            titleFontWeight="normal",
        )
        .configure_legend(
            labelFontSize=LABEL_SIZE, labelColor=text, labelLimit=_LEGEND_WIDTH
        )
        .configure_view(strokeWidth=0)
    )
    return look


def told_apart(column: str, names: list[str]) -> dict[str, Any]:
    """Colour and dashes together, so that lines differ without colour, too.

    Parameters
    ----------
    column : str
        The column that names the lines.
    names : list of str
        The lines, in the order of the legend.

    Returns
    -------
    dict
        Encodings ``color`` and ``strokeDash``.
    """
    legend = alt.Legend(orient="bottom", columns=2, title=None)
    hues = [HUES[place % len(HUES)] for place in range(len(names))]
    dashes = [list(DASHES[place % len(DASHES)]) for place in range(len(names))]
    return {
        "color": alt.Color(
            f"{column}:N",
            sort=names,
            scale=alt.Scale(domain=names, range=hues),
            legend=legend,
        ),
        "strokeDash": alt.StrokeDash(
            f"{column}:N",
            sort=names,
            scale=alt.Scale(domain=names, range=dashes),
            legend=legend,
        ),
    }
