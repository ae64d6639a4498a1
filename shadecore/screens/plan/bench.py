"""What stands at the bench: the coming step, its clock, and what is done."""

from datetime import datetime
from functools import partial
from typing import Final

import streamlit as st

from shadecore.job.plan import Plan, timeline_from
from shadecore.job.schedule import Timed
from shadecore.screens import say
from shadecore.screens.plan import job
from shadecore.screens.plan.coats import show_coats
from shadecore.telling.job_words import step_words
from shadecore.units import UNITS

_TIMER_SECONDS: Final = 5


def show_last(plan: Plan) -> None:
    """Say at once what was done too early or too late.

    Parameters
    ----------
    plan : Plan
        The plan.
    """
    done = [each for each in plan.timeline if each.done]
    if done and done[-1].broken:
        say.warning(done[-1].broken)


@st.fragment(run_every=_TIMER_SECONDS)
def show_clock(plan: Plan) -> None:
    """Count down to the next step and to the end of its window.

    Parameters
    ----------
    plan : Plan
        The plan.
    """
    now = datetime.now()  # noqa: DTZ005 - the shop's own clock
    coming = next((each for each in plan.timeline if not each.done), None)
    if coming is None:
        st.success("Every step is done.")
        return
    under_way = bool(plan.request.sprayed)
    st.metric(
        say.plain(coming.step.title),
        "under way" if under_way else _until(coming.start, now),
    )
    say.words(step_words(coming.step, UNITS[plan.request.question.units]))
    before = _before(plan.timeline, coming)
    if before is not None and before.next_until is not None:
        if before.next_until >= now:
            st.caption(f"Window closes {_until(before.next_until, now)}.")
            return
        late = next(each for each in timeline_from(plan, now) if not each.done)
        st.error(
            f"Window closed {_until(before.next_until, now)}. {say.plain(late.broken)}"
        )


def _before(timeline: tuple[Timed, ...], one: Timed) -> Timed | None:
    place = timeline.index(one)
    return timeline[place - 1] if place else None


def _until(moment: datetime, now: datetime) -> str:
    """How far a moment is off, in words that a glance takes in."""
    minutes = round((moment - now).total_seconds() / 60)
    hours, rest = divmod(abs(minutes), 60)
    days, hours = divmod(hours, 24)
    far = f"{days} d {hours} h" if days else f"{hours} h {rest:02d} min"
    return f"in {far}" if minutes >= 0 else f"{far} ago"


def ask_coats(plan: Plan) -> None:
    """Ask for the coats of the coming step, one by one.

    Parameters
    ----------
    plan : Plan
        The plan.
    """
    coming = next((each for each in plan.timeline if not each.done), None)
    if coming is not None:
        show_coats(
            plan,
            coming,
            sprayed=job.coat_sprayed,
            done=partial(job.step_done, coming.step.key),
            back=job.take_coat_back,
        )


def ask_done(plan: Plan) -> None:
    """Let the painter say that a step is done now; the rest is planned again.

    Parameters
    ----------
    plan : Plan
        The plan.
    """
    coming = next((each for each in plan.timeline if not each.done), None)
    if not plan.request.sprayed:
        ask_coats(plan)
    columns = st.columns(2)
    if coming is not None:
        columns[0].button(
            f"Done now: {say.plain(coming.step.title)}",
            on_click=job.step_done,
            args=(coming.step.key,),
        )
    if plan.request.done:
        columns[1].button("Take the last step back", on_click=job.take_step_back)
