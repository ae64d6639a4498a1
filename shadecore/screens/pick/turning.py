"""An effect colour as it turns: its swatch and its curves."""

from functools import lru_cache
from typing import Any, Final

from shadecore.coats.answer import Answer
from shadecore.colour.display import hex_from_lab
from shadecore.effects.likely import EffectPaints
from shadecore.question.question import Question
from shadecore.screens.angle_chart import angle_spec

_COATS_DRAWN: Final = (1, 2, 3)
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
    by_coat = {f"coat {n}": film[n - 1] for n in drawn} | {"full colour": full}
    curves = {name: [float(lab[0]) for lab in films] for name, films in by_coat.items()}
    return angle_spec(curves, answer.paints.angles, ("Film", "L*"), front)
