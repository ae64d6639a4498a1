"""The lesson: one film over several undercoats, why it hides, the contrast card."""

import streamlit as st

from shadecore.coats.settings import Settings
from shadecore.errors import ShadecoreError
from shadecore.lesson.colours import examples
from shadecore.lesson.contrast_card import ContrastCard
from shadecore.lesson.panels import Lesson
from shadecore.lesson.rules import Ruled, compare_rules
from shadecore.screens import say
from shadecore.screens.chart_style import ink
from shadecore.screens.lesson import charts as lesson_charts
from shadecore.screens.lesson import colour as lesson_colour
from shadecore.screens.lesson import pictures as drawn
from shadecore.screens.lesson import why_chart
from shadecore.screens.lesson.link import LessonState
from shadecore.screens.lesson.metallic import show_metallic
from shadecore.telling import basis
from shadecore.telling import lesson_words as words
from shadecore.telling.photo_words import asked_lab_words
from shadecore.telling.reasons import why

_COATS = lesson_colour.COATS


def page() -> None:
    """Run the page from top to bottom."""
    st.html(drawn.STYLE)
    kept = lesson_colour.restore()
    if kept.large:
        _project(lesson_colour.keep(st.session_state[_COATS]))
        return
    st.title("Why the sealer matters", anchor=False)
    lesson_colour.ask_colour()
    lesson_colour.ask_shelf()
    with st.expander("Film and tolerance"):
        lesson_colour.ask_settings()
    state = lesson_colour.keep(st.session_state[_COATS])
    _say_doubt(state)
    st.button("Full screen", on_click=_turn_large, args=(True,))
    try:
        shown, card = _lesson(state)
    except ShadecoreError as error:
        say.error(error)
        st.markdown("Type another colour, or take one of the examples above.")
        return
    _follow(shown, card)
    show_metallic(shown.settings)
    st.caption(f"{basis.MODELLED} {basis.EYE_NOTE}")


def _lesson(state: LessonState) -> tuple[Lesson, ContrastCard]:
    question = lesson_colour.lesson_question(state)
    return lesson_colour.shown_lesson(question, lesson_colour.lesson_shelf(state))


def _say_doubt(state: LessonState) -> None:
    """Say how sure a colour is that was read off a photo."""
    question = lesson_colour.lesson_question(state)
    if question.photo is not None:
        lab = question.topcoat.lab
        say.words(f"Your colour: {asked_lab_words(lab, question.photo)}.")


def _turn_large(on: bool) -> None:  # noqa: FBT001 - Streamlit hands it over by place
    st.session_state[lesson_colour.LARGE] = on
    lesson_colour.keep(st.session_state[_COATS])


def _project(state: LessonState) -> None:
    """Nothing but the panels, the slider and the legend, large, for a projector."""
    st.html(drawn.LARGE_STYLE)
    try:
        shown, _ = _lesson(state)
    except ShadecoreError as error:
        say.error(error)
    else:
        _say_doubt(state)
        _follow_large(shown)
    st.button(
        "Leave full screen",
        on_click=_turn_large,
        args=(False,),
        help="F11 takes the browser's own bars away, too.",
    )


@st.fragment
def _follow_large(shown: Lesson) -> None:
    coats = _ask_coats(shown.settings.coat_cap)
    lesson_colour.keep(coats)
    st.html(drawn.status_html(words.hides_words(shown, coats)))
    st.html(drawn.panels_html(shown, coats))
    star = f" {basis.OUTSIDE_NOTE}" if shown.any_outside else ""
    key = words.key_words(shown.settings.tolerance)
    st.html(f'<p class="sc-legend">{key}{star}</p>')


@st.fragment
def _follow(shown: Lesson, card: ContrastCard) -> None:
    """Everything that follows the slider, so that no other part is drawn again."""
    coats = _ask_coats(shown.settings.coat_cap)
    lesson_colour.keep(coats)
    st.html(drawn.panels_html(shown, coats))
    st.html(drawn.status_html(words.hides_words(shown, coats)))
    star = f" {basis.OUTSIDE_NOTE}" if shown.any_outside else ""
    legend = words.legend_words(shown.settings.tolerance)
    st.caption(f"{legend} {basis.SCREEN_NOTE}{star}")
    _show_why(shown, coats)
    _show_card(card, coats)


def _ask_coats(cap: int) -> int:
    """Ask for the coats: a slider, and a button each way for a thumb."""
    with st.container(
        key="lesson_coats_bar", horizontal=True, vertical_alignment="bottom"
    ):
        coats = int(st.session_state[_COATS])
        st.button("One coat less", on_click=_step, args=(-1, cap), disabled=coats == 0)
        st.button(
            "One coat more",
            on_click=_step,
            args=(1, cap),
            disabled=coats == cap,
            type="primary",
        )
        return int(st.slider("Coats on the panels", 0, cap, key=_COATS))


def _step(by: int, cap: int) -> None:
    st.session_state[_COATS] = min(max(st.session_state[_COATS] + by, 0), cap)


def _show_why(shown: Lesson, coats: int) -> None:
    left, right = st.columns([3, 2], gap="large")
    with left:
        st.subheader("Why: where the film is still see-through", anchor=False)
        st.vega_lite_chart(
            why_chart.why_spec(shown, coats),
            width="stretch",
            key="lesson_why",
            alt=why_chart.why_in_words(shown, coats),
        )
        say.words(words.film_words(shown, coats), why(shown.answer))
        st.caption(
            "Grey curtain: the film, dense where it lets hardly any light through. "
            "Behind it the sealers, in front the full colour. A sealer counts only "
            "where it can be seen."
        )
    with right:
        st.subheader("Matching by lightness alone", anchor=False)
        rules = _rules(shown.settings)
        st.vega_lite_chart(
            lesson_charts.rules_spec(rules, ink()),
            width="stretch",
            key="lesson_rules",
            alt=words.rules_words(rules),
        )
        say.words(words.rules_words(rules))


@st.cache_data(max_entries=32, show_spinner=False)
def _rules(settings: Settings) -> tuple[Ruled, ...]:
    return compare_rules(examples(), settings)


def _show_card(card: ContrastCard, coats: int) -> None:
    st.subheader("On a black-and-white card", anchor=False)
    left, right = st.columns(2, gap="large")
    with left:
        st.html(drawn.card_html(card, coats))
        say.words(words.card_words(card, coats))
        st.html(drawn.judges_html(card, coats))
        say.words(words.card_moral(card))
    with right:
        st.vega_lite_chart(
            lesson_charts.ratio_spec(card, ink()),
            width="stretch",
            key="lesson_ratio",
            alt=words.card_words(card, len(card.contrast_ratio) - 1),
        )
        st.caption(
            "Line: the film shown. Area: 90 % of the likely paints. Dashed: complete "
            "hiding."
        )
