"""The pick: a colour goes in, the undercoat and its coats come out."""

from dataclasses import replace

import streamlit as st

from shadecore.card.hiding_power import HidingPower
from shadecore.coats.answer import Answer
from shadecore.effects.library import effect_library, prepare_library
from shadecore.errors import ShadecoreError
from shadecore.question.answer import answer, card_power
from shadecore.question.question import Question
from shadecore.screens import pictures, say, session
from shadecore.screens.pick import (
    ask,
    ask_card,
    ask_kind,
    ask_seen,
    charts,
    more,
    turning,
    widgets,
)
from shadecore.telling.basis import BASIS, CAUTION
from shadecore.telling.counts import plan_words, sure_words
from shadecore.telling.effect_words import flop_words, kind_words, last_angle_words
from shadecore.telling.flag_words import warning_of
from shadecore.telling.hiding_words import hiding_power_words, hiding_words, mix_words
from shadecore.telling.reasons import why
from shadecore.telling.seen import rests_on_words
from shadecore.units import UNITS

_SEE_THROUGH = "Where the film is still see-through"


def page() -> None:
    """Run the page from top to bottom."""
    st.title("Which undercoat?", anchor=False)
    st.session_state[ask.TROUBLE] = list(session.problems())
    kept = _start()
    ask.ask_first()
    kind, angles = ask_kind.ask_kind(kept)
    # The picture stands above the settings but needs them, so it gets its place first.
    picture = st.container()
    question = widgets.question_now(kept)
    with st.expander("Film and gun"):
        ask.ask_film(question)
    with st.expander("Shelf, and mixing two sealers"):
        shelf = ask.ask_shelf(question)
    with st.expander("Test card"):
        card = ask_card.ask_card(question.condition)
    with st.expander("What you have seen of this paint"):
        seen = ask_seen.ask_seen(question)
    with st.expander("How the colour was measured"):
        ask.ask_condition()
    with picture:
        for trouble in st.session_state[ask.TROUBLE]:
            say.error(trouble)
        question = replace(
            widgets.question_now(kept),
            kind=kind,
            angles=angles,
            shelf=shelf,
            card=card,
            seen=seen,
        )
        # Kept before the answer is shown, so that the link never lags behind it.
        session.keep(question)
        _answer(question)


def _answer(question: Question) -> None:
    """Answer, show it and what follows, and keep what is asked there."""
    _make_ready(question)
    try:
        found, power = answer(question), card_power(question)
    except ShadecoreError as error:
        say.error(error)
        return
    show_answer(question, found, power)
    session.keep(_show_more(question))
    show_basis(found)


def _make_ready(question: Question) -> None:
    """Work the effect paints out at their first use, and say how far that is."""
    if not question.flakes or effect_library.cache_info().currsize:
        return
    shown = st.progress(0.0, "Working out the effect paints, once on this computer")

    def move(share: float) -> None:
        shown.progress(min(max(share, 0.0), 1.0))

    prepare_library(move)
    shown.empty()


def _start() -> Question:
    """The session's question, with the widgets filled from it."""
    kept = session.question()
    if "colour" not in st.session_state:
        ask.start_shelf(kept.shelf)
        ask_card.start_card(kept.card)
        ask_seen.start_seen(kept.seen)
    widgets.fill(kept)
    ask_kind.fill_kind(kept)
    return kept


def show_answer(
    question: Question, found: Answer, power: HidingPower | None = None
) -> None:
    """Show an answer: the picture, then the table, then the curves.

    Parameters
    ----------
    question : Question
        What was asked.
    found : Answer
        Its answer.
    power : HidingPower, optional
        What a test card says of the paint's hiding.
    """
    units = UNITS[question.units]
    st.html(pictures.hero_html(found))
    _show_kind(question, found)
    _show_picks(found)
    for rests in found.rests_on:
        say.words(rests_on_words(rests, found.settings.coat_cap))
    if found.mix is not None:
        say.words(mix_words(found.mix, found.recommended))
    for flag in found.flags:
        warned = warning_of(flag)
        st.warning(f"**{warned.headline}.** {warned.advice}")
    if question.flakes:
        st.html(turning.strip_html(found))
    else:
        st.html(pictures.strip_html(found))
    st.html(pictures.table_html(found, units))
    st.markdown(
        f"Hiding: {hiding_words(found, units)} One coat here: "
        f"{units.film.show(found.settings.film.dry_film_um)} dry."
    )
    if power is not None:
        st.markdown(f"From the test card: {hiding_power_words(power, units)}")
    left, right = st.columns(2)
    with left:
        st.subheader("Difference left, coat by coat", anchor=False)
        st.altair_chart(charts.difference_chart(found), width="stretch")
    with right:
        title = "How it turns" if question.flakes else _SEE_THROUGH
        st.subheader(title, anchor=False)
        if not question.flakes:
            st.altair_chart(charts.spectrum_chart(found), width="stretch")
        else:
            st.altair_chart(turning.curves(found), width="stretch")


def _show_kind(question: Question, found: Answer) -> None:
    """Say what kind of colour it is taken for, and how it turns."""
    if question.flakes:
        st.html(turning.swatch_html(question, found))
    last = last_angle_words(question, found.recommended.last_angle)
    say.words(*filter(None, (kind_words(question), flop_words(question), last)))


def _show_more(question: Question) -> Question:
    """Show what follows from the answer; the question with what is asked there."""
    units = UNITS[question.units]
    mixes, cost, areas, grounds = st.tabs(
        ["1:1 or 2:1", "Cost", "Sand-throughs", "Ground coat"]
    )
    with mixes:
        more.show_reductions(question, units)
    with cost:
        question = more.show_cost(question, units)
    with areas:
        question = more.show_sand_throughs(question)
    with grounds:
        more.show_grounds(question, units)
    return question


def _show_picks(found: Answer) -> None:
    best, closest = found.recommended, found.closest
    st.markdown(
        f"**Fewest coats:** {say.plain(best.undercoat.name)}, "
        f"{sure_words(best.count)}. {plan_words(best.count)} **Closest in lightness:** "
        f"{say.plain(closest.undercoat.name)}, {sure_words(closest.count)}.  \n"
        f"{say.plain(why(found))}"
    )


def show_basis(found: Answer) -> None:
    """Say what is measured, what is modelled, and what keeps people safe.

    Parameters
    ----------
    found : Answer
        The answer.
    """
    with st.expander("How far to trust the numbers"):
        st.markdown(
            "Each number of coats has a chance of being enough. On a thousand "
            "simulated paints, chances between 50 and 90 % came out too high: of the "
            "films said to hide with 75 %, about 60 % did. A perfect forecast lies on "
            "the straight line. Real paints may differ: a test card of yours counts "
            "for more."
        )
        st.altair_chart(charts.reliability_chart(), width="stretch")
    st.info(CAUTION)
    st.caption(BASIS[found.basis])
