"""At the bench: the coming step, its clock, and one big Done."""

from datetime import datetime
from typing import Final

import streamlit as st

from shadecore.job.coat_timer import CoatTimer
from shadecore.job.plan import Plan
from shadecore.job.schedule import Timed
from shadecore.job.usual_steps import is_cure
from shadecore.pages.html_layout import block_html
from shadecore.pages.sheet_safety import step_section
from shadecore.screens import say
from shadecore.screens.plan import bench_actions as act
from shadecore.screens.plan.clocks import (
    clocks_of,
    coming_step,
    timer_of,
)
from shadecore.screens.plan.finished import show_finished
from shadecore.screens.plan.mixing import show_mixing
from shadecore.screens.plan.stops import show_coming
from shadecore.screens.plan.timer import show_clocks
from shadecore.telling.at_bench_words import (
    TIMER_TEXTS,
    coming_words,
    done_words,
    early_words,
    head_words,
    look_words,
    share_words,
    where_words,
)
from shadecore.telling.job_words import cure_words, step_words
from shadecore.telling.window_words import broken_words
from shadecore.units import UNITS, percent

STYLE: Final = """
<style>
[data-testid="stMainBlockContainer"] {padding-bottom: 9rem;}
/* Done keeps its place whatever stands above it: at the lower edge, above the bar. */
.st-key-bench_done {position: fixed; left: 0; right: 0; bottom: 0; z-index: 998;
  width: 100% !important; background: var(--sc-page); padding: .5rem 1rem;
  border-top: 2px solid var(--sc-ink);}
.st-key-bench_done > div {width: 100%; max-width: 70rem; margin: 0 auto;}
[data-testid="stMain"] .st-key-bench_done button {min-height: 80px;
  background: var(--sc-ink); border: 3px solid var(--sc-ink);}
[data-testid="stMain"] .st-key-bench_done button p {color: var(--sc-page);}
[data-testid="stMain"] .st-key-bench_done button:focus-visible {
  outline: 3px solid var(--sc-ink); outline-offset: 2px;}
.st-key-bench_done button p {font-size: 1.4rem; font-weight: 700; line-height: 1.15;
  white-space: normal; overflow-wrap: anywhere;}
[data-testid="stMain"] :is(.st-key-bench_look, .st-key-bench_small,
.st-key-bench_mixing, .st-key-bench_finished) button:not(
[data-testid^="stNumberInputStep"]), [class*="st-key-bench_share"] button {
  min-height: 72px;}
.st-key-bench_look button {min-width: 7rem;}
.st-key-bench_look button p {font-size: 1.2rem; font-weight: 700;}
@media (max-width: 640px) {
  .st-key-bench_done {bottom: var(--sc-bar-height);}
  [data-testid="stMainBlockContainer"] {padding-bottom: 12rem;}
  .st-key-bench_look {flex-wrap: wrap;}
  .st-key-bench_look > :first-child {flex: 1 1 100%;}
  .st-key-bench_look > :not(:first-child), .st-key-bench_small > * {flex: 1 1 8rem;}
  .st-key-bench_small button, .st-key-bench_look button {width: 100%;}
}
</style>
"""
_TO_THE_TOP: Final = """<script>
/* {} */
document.querySelector('[data-testid="stMain"]').scrollTo(0, 0);
</script>"""
"""Done is in reach wherever the page stands; what comes next is read at its top."""
_SHARES: Final = (0.25, 0.5, 0.75)
_NEXT: Final = 5


def show_bench(plan: Plan) -> None:
    """Show the view.

    Parameters
    ----------
    plan : Plan
        The plan.
    """
    st.html(STYLE)
    coming = coming_step(plan)
    if coming is None:
        with st.container(key="bench_finished"):
            show_finished(plan)
            _ask_back(plan)
        return
    timer = timer_of(plan, coming)
    done = len(plan.request.done), timer.sprayed
    st.html(_TO_THE_TOP.format(done), unsafe_allow_javascript=True)
    left, right = st.columns([3, 2], gap="medium")
    with left:
        _show_head(plan, coming)
        now = datetime.now()  # noqa: DTZ005 - the shop's own clock
        show_clocks(clocks_of(plan, now), now, TIMER_TEXTS, "bench_clock")
        _ask_done(coming, timer)
        _ask_look(plan, coming)
        show_coming(plan, _show_last(plan, coming, timer))
        with st.container(key="bench_small", horizontal=True, gap="small"):
            _ask_back(plan)
            _ask_half(plan, coming)
    with right:
        _show_how(plan, coming)
        _show_next(plan)


