"""What is broken stands first, on every view of the plan."""

from collections.abc import Sequence
from datetime import datetime

import streamlit as st

from shadecore.job.plan import Plan
from shadecore.screens import say
from shadecore.telling.eve_words import TOMORROW, eve_words
from shadecore.telling.limit_words import INVENTED_OVER, broken_limits, voc_over
from shadecore.telling.under_words import under_trouble
from shadecore.telling.weather_words import NOT_TO_BE_SPRAYED, plan_stops


def show_stops(plan: Plan, *, whole: bool) -> None:
    """Say what the weather bars, which windows are broken, and what is over a limit.

    Parameters
    ----------
    plan : Plan
        The plan.
    whole : bool
        Whether limits that do not stop the next step are said too.
    """
    if plan.barred:
        reasons = "\n".join(f"- {say.plain(stop)}" for stop in plan_stops(plan))
        st.error(f"## {NOT_TO_BE_SPRAYED}\n{reasons}")
    if whole:
        _show_all(plan)


def show_coming(plan: Plan, said: Sequence[str]) -> None:
    """Say what is to be settled today, and what is not known of what lies below.

    Parameters
    ----------
    plan : Plan
        The plan.
    said : sequence of str
        What of the coming step stands on the page already.
    """
    today = datetime.now().date()  # noqa: DTZ005 - the shop's own clock
    tomorrow = [
        each for each in eve_words(plan, today) if not each.endswith(tuple(said))
    ]
    if tomorrow:
        lines = "\n".join(f"- {say.plain(each)}" for each in tomorrow)
        st.warning(f"**{TOMORROW}**\n{lines}")
    for each in under_trouble(plan.picked.choice):
        say.warning(each)


def _show_all(plan: Plan) -> None:
    invented = plan.sheet.invented
    broken = broken_limits(plan, voc=not invented)
    if broken:
        st.warning("\n".join(f"- {say.plain(each)}" for each in broken))
    over = voc_over(plan) if invented else ()
    if over:
        # Of paints that nobody sprays it is an example, and need not stand in the way.
        with st.expander(INVENTED_OVER):
            say.words(*over)
    if any(each.step.grits and not each.done for each in plan.timeline):
        for scratch in plan.scratches:
            say.warning(scratch)
