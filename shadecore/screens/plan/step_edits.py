"""Changes to the steps of a job: added, moved, dropped, put back, told otherwise."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from shadecore.job.own_steps import StepChange
from shadecore.job.step_places import FIRST
from shadecore.job.steps import USUAL_KEYS

Changes = tuple[StepChange, ...]


def told(changes: Changes, key: str, **values: Any) -> Changes:  # noqa: ANN401 - of any field
    """Changes with something more that is told of one step.

    Parameters
    ----------
    changes : tuple of StepChange
        What is done otherwise so far.
    key : str
        The step's.
    **values
        Fields of StepChange.

    Returns
    -------
    tuple of StepChange
    """
    before, now = _told_of(changes, key), _with_told(changes, key, **values)
    if before is None:
        return (*changes, now)
    return tuple(now if each is before else each for each in changes)


def moved(changes: Changes, order: Sequence[str], key: str, by: int) -> Changes:
    """Changes that move a step.

    Parameters
    ----------
    changes : tuple of StepChange
        What is done otherwise so far.
    order : sequence of str
        Keys of the job's steps as they come now.
    key : str
        The step to move.
    by : int
        Places towards the end; negative towards the beginning.

    Returns
    -------
    tuple of StepChange
    """
    others = [each for each in order if each != key]
    place = max(min(order.index(key) + by, len(others)), 0)
    after = others[place - 1] if place else FIRST
    # Last, so that the step it comes after has its own place already.
    return (*put_back(changes, key), _with_told(changes, key, after=after))


def dropped(changes: Changes, key: str) -> Changes:
    """Changes that leave a step out.

    Parameters
    ----------
    changes : tuple of StepChange
        What is done otherwise so far.
    key : str
        The step's.

    Returns
    -------
    tuple of StepChange
    """
    return (*put_back(changes, key), StepChange(key, drop=True))


def put_back(changes: Changes, key: str) -> Changes:
    """Changes without what was told of a step.

    Parameters
    ----------
    changes : tuple of StepChange
        What is done otherwise so far.
    key : str
        The step's.

    Returns
    -------
    tuple of StepChange
    """
    return tuple(each for each in changes if each.key != key)


def added(
    changes: Changes, order: Sequence[str], key: str, after: str, title: str = ""
) -> Changes:
    """Changes that add a step.

    Parameters
    ----------
    changes : tuple of StepChange
        What is done otherwise so far.
    order : sequence of str
        Keys of the job's steps as they come now.
    key : str
        Of a step of the trade, of a usual one to do once more, or a new one.
    after : str
        Key of the step it comes after.
    title : str
        Of a new step.

    Returns
    -------
    tuple of StepChange
    """
    taken = {*order, *USUAL_KEYS, *(each.key for each in changes)}
    if key in USUAL_KEYS and key not in order:
        taken.discard(key)
    free = key
    count = 2
    while free in taken:
        free = f"{key}_{count}"
        count += 1
    return (*changes, StepChange(free, after=after, title=title or None))


def _with_told(changes: Changes, key: str, **values: Any) -> StepChange:  # noqa: ANN401 - of any field
    """What is told of one step, with something more."""
    before = _told_of(changes, key) or StepChange(key)
    return replace(before, drop=False, **values)


def _told_of(changes: Changes, key: str) -> StepChange | None:
    return next((each for each in changes if each.key == key), None)
