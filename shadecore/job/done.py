"""What is said to be done of a job, and whether it can be."""

from collections.abc import Mapping, Sequence
from datetime import datetime

from shadecore.errors import JobError
from shadecore.job.hours import to_minute
from shadecore.job.steps import Step
from shadecore.units import percent


def check_begun(steps: Sequence[Step], begun: Mapping[str, float]) -> None:
    """Make sure that what is said to be half done can be.

    Parameters
    ----------
    steps : sequence of Step
        Of the job.
    begun : mapping of str to float
        Share that is done, 0..1, by the step's key.

    Raises
    ------
    JobError
        If a step is not part of the job or its share is out of range.
    """
    keys = {step.key for step in steps}
    for key, share in begun.items():
        if key not in keys:
            message = f"Step {key!r} is said to be begun but is not part of this job."
            raise JobError(message)
        if not 0.0 <= share <= 1.0:
            message = (
                f"Of the step {key!r} from 0 to 100 percent are done, not "
                f"{percent(share)}."
            )
            raise JobError(message)


def check_done(steps: Sequence[Step], done: Mapping[str, datetime]) -> None:
    """Make sure that what is said to be done can be.

    Parameters
    ----------
    steps : sequence of Step
        Of the job, in their order.
    done : mapping of str to datetime
        When steps were finished, by their key.

    Raises
    ------
    JobError
        If a step is not part of the job, or one before it is not done or ended later.
    """
    keys = [step.key for step in steps]
    unknown = next((key for key in done if key not in keys), None)
    if unknown is not None:
        message = (
            f"Step {unknown!r} is said to be done but is not part of this job; take "
            f"one of {', '.join(keys)}."
        )
        raise JobError(message)
    count = sum(key in done for key in keys)
    for index, key in enumerate(keys[:count]):
        if key not in done:
            later = next(each for each in keys[index:] if each in done)
            message = (
                f"Step {later!r} is said to be done but {key!r} before it is not; say "
                "when that was done, too."
            )
            raise JobError(message)
    _check_done_order([(key, done[key]) for key in keys[:count]])


def _check_done_order(finished: list[tuple[str, datetime]]) -> None:
    last: tuple[str, datetime] | None = None
    for key, end in finished:
        to_minute(end)
        if last is not None and end < last[1]:
            message = (
                f"Step {key!r} is said to be done at {end.isoformat(' ', 'minutes')}, "
                f"before {last[0]!r}, which comes first; correct one of the times."
            )
            raise JobError(message)
        last = key, end