def _show_head(plan: Plan, coming: Timed) -> None:
    place = plan.timeline.index(coming) + 1
    with st.container(gap=None):
        name = say.plain(plan.request.name)
        st.markdown(f"**{name}** · {where_words(place, len(plan.timeline))}")
        what, where = head_words(coming.step.title)
        st.subheader(say.plain(what), anchor=False)
        if where:
            st.markdown(say.plain(where))


def _show_last(plan: Plan, coming: Timed, timer: CoatTimer) -> list[str]:
    """Say at once what was done too early or too late, or will be.

    Returned is what need not be said again of the coming step. Once a coat of it is
    on, when it should have been begun helps nobody.
    """
    done = [each for each in plan.timeline if each.done]
    told = [broken_words(coming)] if coming.broken else []
    before = [broken_words(each) for each in done[-1:] if each.broken]
    for words in (*before, *([] if timer.sprayed else told)):
        say.warning(words)
    if timer.early:
        say.warning(early_words(timer.sprayed, timer.early))
    return told


def _ask_look(plan: Plan, coming: Timed) -> None:
    """Ask in one tap whether the colour covers; it may be left out."""
    coat = len(plan.request.sprayed)
    if coming.step.key != act.COLOUR or not coat:
        return
    covered = dict(plan.request.looks).get(coat)
    with st.container(
        key="bench_look", horizontal=True, vertical_alignment="center", gap="small"
    ):
        st.markdown(look_words(coat, covered=covered), width="content")
        if covered is not None:
            st.button("Change", on_click=act.look_again, args=(coat,))
            if covered and coat < coming.step.coats:
                st.button("End this step", on_click=act.step_done, args=(act.COLOUR,))
            return
        for label, said in (("Yes", True), ("Not yet", False)):
            st.button(
                label, on_click=act.looked, args=(coat,), kwargs={"covered": said}
            )


def _ask_done(coming: Timed, timer: CoatTimer) -> None:
    step = coming.step
    coat = timer.sprayed + 1
    by_coats = step.coats > 1 or (step.coats and step.key == act.COLOUR)
    coats = step.coats if by_coats else 0
    one = by_coats and coat <= step.coats
    st.button(
        done_words(step.title, coat, coats),
        key="bench_done",
        type="primary",
        width="stretch",
        on_click=act.coat_done if one else act.step_done,
        args=(step.key, coat) if one else (step.key,),
    )


def _ask_back(plan: Plan) -> None:
    request = plan.request
    if not request.sprayed and not request.done:
        return
    what = "coat" if request.sprayed else "step"
    st.button(f"Take the last {what} back", on_click=act.take_back)


def _ask_half(plan: Plan, coming: Timed) -> None:
    """Let a step that does not come in coats be half done."""
    key = coming.step.key
    if plan.request.sprayed:
        return
    share = dict(plan.request.details.begun).get(key, 0.0)
    label = share_words(share) if share else "Half done"
    with st.popover(label, key=f"bench_half_{key}", on_change="rerun") as half:
        if not half.open:
            return
        st.markdown("How much of this step is done?")
        for each in _SHARES:
            st.button(
                percent(each),
                key=f"bench_share_{each}",
                on_click=act.half_done,
                args=(key, each),
            )
        st.button(
            "Nothing yet",
            key="bench_share_0",
            on_click=act.half_done,
            args=(key, 0.0),
        )


def _show_how(plan: Plan, coming: Timed) -> None:
    """What the step is for and how it is sprayed; what is breathed through; its mix.

    The rest of its cautions stands under the mix: it is long, and a cup is in hand.
    """
    units = UNITS[plan.request.question.units]
    say.words(step_words(coming.step, units))
    if is_cure(coming.step.key):
        say.words(cure_words(plan, units))
    first, *rest = step_section(plan, coming).blocks or (None,)
    if first is not None:
        with st.container(border=True, gap="xsmall", key="bench_caution"):
            st.html(block_html(first))
    with st.container(key="bench_mixing"):
        show_mixing(plan, coming)
    if rest:
        st.markdown("**Cautions of this step**")
        st.html("".join(block_html(each) for each in rest))


def _show_next(plan: Plan) -> None:
    lines = coming_words(plan, _NEXT)
    if lines:
        st.markdown("**Then**")
        st.markdown("\n".join(f"- {say.plain(each)}" for each in lines))
