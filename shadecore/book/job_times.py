"""A job's times as a table, for the accounts."""

from datetime import datetime
from typing import Final

from shadecore.formats.table_writer import write_table
from shadecore.job.request import JobRequest

_HEADING: Final = ("job", "code", "car", "step", "ended", "minutes")
_S_PER_MINUTE: Final = 60.0


def write_job_times(
    request: JobRequest, name: str, code: str = "", car: str = ""
) -> str:
    """Steps and coats of a job with when they ended, as CSV text.

    Parameters
    ----------
    request : JobRequest
        The job.
    name, code, car : str
        What the first columns say of it.

    Returns
    -------
    str
        A row for each step that is done and each coat that the coming step has so
        far, in the order of time: ``ended`` in the shop's own time as ISO 8601 writes
        it, ``minutes`` since the one before or since the start.
    """
    ended: list[tuple[datetime, str]] = [(at, step) for step, at in request.done]
    ended += [
        (at, f"coat {count}") for count, at in enumerate(request.sprayed, start=1)
    ]
    rows = []
    before = request.start
    for at, step in sorted(ended, key=lambda each: each[0]):
        minutes = (at - before).total_seconds() / _S_PER_MINUTE
        rows.append((name, code, car, step, at.isoformat(" "), f"{minutes:.1f}"))
        before = at
    return write_table(_HEADING, rows)
