"""The part of the form that shows the steps and lets a shop do them its own way."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any, Final

import streamlit as st

from shadecore.errors import ShadecoreError
from shadecore.job.own_steps import StepChange
from shadecore.job.plan import Plan
from shadecore.job.request import JobRequest
from shadecore.job.schedule import Timed
from shadecore.job.trade_steps import trade_steps
from shadecore.screens import say
from shadecore.screens.plan import step_edits
from shadecore.screens.plan.ask_step_sets import ask_step_sets
from shadecore.screens.plan.fields import Key
from shadecore.screens.plan.job import act
from shadecore.telling.set_up_words import changes_words, step_line, usual_place_words

_OWN: Final = "own"
_CHOSEN: Final = "plan_step_chosen"
_SPLIT: Final = ","


def ask_steps(job: JobRequest, plan: Plan | None, key: Key) -> JobRequest:
    """Show the steps and ask for changes.

    Parameters
    ----------
    job : JobRequest
        As it stands.
    plan : Plan or None
        Its plan; None where it cannot be planned, and then changes are only taken back.
    key : callable
        Key of a widget by its name.

    Returns
    -------
    JobRequest
    """
    if plan is not None:
        _ask_one(plan, key)
        _ask_more(plan, key)
    _ask_back(job, key)
    return ask_step_sets(job, key)


def _ask_one(plan: Plan, key: Key) -> None:
    order = [each.step.key for each in plan.timeline]
    by_key = {each.step.key: each for each in plan.timeline}
    coming = next((each.step.key for each in plan.timeline if not each.done), order[0])
    # Other steps or another order make a new widget of it: the choice stays.
    last = st.session_state.get(_CHOSEN)
    chosen = st.selectbox(
        "Step",
        order,
        order.index(last if last in order else coming),
        format_func=lambda each: f"{order.index(each) + 1}. {step_line(by_key[each])}",
        key=key("step"),
    )
    st.session_state[_CHOSEN] = chosen
    with st.container(horizontal=True, gap="small"):
        for label, by in (("Earlier", -1), ("Later", 1)):
            st.button(
                label,
                key=key(f"step_{label}"),
                on_click=_change,
                args=(lambda c, by=by: step_edits.moved(c, order, chosen, by),),
            )
        st.button(
            "Drop",
            key=key("step_drop"),
            on_click=_change,
            args=(lambda c: step_edits.dropped(c, chosen),),
        )
        with st.popover("Change it", key=key("step_change"), on_change="rerun") as ask:
            if ask.open:
                _ask_fields(plan, by_key[chosen], key)


def _ask_fields(plan: Plan, timed: Timed, key: Key) -> None:
    """Title, time, grit, product, window and check of one step."""
    step = timed.step
    with st.form(key(f"step_form_{step.key}")):
        title = st.text_input("What is done", step.title)
        work = st.number_input("Hands-on time (min)", 0.0, None, step.work_min, 5.0)
        wait = st.number_input("Wait after it (min)", 0.0, None, step.wait_min, 5.0)
        within = st.number_input(
            "Next step within (h); empty for no limit", 0.0, None, step.within_h, 1.0
        )
        grits = st.text_input("Grits, coarse first", ", ".join(map(str, step.grits)))
        keys = ["", *(each.key for each in plan.sheet.products)]
        names = {each.key: each.name for each in plan.sheet.products}
        product = st.selectbox(
            "Product",
            keys,
            keys.index(step.product or ""),
            format_func=lambda each: names.get(each, "none"),
        )
        check = st.text_area("Check before going on", step.check)
        if not st.form_submit_button("Take it", type="primary"):
            return
    try:
        values = {
            "title": _unless(title.strip(), step.title),
            "work_min": _unless(work, step.work_min),
            "wait_min": _unless(wait, step.wait_min),
            "within_h": _unless(within, step.within_h),
            "grits": _unless(_grits(grits), step.grits),
            "product": _unless(product, step.product or ""),
            "check": _unless(" ".join(check.split()), step.check),
        }
        new = {name: value for name, value in values.items() if value is not None}
        step_edits.told((), step.key, **new)
    except (ShadecoreError, ValueError) as error:
        text = "Write grits as numbers, like 80, 180."
        say.error(error if isinstance(error, ShadecoreError) else text)
        return
    _change(lambda changes: step_edits.told(changes, step.key, **new))
    st.rerun()


def _unless(value: Any, same: Any) -> Any:  # noqa: ANN401 - of any field
    return None if value == same else value


def _grits(text: str) -> tuple[int, ...]:
    parts = text.replace("P", " ").replace(_SPLIT, " ").split()
    return tuple(int(each) for each in parts)


def _ask_more(plan: Plan, key: Key) -> None:
    """Add a step of the trade, or one of the shop's own."""
    order = [each.step.key for each in plan.timeline]
    names = {name: each.title for name, each in trade_steps().items()}
    names[_OWN] = "A step of your own"
    left, right = st.columns(2)
    with left:
        new = st.selectbox(
            "Add",
            list(names),
            format_func=names.__getitem__,
            key=key("step_new"),
        )
    with right:
        if new == _OWN:
            title = st.text_input("What is done", "Own step", key=key("step_title"))
        else:
            title = ""
            trade = trade_steps()[new]
            st.caption(say.plain(usual_place_words(trade)))
    with st.container(horizontal=True, gap="small"):
        after = st.session_state[_CHOSEN]
        st.button(
            "Add after the step above",
            key=key("step_add"),
            on_click=_change,
            args=(lambda c: step_edits.added(c, order, new, after, title.strip()),),
        )
        if new != _OWN:
            st.button(
                "Add where it usually comes",
                key=key("step_add_usual"),
                on_click=_change,
                args=(lambda c: (*c, StepChange(new)),),
            )


def _ask_back(job: JobRequest, key: Key) -> None:
    """What is done otherwise, each to be taken back."""
    if not job.details.changes:
        return
    st.markdown("**Done otherwise in this job**")
    for place, each in enumerate(job.details.changes):
        with st.container(horizontal=True, vertical_alignment="center", gap="small"):
            st.markdown(say.plain(changes_words((each,))), width="content")
            st.button(
                "As usual",
                key=key(f"step_back_{place}_{each.key}"),
                on_click=_change,
                args=(lambda c, name=each.key: step_edits.put_back(c, name),),
            )


def _change(
    change: Callable[[step_edits.Changes], step_edits.Changes],
) -> None:
    def at(job: JobRequest) -> JobRequest:
        changes = change(job.details.changes)
        return replace(job, details=replace(job.details, changes=changes))

    act(at)
