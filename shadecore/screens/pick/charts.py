"""The curves of the pick."""

import altair as alt
import pandas as pd

from shadecore.coats.answer import Answer
from shadecore.colour.appearance import WAVELENGTHS_NM
from shadecore.datafiles import data_file
from shadecore.screens.chart_style import GREY, styled, told_apart

_LOWEST_DIFFERENCE = 0.3
"""Below this nobody sees a difference, and the axis need not go there."""
_COATS_IN_SPECTRUM = (1, 2, 4)


def difference_chart(answer: Answer) -> alt.LayerChart:
    """Difference left after each coat over each undercoat, with the tolerance.

    Parameters
    ----------
    answer : Answer
        The answer.

    Returns
    -------
    altair.LayerChart
    """
    rows = pd.DataFrame(
        [
            (each.undercoat.name, coat, max(left, _LOWEST_DIFFERENCE))
            for each in answer.lines
            for coat, left in enumerate(each.difference, start=1)
        ],
        columns=["Undercoat", "Coats", "Difference"],
    )
    names = [each.undercoat.name for each in answer.lines]
    lines = (
        alt.Chart(rows)
        .mark_line(point=True)
        .encode(
            x=alt.X("Coats:Q", axis=alt.Axis(tickMinStep=1), title="Coats"),
            y=alt.Y(
                "Difference:Q",
                scale=alt.Scale(type="log", nice=False),
                title="Difference (CIEDE2000)",
            ),
            **told_apart("Undercoat", names),
            tooltip=["Undercoat", "Coats", alt.Tooltip("Difference", format=".1f")],
        )
    )
    limit = pd.DataFrame({"Difference": [answer.settings.tolerance]})
    rule = (
        alt.Chart(limit).mark_rule(strokeWidth=2, color=GREY).encode(y="Difference:Q")
    )
    chart: alt.LayerChart = lines + rule
    return styled(chart)


def reliability_chart() -> alt.LayerChart:
    """How often films hid that were given a probability to, on simulated paints.

    Returns
    -------
    altair.LayerChart
    """
    rows = pd.read_csv(data_file("reliability-simulated.csv"), comment="#")
    rows["Tolerance"] = rows["tolerance"].map("{:g} CIEDE2000".format)
    names = sorted(rows["Tolerance"].unique())
    share = alt.Axis(format="%")
    points = (
        alt.Chart(rows)
        .mark_line(point=True)
        .encode(
            x=alt.X("predicted:Q", axis=share, title="Chance given"),
            y=alt.Y("observed:Q", axis=share, title="Share that hid"),
            **told_apart("Tolerance", names),
        )
    )
    ends = pd.DataFrame({"predicted": [0.0, 1.0], "observed": [0.0, 1.0]})
    diagonal = alt.Chart(ends).mark_line(strokeWidth=1, color=GREY)
    diagonal = diagonal.encode(x="predicted:Q", y="observed:Q")
    chart: alt.LayerChart = diagonal + points
    return styled(chart)


def spectrum_chart(answer: Answer) -> alt.Chart:
    """Over wavelength: the full colour, and where the film is still see-through.

    Parameters
    ----------
    answer : Answer
        The answer.

    Returns
    -------
    altair.Chart
    """
    wanted = [n for n in _COATS_IN_SPECTRUM if n <= answer.settings.coat_cap]
    curves = {
        "finished colour": answer.bands.full,
        answer.recommended.undercoat.name: answer.recommended.undercoat.reflectance,
        **{f"see-through after {n}": answer.bands.see_through[n - 1] for n in wanted},
    }
    rows = pd.DataFrame(
        [
            (name, nm, value)
            for name, values in curves.items()
            for nm, value in zip(WAVELENGTHS_NM, values, strict=True)
        ],
        columns=["Curve", "Wavelength", "Share"],
    )
    names = list(curves)
    chart: alt.Chart = (
        alt.Chart(rows)
        .mark_line()
        .encode(
            x=alt.X(
                "Wavelength:Q",
                scale=alt.Scale(domain=[400, 700], nice=False),
                axis=alt.Axis(tickCount=4),
                title="Wavelength (nm)",
            ),
            y=alt.Y("Share:Q", axis=alt.Axis(format="%"), title="Share of the light"),
            **told_apart("Curve", names),
        )
    )
    return styled(chart)
