"""What a tap at the bench does to the job, whoever else works on it meanwhile."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Final

import streamlit as st

from shadecore.book.bench import Look, with_look, without_look
from shadecore.job.plan import Plan
from shadecore.job.request import JobRequest
from shadecore.job.shop_hours import with_usual_breaks
from shadecore.screens.plan import job
from shadecore.screens.plan.clocks import coming_step
from shadecore.screens.plan.hours import NIGHTS
from shadecore.screens.plan.planning import plan_of

COLOUR: Final = "base_coat"
"""Key of the step whose coats must hide."""
_COATS_OF: Final = "coats_of_steps"
"""When the coats of steps that are done were sprayed, to take a step back whole."""


def step_done(key: str) -> None:
    """Note that a step is done now.

    Parameters
    ----------
    key : str
        The step's; nothing happens where somebody else noted it already.
    """
    _at(key, lambda asked, _: _with_done(asked, key))


def coat_done(key: str, coat: int) -> None:
    """Note that a coat is sprayed now.

    Parameters
    ----------
    key : str
        The step's.
    coat : int
        The coat, from 1. The last one ends its step, but for the colour, of which is
        asked first whether it covers.
    """

    def change(asked: JobRequest, plan: Plan) -> JobRequest:
        coming = coming_step(plan)
        if coming is None or len(asked.sprayed) != coat - 1:
            return asked
        sprayed = (*asked.sprayed, _second())
        now = replace(asked, sprayed=sprayed)
        last = coat >= coming.step.coats
        return _with_done(now, key) if last and key != COLOUR else now

    _at(key, change)


def looked(coat: int, *, covered: bool) -> None:
    """Note whether the colour covers after a coat.

    Parameters
    ----------
    coat : int
        Coats of the colour so far.
    covered : bool
        What was seen. "Not yet" after the last coat plans one more; "yes" ends the
        step.
    """

    def change(asked: JobRequest, plan: Plan) -> JobRequest:
        now = replace(asked, looks=with_look(asked.looks, Look(coat, covered)))
        coming = coming_step(plan)
        if coming is None or coming.step.key != COLOUR or coat < coming.step.coats:
            return now
        return _with_done(now, COLOUR) if covered else replace(now, coats=coat + 1)

    _at(COLOUR, change)


def look_again(coat: int) -> None:
    """Take back what was said of a coat.

    Parameters
    ----------
    coat : int
        The coat.
    """
    job.act(lambda asked: replace(asked, looks=without_look(asked.looks, coat)))


def half_done(key: str, share: float) -> None:
    """Note how much of the coming step is done.

    Parameters
    ----------
    key : str
        The step's.
    share : float
        0..1; 0 takes it back.
    """

    def change(asked: JobRequest, _: Plan) -> JobRequest:
        others = tuple(each for each in asked.details.begun if each[0] != key)
        begun = (*others, (key, share)) if share else others
        return replace(asked, details=replace(asked.details, begun=begun))

    _at(key, change)


def mixed_now(key: str, cup_l: float | None = None) -> None:
    """Note that a pot of a step is mixed now.

    Parameters
    ----------
    key : str
        The step's.
    cup_l : float, optional
        Size of the cup that it is mixed in, which the job goes on with. [L]
    """

    def change(asked: JobRequest) -> JobRequest:
        others = tuple(each for each in asked.mixed if each[0] != key)
        cup = asked.cup_l if cup_l is None else cup_l
        return replace(asked, mixed=(*others, (key, _second())), cup_l=cup)

    job.act(change)


def take_back() -> None:
    """Take the last coat back, or else the last step."""
    coats: dict[str, tuple[datetime, ...]] = st.session_state.get(_COATS_OF, {})

    def change(asked: JobRequest) -> JobRequest:
        if asked.sprayed:
            coat = len(asked.sprayed)
            looks = asked.looks
            if _coming_key(asked) == COLOUR:
                looks = without_look(looks, coat)
            return replace(asked, sprayed=asked.sprayed[:-1], looks=looks)
        if not asked.done:
            return asked
        (key, _) = asked.done[-1]
        sprayed = coats.get(key, ())
        return replace(asked, done=asked.done[:-1], sprayed=sprayed)

    job.act(change)


def _at(key: str, change: Callable[[JobRequest, Plan], JobRequest]) -> None:
    """Change the job where a step is still the coming one."""

    def at(asked: JobRequest) -> JobRequest:
        plan = plan_of(asked, job.products())
        coming = coming_step(plan)
        if coming is None or coming.step.key != key:
            return asked
        return change(asked, plan)

    job.act(at)


def _coming_key(asked: JobRequest) -> str:
    coming = coming_step(plan_of(asked, job.products()))
    return "" if coming is None else coming.step.key


def _with_done(asked: JobRequest, key: str) -> JobRequest:
    now = _second().replace(second=0)
    last = now.date() + timedelta(days=NIGHTS)
    kept: dict[str, tuple[datetime, ...]] = st.session_state.setdefault(_COATS_OF, {})
    kept[key] = asked.sprayed
    begun = tuple(each for each in asked.details.begun if each[0] != key)
    return replace(
        asked,
        done=(*asked.done, (key, now)),
        sprayed=(),
        breaks=with_usual_breaks(asked.breaks, now.date(), last),
        details=replace(asked.details, begun=begun),
    )


def _second() -> datetime:
    return datetime.now().replace(microsecond=0)  # noqa: DTZ005 - the shop's own clock
