"""A job's times as a table, for the accounts."""

from datetime import datetime
from typing import Final

from shadecore.book.shop_records import BookJob
from shadecore.job.job_file import parse_job

HEADING: Final = ("job", "code", "car", "step", "ended", "minutes")
"""Columns of :func:`job_times`."""
_S_PER_MINUTE: Final = 60.0


def job_times(job: BookJob) -> tuple[tuple[str, ...], ...]:
    """Steps and coats of a job with when they ended.

    Parameters
    ----------
    job : BookJob
        The job.

    Returns
    -------
    tuple of tuple of str
        A row for each step that is done and each coat that the coming step has so
        far, in the order of time, under ``HEADING``: ``ended`` in the shop's own time
        as ISO 8601 writes it, ``minutes`` since the one before or since the start.

    Raises
    ------
    JobError
        If the job file cannot be read.
    """
    request = parse_job(job.text, job.name)
    ended: list[tuple[datetime, str]] = [(at, step) for step, at in request.done]
    ended += [
        (at, f"coat {count}") for count, at in enumerate(request.sprayed, start=1)
    ]
    rows = []
    before = request.start
    for at, step in sorted(ended, key=lambda each: each[0]):
        minutes = (at - before).total_seconds() / _S_PER_MINUTE
        row = (job.name, job.code, job.car, step, at.isoformat(" "), f"{minutes:.1f}")
        rows.append(row)
        before = at
    return tuple(rows)
