"""The one chart that answers why: undercoats behind the film's curtain.

The curtain is dense where the film is closed, so an undercoat is seen only where the
film is see-through: there it shows what it adds to the full colour.

The drawing is the same for every colour and number of coats, so it is built once for
each theme; a slider's move only changes its data.
"""

from collections.abc import Sequence
from functools import cache
from typing import Any, Final

import altair as alt
import numpy as np
import pandas as pd
from numpy.typing import NDArray

from shadecore.colour.appearance import WAVELENGTHS_NM, lab_from_reflectance
from shadecore.colour.display import hex_from_lab
from shadecore.lesson.panels import Lesson
from shadecore.screens.chart_style import (
    LABEL_SIZE,
    curtain_colour,
    ink,
    mixed,
    page_colour,
    styled,
)
from shadecore.telling.colours import colour_word
from shadecore.telling.lesson_words import OPAQUE_BELOW
from shadecore.telling.reasons import BANDS
from shadecore.undercoats.shelf import munsell_value
from shadecore.units import percent

_HEIGHT: Final = 460
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
_LABEL_ROOM_NM: Final = (450, 650)
"""Between where the full colour's name may stand and be whole."""
_LABEL_HALF_NM: Final = 55
"""Half the width of that name on a phone; it stands above all of the curve there."""


def why_spec(lesson: Lesson, coats: int) -> dict[str, Any]:
    """The chart as Vega-Lite.

    Parameters
    ----------
    lesson : Lesson
        The lesson.
    coats : int
        0 to the cap.

    Returns
    -------
    dict
        With its data under ``datasets``, as tables.
    """
    through = lesson.see_through[coats]
    behind = [mixed(page_colour(), curtain_colour(), 1.0 - each) for each in through]
    return {
        **_drawing(ink(), page_colour()),
        "datasets": {
            "blocks": pd.concat(
                [
                    _blocks(0.0, 1.0, behind),
                    _undercoats(lesson, through, behind),
                    _blocks(*_STRIP, _light()),
                ]
            ),
            "full": _full(lesson),
            "bands": _bands(through),
            "names": _names(lesson),
            "own": _own(lesson),
        },
    }


def why_in_words(lesson: Lesson, coats: int) -> str:
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
        f"{band.name} {percent(_mean(lesson.see_through[coats], band.columns))} "
        f"through, full colour {percent(_mean(lesson.reflectance, band.columns))}"
        for band in BANDS
    )
    greys = ", ".join(
        f"{each.undercoat.name} {percent(float(np.mean(each.undercoat.reflectance)))}"
        for each in lesson.panels
    )
    return f"Over wavelength: {shares}. Sealers reflect: {greys}."


@cache
def _drawing(front: str, page: str) -> dict[str, Any]:
    """Everything but the data, in the colours of a theme."""
    x = alt.X(
        "nm:Q",
        scale=alt.Scale(domain=[_FIRST_NM, _LAST_NM + _ROOM_FOR_NAMES_NM], nice=False),
        axis=alt.Axis(values=[400, 500, 600, 700], grid=False),
        title="Wavelength (nm)",
    )
    y = alt.Y(
        "share:Q",
        scale=alt.Scale(domain=[_STRIP[0] - 0.01, _TOP], nice=False),
        axis=alt.Axis(format="%", values=[0, 0.25, 0.5, 0.75, 1.0], grid=False),
        title="Light reflected",
    )
    text: dict[str, Any] = {"fontSize": LABEL_SIZE, "color": front}
    full, bands = _from("full"), _from("bands")
    layers = [
        _from("blocks")
        .mark_rect(strokeWidth=0)
        .encode(
            x=x,
            y=y,
            x2="to:Q",
            y2="top:Q",
            color=alt.Color("colour:N", scale=None, legend=None),
        ),
        full.mark_line(strokeWidth=9, color=page).encode(x=x, y=y),
        full.mark_line(strokeWidth=5, color=front).encode(x=x, y=y),
        bands.mark_text(**text, fontWeight="bold").encode(x=x, y=y, text="word:N"),
        bands.mark_text(**text).encode(x=x, y=alt.Y("above:Q"), text="light:N"),
        _from("names").mark_text(**text, align="left").encode(x=x, y=y, text="word:N"),
        _from("own")
        .mark_text(**text, fontWeight="bold", dy=-14)
        .encode(x=x, y=y, text="word:N"),
    ]
    return styled(alt.LayerChart(layer=layers), _HEIGHT).to_dict()


def _from(name: str) -> alt.Chart:
    return alt.Chart(alt.NamedData(name))


def _mean(spectrum: Sequence[float], columns: NDArray[np.bool_]) -> float:
    return float(np.mean(np.array(spectrum)[columns]))


def _blocks(
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


def _undercoats(
    lesson: Lesson, through: Sequence[float], behind: Sequence[str]
) -> pd.DataFrame:
    """The undercoats' lines with their edges, as far as the film lets them be seen."""
    greys = hex_from_lab([each.undercoat.lab for each in lesson.panels])
    return pd.concat(
        [
            _blocks(
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


@cache
def _light() -> tuple[str, ...]:
    """What each wavelength looks like, as far as a screen can show it."""
    one_each = np.eye(WAVELENGTHS_NM.size) * _STRIP_LIGHT
    return tuple(hex_from_lab(lab_from_reflectance(one_each)))


def _full(lesson: Lesson) -> pd.DataFrame:
    curve = lesson.reflectance
    return pd.DataFrame(
        {
            "nm": [_FIRST_NM, *WAVELENGTHS_NM.tolist(), _LAST_NM],
            "share": [curve[0], *curve, curve[-1]],
        }
    )


def _bands(through: Sequence[float]) -> pd.DataFrame:
    """What each band of light meets."""
    shares = [_mean(through, band.columns) for band in BANDS]
    return pd.DataFrame(
        {
            "nm": [(band.low_nm + band.high_nm) / 2 for band in BANDS],
            "share": _WORDS_AT[1],
            "above": _WORDS_AT[0],
            "word": [
                "hardly any" if each < OPAQUE_BELOW else f"{percent(each)} through"
                for each in shares
            ],
            "light": [f"{band.name} light" for band in BANDS],
        }
    )


def _names(lesson: Lesson) -> pd.DataFrame:
    return pd.DataFrame(
        {
            "nm": float(_LAST_NM + 3),
            "share": [each.undercoat.reflectance[-1] for each in lesson.panels],
            "word": [
                f"N {round(munsell_value(each.undercoat.lightness), 1):g}"
                for each in lesson.panels
            ],
        }
    )


def _own(lesson: Lesson) -> pd.DataFrame:
    curve = np.array(lesson.reflectance)
    low, high = _LABEL_ROOM_NM
    roomy = (low <= WAVELENGTHS_NM) & (high >= WAVELENGTHS_NM)
    peak = int(np.argmax(np.where(roomy, curve, -1.0)))
    under = np.abs(WAVELENGTHS_NM - WAVELENGTHS_NM[peak]) <= _LABEL_HALF_NM
    return pd.DataFrame(
        {
            "nm": [float(WAVELENGTHS_NM[peak])],
            "share": [float(curve[under].max())],
            "word": [f"full {colour_word(lesson.topcoat.lab)}"],
        }
    )
