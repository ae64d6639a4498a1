"""The lesson's section on metallics, worked out when it is opened."""

from html import escape
from typing import Any

import streamlit as st

from shadecore.coats.settings import Settings
from shadecore.lesson.colours import examples
from shadecore.lesson.metallic import (
    TurnedLesson,
    TurnedStrip,
    compare_effect_rules,
    effect_examples,
    turned_lesson,
)
from shadecore.lesson.rules import Ruled, compare_rules
from shadecore.screens import say
from shadecore.screens.angle_chart import angle_spec
from shadecore.screens.chart_style import ink
from shadecore.screens.lesson.charts import rules_spec
from shadecore.telling import metallic_words as words
from shadecore.telling.basis import OUTSIDE_NOTE
from shadecore.telling.colours import angle_words
from shadecore.telling.counts import coats_words
from shadecore.telling.lesson_words import rules_words
from shadecore.telling.numbers import beside_limit

_MOST_COATS = 4
_COATS = "lesson_metallic_coats"


@st.fragment
def show_metallic(settings: Settings) -> None:
    """Offer the section, and show it where it is wanted.

    Parameters
    ----------
    settings : Settings
        The lesson's tolerance, film and cap.
    """
    st.subheader("Why a metallic is different", anchor=False)
    if not st.toggle("Show an invented silver by angle", key="lesson_metallic"):
        return
    with st.spinner("Spraying the metallics …"):
        lesson = _turned(settings)
        effects, solids = _rules(settings)
    say.words(words.leak_words(lesson), words.last_words(lesson))
    most = min(_MOST_COATS, settings.coat_cap)
    coats = int(st.slider("Coats of silver", 1, most, key=_COATS)) if most > 1 else 1
    st.html(angles_html(lesson, coats))
    st.vega_lite_chart(angles_spec(lesson, coats, ink()), width="stretch")
    rows = (*effects, *solids)
    st.vega_lite_chart(
        rules_spec(rows, ink()),
        width="stretch",
        key="lesson_effect_rules",
        alt=rules_words(rows),
    )
    say.words(words.effect_rules_words(effects, solids))
    star = f" {OUTSIDE_NOTE}" if any(each.outside for each in lesson.full) else ""
    st.caption(
        "All colours here are invented; no sprayed panel was measured. Numbers: "
        f"difference that is left to the full colour at each angle.{star}"
    )


@st.cache_resource(max_entries=8, show_spinner=False)
def _turned(settings: Settings) -> TurnedLesson:
    return turned_lesson(effect_examples()[0], settings)


@st.cache_data(max_entries=8, show_spinner=False)
def _rules(settings: Settings) -> tuple[tuple[Ruled, ...], tuple[Ruled, ...]]:
    return (
        compare_effect_rules(effect_examples(), settings),
        compare_rules(examples(), settings),
    )


def angles_html(lesson: TurnedLesson, coats: int) -> str:
    """The film over each undercoat at each angle after some coats.

    Parameters
    ----------
    lesson : TurnedLesson
        The lesson.
    coats : int
        From 1 to the cap.

    Returns
    -------
    str
    """
    heads = "".join(
        f'<th scope="col">{angle_words(each)}</th>' for each in lesson.angles
    )
    limit = lesson.answer.settings.tolerance
    rows = "".join(_row(each, coats, limit) for each in lesson.strips)
    full = "".join(
        f'<td><i style="background:{each.hex}"></i>{"*" * each.outside}</td>'
        for each in lesson.full
    )
    return (
        '<div class="sc-scroll" tabindex="0" role="region" aria-label="Film by angle '
        f'after {coats_words(coats)}"><table class="sc-table sc-strip"><thead><tr>'
        f'<th scope="col">Sealer</th>{heads}<th scope="col">Hides last at</th></tr>'
        f'</thead><tbody>{rows}<tr><th scope="row">Full colour</th>{full}<td></td></tr>'
        "</tbody></table></div>"
    )


def _row(strip: TurnedStrip, coats: int, limit: float) -> str:
    cells = "".join(
        f'<td><i style="background:{film.hex}"></i>{beside_limit(left, limit, 1)}'
        f"{'*' * film.outside}</td>"
        for film, left in zip(
            strip.film[coats - 1], strip.difference[coats - 1], strict=True
        )
    )
    return (
        f'<tr><th scope="row">{escape(strip.undercoat.name)}</th>{cells}'
        f"<td>{angle_words(strip.estimate.last_angle)}</td></tr>"
    )


def angles_spec(lesson: TurnedLesson, coats: int, front: str) -> dict[str, Any]:
    """Difference left over each undercoat by angle.

    Parameters
    ----------
    lesson : TurnedLesson
        The lesson.
    coats : int
        From 1 to the cap.
    front : str
        The ink of the theme.

    Returns
    -------
    dict
        Vega-Lite.
    """
    left = {
        strip.undercoat.name: strip.difference[coats - 1] for strip in lesson.strips
    }
    titles = ("Sealer", "Difference left")
    return angle_spec(left, lesson.angles, titles, front)
