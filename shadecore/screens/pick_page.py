"""The pick: a colour goes in, the undercoat and its coats come out."""

from dataclasses import fields, replace

import streamlit as st

from shadecore.card.hiding_power import HidingPower, hiding_power
from shadecore.card.reading import Card
from shadecore.coats.answer import Answer
from shadecore.coats.estimate import LikelyPaints
from shadecore.colour.topcoat import parse_topcoat
from shadecore.errors import ShadecoreError
from shadecore.question.from_state import answer_of, condition_of, film_of, paints_of
from shadecore.question.link import PickState, from_query, to_query
from shadecore.screens import ask, ask_card, charts, more, pictures, say
from shadecore.telling.details import hiding_power_words
from shadecore.telling.reasons import coats_in_words, interval_in_words, why
from shadecore.telling.text import BASIS, CAUTION
from shadecore.undercoats.shelf import Shelf
from shadecore.undercoats.shelf_table import demo_shelf, write_shelf
from shadecore.units import UNITS, Units

KEPT = "pick_state"
"""Where the session keeps the last state, for other pages and for coming back."""
OTHERS = "link_of_others"
"""Where the session keeps parameters of the link that are another page's: a reload of
this page, or a way to the next one, would lose them."""
_NOT_WIDGETS = {"shelf", "card", "paint_parts", "reducer_parts"}


def page() -> None:
    """Run the page from top to bottom."""
    st.title("Which undercoat?", anchor=False)
    st.session_state[ask.TROUBLE] = []
    _restore()
    ask.ask_first()
    # The picture stands above the settings but needs them, so it gets its place first.
    picture = st.container()
    state = _state()
    with st.expander("Film and gun"):
        ask.ask_film(state)
    with st.expander("Shelf and blends"):
        shelf = ask.ask_shelf(state)
    with st.expander("Test card"):
        card_text, card = ask_card.ask_card(condition_of(state))
    with st.expander("How the colour was measured"):
        ask.ask_condition()
    with picture:
        for trouble in st.session_state[ask.TROUBLE]:
            say.error(trouble)
        state = replace(_state(), shelf=_shelf_text(shelf), card=card_text)
        # Kept before the answer is shown, so that the link never lags behind it.
        _keep(state)
        try:
            answer, paints, power = _answer(state, shelf, card)
        except ShadecoreError as error:
            say.error(error)
            return
        show_answer(answer, UNITS[state.units], power)
        _show_more(answer, shelf, state, paints)
    _keep(replace(_state(), shelf=state.shelf, card=state.card))
    show_basis(answer)


def _restore() -> None:
    """Fill the widgets that have no value: all at first and after another page.

    A widget that is not drawn in one run loses its value. One that has a value is left
    alone: setting it would write over what is being typed.
    """
    kept = st.session_state.get(KEPT)
    state: PickState = kept or from_query(st.query_params)
    if "colour" not in st.session_state:
        st.session_state["shelf_start"] = state.shelf
        st.session_state["card_start"] = state.card
        st.session_state["photo"] = state.photo
        for edition in ("shelf_edition", "card_edition"):
            st.session_state[edition] = st.session_state.get(edition, 0) + 1
    for field in fields(PickState):
        if field.name not in _NOT_WIDGETS and field.name not in st.session_state:
            st.session_state[field.name] = getattr(state, field.name)
    if "mix" not in st.session_state:
        st.session_state["mix"] = (state.paint_parts, state.reducer_parts)


def _state() -> PickState:
    """Read the state off the widgets."""
    values = {
        field.name: st.session_state[field.name]
        for field in fields(PickState)
        if field.name not in _NOT_WIDGETS
    }
    paint, reducer = st.session_state["mix"]
    return PickState(**values, paint_parts=paint, reducer_parts=reducer)


def _shelf_text(shelf: Shelf) -> str:
    return "" if shelf == demo_shelf() else write_shelf(shelf)


