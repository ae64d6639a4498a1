"""The timer between the coats of a step."""

from collections.abc import Callable
from datetime import datetime
from functools import partial

import streamlit as st

from shadecore.job.climate import climate_of
from shadecore.job.coat_timer import CoatTimer, coat_timer
from shadecore.job.plan import Plan
from shadecore.job.schedule import Timed
from shadecore.screens.plan import pictures as plan_pictures
from shadecore.telling.counts import place_words

_TICK_SECONDS = 1
_SEVERAL = 2


def show_coats(
    plan: Plan,
    coming: Timed,
    sprayed: Callable[[], None],
    done: Callable[[], None],
    back: Callable[[], None],
) -> None:
    """Count down the flash between the coats of the coming step.

    Parameters
    ----------
    plan : Plan
        The plan.
    coming : Timed
        Its first step that is not done; nothing is shown where it has one coat.
    sprayed, done, back : callable
        What a coat, the last coat, and a coat taken back do.
    """
    request, step = plan.request, coming.step
    if step.coats < _SEVERAL or (step.key in plan.barred and not request.sprayed):
        return
    climate = climate_of(plan.sheet, request.panel_c, request.cure)
    timer = coat_timer(step, climate, request.sprayed)
    if timer.early:
        st.warning(
            f"Coat {timer.sprayed} came {plan_pictures.clock(timer.early)} before its "
            "flash was over: solvent may be trapped; let it flash longer."
        )
    if timer.next_at is not None:
        # Only the figures run each second; a button in them would not plan anew.
        st.fragment(partial(_show_figures, timer), run_every=_TICK_SECONDS)()
    left, right = st.columns(2)
    coat = min(timer.sprayed + 1, timer.coats)
    last = coat == timer.coats
    left.button(
        f"Coat sprayed: {place_words(coat, timer.coats)}"
        + (", step done" if last else ""),
        type="primary",
        width="stretch",
        on_click=done if last else sprayed,
    )
    if request.sprayed:
        right.button("Take the last coat back", width="stretch", on_click=back)


def _show_figures(timer: CoatTimer) -> None:
    now = datetime.now()  # noqa: DTZ005 - the shop's own clock
    st.html(plan_pictures.timer_html(timer, now))
