"""The times of one job, with its nights and its weather by day."""

import math
from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import Final

from shadecore.errors import JobError
from shadecore.job.climate import Spell
from shadecore.job.days import spells_of
from shadecore.job.ladders import SANDED
from shadecore.job.request import JobRequest
from shadecore.job.schedule import Timed, schedule
from shadecore.job.shop_hours import hours_of, with_usual_breaks
from shadecore.job.steps import Step
from shadecore.products.product import ProductSheet

_FIRST_LOOK: Final = timedelta(days=14)
"""For so long the shop's nights are laid out first."""
_MOST_FIRST: Final = timedelta(days=400)
"""No more is laid out at first, however late a break may be."""
_LONGEST_LOOK: Final = timedelta(days=2000)
"""Longer than any job, so that planning one ends."""


def timeline_of(
    steps: Sequence[Step],
    sheet: ProductSheet,
    request: JobRequest,
    start: datetime,
) -> tuple[Timed, ...]:
    """Times of a job's steps; the shop's nights go on for as long as the job does.

    Parameters
    ----------
    steps : sequence of Step
        Of the job.
    sheet : ProductSheet
        The products.
    request : JobRequest
        The job.
    start : datetime
        Before which nothing starts that is not done.

    Returns
    -------
    tuple of Timed

    Raises
    ------
    JobError
        If the job would run beyond the calendar, or what is done cannot be.
    """
    keys = {step.key for step in steps}
    # How many ladders of grits a job has depends on what is known of its panels.
    done = {
        key: end
        for key, end in request.done
        if key in keys or not key.startswith(f"{SANDED}_")
    }
    spells = spells_for(request, sheet)
    # What is dropped or done meanwhile is half done no more.
    begun = {
        key: share
        for key, share in request.details.begun
        if key in keys and key not in done
    }
    hours = hours_of(request.breaks)
    longest_min = math.inf if hours is None else hours.longest_min
    first = min((start, request.start, *done.values())).date()
    told = max((each.end.date() for each in request.breaks), default=first)
    length = min(max(_FIRST_LOOK, told - first), _MOST_FIRST)
    while True:
        try:
            last = max(start.date(), first) + length
        except OverflowError as error:
            message = "The job would run beyond the calendar; check its times."
            raise JobError(message) from error
        timed = schedule(
            steps,
            sheet,
            start,
            request.panel_c,
            with_usual_breaks(request.breaks, first, last),
            done,
            request.cure,
            spells=spells,
            begun=begun,
            longest_min=longest_min,
            # A coat that is under way is not put off any more.
            hold=not request.sprayed,
        )
        ends = timed[-1].end.date() if timed else first
        if ends <= last or length > _LONGEST_LOOK:
            return timed
        length *= 2


def spells_for(request: JobRequest, sheet: ProductSheet) -> tuple[Spell, ...]:
    """Weather of a job in which films dry otherwise than by its panel's temperature.

    Parameters
    ----------
    request : JobRequest
        The job.
    sheet : ProductSheet
        The products.

    Returns
    -------
    tuple of Spell
    """
    return spells_of(request.details.days, sheet, hours_of(request.breaks))