def _keep(state: PickState) -> None:
    """Write the state into the link."""
    st.session_state[KEPT] = state
    own = {field.name for field in fields(PickState)}
    link = st.query_params.to_dict()
    others = {name: value for name, value in link.items() if name not in own}
    st.session_state[OTHERS] = st.session_state.get(OTHERS, {}) | others
    query = {**st.session_state[OTHERS], **to_query(state)}
    if st.query_params.to_dict() != query:
        st.query_params.from_dict(query)


def _answer(
    state: PickState, shelf: Shelf, card: Card | None
) -> tuple[Answer, LikelyPaints, HidingPower | None]:
    """Work the answer out, and the hiding power where there is a card."""
    topcoat = parse_topcoat(state.colour, condition_of(state))
    paints = paints_of(state, topcoat, card)
    power = None
    if card is not None:
        solids = film_of(state).volume_solids
        power = hiding_power(paints, solids)
    return answer_of(state, topcoat, shelf, paints), paints, power


def show_answer(answer: Answer, units: Units, power: HidingPower | None = None) -> None:
    """Show an answer: the picture, then the table, then the curves.

    Parameters
    ----------
    answer : Answer
        The answer.
    units : Units
        What films and amounts are shown in.
    power : HidingPower, optional
        What a test card says of the paint's hiding.
    """
    st.html(pictures.hero_html(answer))
    _show_picks(answer)
    for flag in answer.flags:
        st.warning(f"**{flag.headline}.** {flag.advice}")
    st.html(pictures.strip_html(answer))
    st.html(pictures.table_html(answer, units))
    hiding = answer.hiding
    st.markdown(
        f"Hiding: **{hiding.rating}**. Contrast ratio {hiding.contrast_ratio:.2f} "
        f"(9 times in 10: {hiding.low:.2f} to {hiding.high:.2f}) at "
        f"{units.film(hiding.film_um)} dry film; 0.98 counts as complete hiding "
        "(ISO 6504-3, ASTM D2805). One coat here: "
        f"{units.film(answer.settings.film.dry_film_um)} dry."
    )
    if power is not None:
        st.markdown(f"From the test card: {hiding_power_words(power, units)}")
    left, right = st.columns(2)
    with left:
        st.subheader("Difference left, coat by coat", anchor=False)
        st.altair_chart(charts.difference_chart(answer), width="stretch")
    with right:
        st.subheader("Where the film is still see-through", anchor=False)
        st.altair_chart(charts.spectrum_chart(answer), width="stretch")


def _show_more(
    answer: Answer, shelf: Shelf, state: PickState, paints: LikelyPaints
) -> None:
    units = UNITS[state.units]
    mixes, cost, patches, grounds = st.tabs(
        ["1:1 or 2:1", "Cost", "Patches", "Coloured ground"]
    )
    with mixes:
        more.show_mixes(answer, shelf, state, paints, units)
    with cost:
        more.show_cost(answer)
    with patches:
        more.show_patches(answer, shelf)
    with grounds:
        more.show_grounds(answer, shelf, units)


def _show_picks(answer: Answer) -> None:
    best, closest = answer.recommended, answer.closest
    st.markdown(
        f"**Fewest coats:** {say.plain(best.undercoat.name)}, {coats_in_words(best)} "
        f"({interval_in_words(best)}) · **Closest in lightness:** "
        f"{say.plain(closest.undercoat.name)}, {coats_in_words(closest)} "
        f"({interval_in_words(closest)})  \n{say.plain(why(answer))}"
    )


def show_basis(answer: Answer) -> None:
    """Say what is measured, what is modelled, and what keeps people safe.

    Parameters
    ----------
    answer : Answer
        The answer.
    """
    with st.expander("How far to trust the numbers"):
        st.markdown(
            "Each count is a distribution. On a thousand simulated paints, films that "
            "were given a certain chance of hiding did hide about as often; a perfect "
            "forecast lies on the straight line. Real paints may differ: a test card "
            "of yours counts for more."
        )
        st.altair_chart(charts.reliability_chart(), width="stretch")
    st.info(CAUTION)
    st.caption(BASIS[answer.basis])
