"""The part of the plan's form that asks when the shop works and what its cups keep."""

from collections.abc import Callable
from datetime import date, time, timedelta
from typing import Final

import streamlit as st

from shadecore.errors import JobError
from shadecore.job.breaks import Break
from shadecore.job.request import JobRequest
from shadecore.job.shop_hours import ShopHours, breaks_of, follow, hours_of
from shadecore.screens import say

NIGHTS: Final = 14
"""Nights ahead that the shop's hours are laid out for."""
USUAL_HOURS: Final = ShopHours(time(8), time(18))
_USUAL_PAUSE: Final = (time(12), time(12, 30))
_WEEKEND: Final = {5: "Saturday", 6: "Sunday"}
"""By the day's number, Monday counted as 0."""


def ask_hours(job: JobRequest, key: Callable[[str], str]) -> tuple[Break, ...]:
    """Ask for the shop's hours and a daily break.

    Parameters
    ----------
    job : JobRequest
        The job as it is.
    key : callable
        Key of a widget by its name.

    Returns
    -------
    tuple of Break
        The job's own, untouched until other hours are asked for.
    """
    shown = hours_of(job.breaks)
    usual = shown or USUAL_HOURS
    # The fields have no seconds; a file may.
    usual_opens, usual_closes = _minute(usual.opens), _minute(usual.closes)
    start, end = map(_minute, usual.pause or _USUAL_PAUSE)
    left, right = st.columns(2)
    asked_shop = (
        left.time_input("Opens", usual_opens, key=key("opens")),
        right.time_input("Closes", usual_closes, key=key("closes")),
    )
    with_pause = st.toggle(
        "A break every day, such as lunch", usual.pause is not None, key=key("pause")
    )
    asked_pause = (start, end)
    if with_pause:
        left, right = st.columns(2)
        asked_pause = (
            left.time_input("Break from", start, key=key("from")),
            right.time_input("Break to", end, key=key("to")),
        )
    same_pause = with_pause == (usual.pause is not None) and (
        not with_pause or asked_pause == (start, end)
    )
    try:
        closed, holidays = _ask_closed(usual, key)
        same_days = (closed, holidays) == (usual.closed, usual.holidays)
        if asked_shop == (usual_opens, usual_closes) and same_pause and same_days:
            _say_own(job.breaks, shown)
            return job.breaks
        pause = asked_pause if with_pause else None
        hours = ShopHours(*asked_shop, pause, closed, holidays)
    except JobError as error:
        say.error(error)
        return job.breaks
    moments = [job.start, *(moment for _, moment in job.done)]
    last = max(moments).date() + timedelta(days=NIGHTS)
    return breaks_of(hours, min(moments).date(), last)


def _ask_closed(
    usual: ShopHours, key: Callable[[str], str]
) -> tuple[frozenset[int], frozenset[date]]:
    """Ask on which days nobody works.

    Raises
    ------
    JobError
        If a holiday is no date.
    """
    left, right = st.columns(2)
    with left:
        closed = st.pills(
            "Closed on",
            list(_WEEKEND),
            selection_mode="multi",
            default=sorted(usual.closed & _WEEKEND.keys()),
            format_func=_WEEKEND.__getitem__,
            key=key("closed"),
        )
    before = ", ".join(each.isoformat() for each in sorted(usual.holidays))
    with right:
        text = st.text_input(
            "Holidays",
            before,
            key=key("holidays"),
            placeholder="2026-12-25, 2027-01-01",
        )
    try:
        days = [date.fromisoformat(each) for each in text.replace(",", " ").split()]
    except ValueError as error:
        message = "A holiday is no date; write them like 2026-12-25, 2027-01-01."
        raise JobError(message) from error
    return frozenset(closed), frozenset(days)


def _say_own(breaks: tuple[Break, ...], shown: ShopHours | None) -> None:
    """Say where a job's breaks are others than the fields can show."""
    if shown is None and not breaks:
        st.caption(
            "This job is planned day and night; change the shop's hours to keep work "
            "within them."
        )
    elif shown is None or not follow(breaks, shown):
        st.caption(
            f"This job brings {len(breaks)} breaks of its own, and they are kept; "
            "other hours take their place."
        )


def _minute(clock: time) -> time:
    return clock.replace(second=0, microsecond=0)
