"""Why the pick is what it is, and how far to believe it."""

import streamlit as st

from shadecore.coats.answer import Answer
from shadecore.pages.details import sealers_table
from shadecore.question.answer import card_power
from shadecore.question.question import Question
from shadecore.screens import pictures, say
from shadecore.screens.chart_style import ink
from shadecore.screens.pick import charts, turning
from shadecore.telling.basis import BASIS, RELIABLE
from shadecore.telling.effect_words import flop_words, kind_words, last_angle_words
from shadecore.telling.hiding_words import hiding_power_words, hiding_words, mix_words
from shadecore.telling.reasons import closest_words, why
from shadecore.telling.seen import left_out_words, rests_on_words
from shadecore.units import UNITS


def show_why(question: Question, found: Answer) -> None:
    """Say why, then show the curves, then how far to believe them.

    Parameters
    ----------
    question : Question
        What was asked.
    found : Answer
        Its answer.
    """
    units = UNITS[question.units]
    _say_why(question, found)
    st.html(pictures.details_html(sealers_table(found, units)))
    left, right = st.columns(2)
    front = ink()
    with left:
        st.subheader("Difference left, coat by coat", anchor=False)
        st.vega_lite_chart(charts.difference_spec(found, front), width="stretch")
    with right:
        if question.flakes:
            st.html(turning.swatch_html(question, found))
            st.subheader("How it turns", anchor=False)
            st.vega_lite_chart(turning.curves_spec(found, front), width="stretch")
        else:
            st.subheader("Where the film is still see-through", anchor=False)
            st.vega_lite_chart(charts.spectrum_spec(found, front), width="stretch")
    st.subheader("How far to trust the numbers", anchor=False)
    left, right = st.columns(2)
    with left:
        say.words(RELIABLE)
        say.words(BASIS[found.basis])
    with right:
        st.vega_lite_chart(charts.reliability_spec(front), width="stretch")


def _say_why(question: Question, found: Answer) -> None:
    units = UNITS[question.units]
    lines = [
        why(found),
        closest_words(found),
        "" if found.mix is None else mix_words(found.mix, found.recommended),
        f"Hiding: {hiding_words(found, units)}",
        kind_words(question),
        flop_words(question),
        last_angle_words(question, found.recommended.last_angle),
        left_out_words(len(found.rests_on), found.left_out),
        *(rests_on_words(each, found.settings.coat_cap) for each in found.rests_on),
    ]
    power = card_power(question)
    if power is not None:
        lines.append(f"From the test card: {hiding_power_words(power, units)}")
    for line in filter(None, lines):
        say.words(line)
