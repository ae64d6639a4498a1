"""The pick: a colour goes in, the sealer and its coats come out, on one screen."""

from dataclasses import replace
from html import escape
from typing import Final

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from shadecore.coats.answer import Answer
from shadecore.coats.loading import default_loading
from shadecore.errors import ShadecoreError
from shadecore.job.paint_amount import with_amounts
from shadecore.question.answer import answer, answer_as_usual
from shadecore.question.question import Question
from shadecore.screens import pictures, say, session, shop
from shadecore.screens.kept_bar import show_kept_bar
from shadecore.screens.pick import ask, ask_kind, chips, settings_row, widgets
from shadecore.screens.pick.further import ask_further, show_further
from shadecore.screens.pick.look import STYLE
from shadecore.screens.pick.own_sheet import own_sheet
from shadecore.telling.basis import CAUTION, LAST_WORD
from shadecore.telling.effect_words import last_angle_words
from shadecore.telling.photo_words import asked_lab_words
from shadecore.telling.seen import (
    as_usual_words,
    left_out_words,
    loading_words,
    rests_on_words,
)

_KEPT: Final = "pick_kept"


def page() -> None:
    """Run the page from top to bottom."""
    st.html(STYLE)
    kept = _begin()
    with st.container(gap="xsmall", key="pick"):
        # What the colour is kept as stands first, but is known last.
        turned, bar = ask.ask_colour()
        with turned:
            kind, angles, turned_trouble = ask_kind.ask_angles(kept)
        with st.container(gap="xsmall"):
            chips.ask_chips(kept.shelf)
        # The answer stands above the settings but needs them, so it gets its place:
        # each part its own, or a new answer would push the old one's parts about.
        troubles, place, further = (st.container(gap="xsmall") for _ in range(3))
        now = replace(widgets.question_now(kept), kind=kind, angles=angles)
        question, card_trouble = settings_row.ask_settings(now)
        # Kept before the answer is shown, so that the link never lags behind it.
        session.keep(question)
        with troubles:
            for trouble in (*session.problems(), turned_trouble, card_trouble):
                if trouble:
                    say.error(trouble)
        with place:
            found = _answer(question, bar)
        if found is not None:
            with further:
                ask_further()
            show_further(found)
    st.caption(f"{LAST_WORD} {CAUTION}")
    ask.focus_colour()
    if found is not None:
        _keep(question)
    if found is not None or not shop.from_elsewhere():
        # A link's colour that gives no answer is no colour to keep.
        with bar:
            show_kept_bar()


def _begin() -> Question:
    """The session's question, and the widgets filled with it."""
    kept, anew = widgets.begin()
    ask_kind.fill_kind(kept, anew=anew)
    if anew:
        chips.forget()
        settings_row.forget()
    return kept


def _answer(question: Question, bar: DeltaGenerator) -> Answer | None:
    """Answer and show it; None where there is no answer.

    The answer before stays on the page while the next one is worked out; what takes
    long is said in the bar, which has its place anyway.
    """
    with bar:
        _make_ready(question)
    try:
        found = with_amounts(answer(question), own_sheet())
    except ShadecoreError as error:
        say.error(error)
        return None
    said = "".join(
        f'<p class="sc-counts">{escape(line)}</p>'
        for line in _what_counts(question, found)
    )
    # One element, so that the page moves once at most when another answer comes.
    st.html(
        f"{pictures.pick_html(found)}{said}{pictures.strip_html(found, question.units)}"
    )
    return found


def _what_counts(question: Question, found: Answer) -> list[str]:
    """What moved the count, and what must not be missed."""
    against = [
        rests_on_words(each, found.settings.coat_cap)
        for each in found.rests_on
        if each.contradicts
    ]
    usual = answer_as_usual(question)
    learned = (
        []
        if usual is None
        else [loading_words(question.loading, default_loading()), as_usual_words(usual)]
    )
    last = last_angle_words(question, found.recommended.last_angle)
    photo = (
        f"{asked_lab_words(found.topcoat.lab, question.photo)}."
        if question.photo
        else ""
    )
    fewer = left_out_words(len(found.rests_on), found.left_out)
    return [each for each in (fewer, *against, *learned, last, photo) if each]


def _make_ready(question: Question) -> None:
    """Work the effect paints out at their first use, and say how far that is."""
    if not question.flakes:
        return
    # Their room takes a while to load, and solid colours need none of it.
    from shadecore.effects.library import (  # noqa: PLC0415
        effect_library,
        effect_library_is_ready,
    )

    if effect_library_is_ready():
        return
    shown = st.progress(0.0, "Working out the effect paints, once on this computer")

    def move(share: float) -> None:
        shown.progress(min(max(share, 0.0), 1.0))

    effect_library(move)
    shown.empty()


def _keep(question: Question) -> None:
    """Keep what is asked in the shop's book, where it changed."""
    now = (question, session.edition())
    if st.session_state.get(_KEPT) != now:
        st.session_state[_KEPT] = now
        shop.keep_colour(question)
