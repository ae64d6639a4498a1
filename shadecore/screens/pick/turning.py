"""An effect colour as it turns: its swatch and its curves."""

from functools import lru_cache
from typing import Any, Final

import altair as alt
import pandas as pd

from shadecore.coats.answer import Answer
from shadecore.colour.display import hex_from_lab
from shadecore.effects.likely import EffectPaints
from shadecore.question.question import Question
from shadecore.screens.chart_style import styled
from shadecore.screens.curve_labels import Ends, beside

_COATS_DRAWN: Final = (1, 2, 3)
_ANGLES_NAMED: Final = (15.0, 45.0, 75.0, 110.0)
_KEPT: Final = 16
"""Charts kept ready."""


def swatch_html(question: Question, answer: Answer) -> str:
    """One swatch that runs from the face to the flop.

    Parameters
    ----------
    question : Question
        With what was read.
    answer : Answer
        Its answer.

    Returns
    -------
    str
        Empty for a solid colour.
    """
    paints = answer.paints
    if not isinstance(paints, EffectPaints):
        return ""
    colours = hex_from_lab(paints.completed(question.readings))
    return (
        '<figure style="margin:0"><div class="sc-patch" role="img" aria-label="The '
        'colour from face to flop" style="height:4rem;background:linear-gradient(90deg,'
        f'{",".join(colours)})"></div><figcaption class="sc-small">The colour as it '
        "turns: face at the left, flop at the right. Angles that were not read are "
        "those of the likely paints.</figcaption></figure>"
    )


@lru_cache(maxsize=_KEPT)
def curves_spec(answer: Answer, front: str) -> dict[str, Any]:
    """Lightness over the angle, coat by coat over the recommended sealer.

    Parameters
    ----------
    answer : Answer
        Of an effect colour.
    front : str
        The ink of the theme.

    Returns
    -------
    dict
        Vega-Lite.
    """
    drawn = [n for n in _COATS_DRAWN if n <= answer.settings.coat_cap]
    film, full = answer.film.lab[0], answer.film.paint.full_lab()[0]
    series = {f"coat {n}": film[n - 1] for n in drawn} | {"full colour": full}
    rows = pd.DataFrame(
        [
            (name, angle, float(lab[0]))
            for name, values in series.items()
            for angle, lab in zip(answer.paints.angles, values, strict=True)
        ],
        columns=["Film", "Angle", "L*"],
    )
    ends = Ends(
        [float(values[-1][0]) for values in series.values()],
        (0.0, 1.05 * float(rows["L*"].max())),
        "Angle",
        "L*",
        last := float(answer.paints.angles[-1]),
        1.05 * last,
    )
    labels = beside(list(series), "Film", ends, front)
    shown = [angle for angle in answer.paints.angles if angle in _ANGLES_NAMED]
    x = alt.X(
        "Angle:Q",
        scale=alt.Scale(domain=[0, 1.5 * last], nice=False),
        axis=alt.Axis(values=shown, grid=False),
        title="Degrees from the mirror direction",
    )
    y = alt.Y("L*:Q", scale=alt.Scale(domain=list(ends.span), nice=False), title="L*")
    layers = [
        alt.Chart(rows).mark_line(point=True).encode(x=x, y=y, **labels.encodings),
        *(each.encode(x=x, y=y) for each in labels.layers),
    ]
    return styled(alt.LayerChart(layer=layers)).to_dict()
