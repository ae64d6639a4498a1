"""What a job's events in a calendar are told from those of another job by."""

import math
from datetime import datetime, timedelta
from typing import Final
from uuid import UUID, uuid5

from shadecore.job.request import JobRequest

_JOBS: Final = UUID("9377521a-563b-4713-ad31-9bfd5ec28a93")
"""Namespace of jobs that bring no UUID of their own; drawn once."""
_DAY: Final = timedelta(days=1)


def calendar_uid(job: JobRequest) -> str:
    """What a job's events are told from those of any other job by.

    Parameters
    ----------
    job : JobRequest
        The job.

    Returns
    -------
    str
        A UUID, as RFC 7986 (5.3) wants it: the job's own, or one made of what the job
        is. It stays when steps are done or the weather changes.
    """
    if job.uid:
        return job.uid
    what = (
        job.name,
        job.start.isoformat(),
        job.question.colour,
        job.panels,
        job.area_m2,
    )
    return str(uuid5(_JOBS, repr(what)))


def uid_after(
    job: JobRequest, name: str, start: datetime, length: timedelta, fresh: str
) -> str:
    """The job's UUID after a change of its name or start.

    Whoever opens an old job as the template of a new one renames it or plans it for
    another time; were the UUID kept, the calendar would move the old job's events.

    Parameters
    ----------
    job : JobRequest
        Before the change.
    name : str
        Its name now.
    start : datetime
        Its start now.
    length : timedelta
        From its first step to its last; a start moved by no more, give or take the
        rest of a day, is the same job put off.
    fresh : str
        A UUID that no job has yet.

    Returns
    -------
    str
        Its own one, or the fresh one; empty where it had none.
    """
    days = timedelta(days=math.ceil(length / _DAY))
    same = name == job.name and abs(start - job.start) <= days
    return job.uid if same or not job.uid else fresh
