"""An effect colour as it turns: its swatch, its coats at face and flop, its curves."""

from html import escape

import altair as alt
import pandas as pd

from shadecore.coats.answer import Answer
from shadecore.colour.display import hex_from_lab
from shadecore.effects.likely import EffectPaints
from shadecore.formats.echo import brief
from shadecore.question.question import Question
from shadecore.screens.chart_style import styled, told_apart
from shadecore.telling.colours import angle_words

_COATS_SHOWN = 5
_COATS_DRAWN = (1, 2, 3)


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


def strip_html(answer: Answer) -> str:
    """The film coat by coat at the face and at the flop.

    Parameters
    ----------
    answer : Answer
        Of an effect colour.

    Returns
    -------
    str
    """
    shown = min(_COATS_SHOWN, answer.settings.coat_cap)
    angles = answer.paints.angles
    heads = "".join(f'<th scope="col">{n}</th>' for n in range(1, shown + 1))
    best = [
        (place, each)
        for place, each in enumerate(answer.outlooks)
        if each in (answer.recommended, answer.closest)
    ]
    rows = []
    for place, each in best:
        for at in (0, len(angles) - 1):
            lab = answer.film.lab[place, :shown, at]
            left = answer.film.difference[place, :shown, at]
            cells = "".join(
                f'<td><i style="background:{colour}"></i>{apart:.1f}</td>'
                for colour, apart in zip(hex_from_lab(lab), left, strict=True)
            )
            name = f"{brief(each.undercoat.name)}, {angle_words(angles[at])}"
            rows.append(f'<tr><th scope="row">{escape(name)}</th>{cells}</tr>')
    return (
        '<div class="sc-scroll" tabindex="0" role="region" aria-label="Film at face '
        'and flop"><table class="sc-table sc-strip"><thead><tr><th scope="col">Sealer, '
        f"seen from</th>{heads}</tr></thead><tbody>{''.join(rows)}</tbody></table>"
        "</div>"
    )


def curves(answer: Answer) -> alt.Chart:
    """Lightness over the angle, coat by coat over the recommended sealer.

    Parameters
    ----------
    answer : Answer
        Of an effect colour.

    Returns
    -------
    altair.Chart
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
    chart: alt.Chart = (
        alt.Chart(rows)
        .mark_line(point=True)
        .encode(
            x=alt.X("Angle:Q", title="Degrees from the mirror direction"),
            y=alt.Y("L*:Q", title="L*"),
            **told_apart("Film", list(series)),
        )
    )
    return styled(chart)
