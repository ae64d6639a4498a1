"""Two people's changes of one job put together, field by field."""

from dataclasses import fields, replace
from typing import Any, NamedTuple

from shadecore.job.details import Details
from shadecore.job.request import JobRequest

_DETAILS = "details"


class Clash(NamedTuple):
    """A field that both changed, each to something else.

    Attributes
    ----------
    name : str
        The field of :class:`shadecore.job.request.JobRequest`, or of its details.
    mine, theirs : object
        What each made of it.
    """

    name: str
    mine: Any
    theirs: Any


class Merged(NamedTuple):
    """A job with what both changed.

    Attributes
    ----------
    job : JobRequest
        Theirs where both changed the same field.
    clashes : tuple of Clash
        Those fields.
    """

    job: JobRequest
    clashes: tuple[Clash, ...]


def merged(base: JobRequest, mine: JobRequest, theirs: JobRequest) -> Merged:
    """Put two changes of one job together.

    Parameters
    ----------
    base : JobRequest
        What both began with.
    mine, theirs : JobRequest
        What each made of it.

    Returns
    -------
    Merged
        Nothing of either is lost: what both changed differently is among the clashes.
    """
    details, clashed = _fields(base.details, mine.details, theirs.details)
    rest, others = _fields(base, mine, theirs, without=_DETAILS)
    job = replace(theirs, **rest, details=replace(theirs.details, **details))
    return Merged(job, (*others, *clashed))


def mine_after_all(job: JobRequest, clashes: tuple[Clash, ...]) -> JobRequest:
    """The job with one's own side of each clash.

    Parameters
    ----------
    job : JobRequest
        From :func:`merged`.
    clashes : tuple of Clash
        Its clashes.

    Returns
    -------
    JobRequest
    """
    own = {each.name: each.mine for each in clashes}
    names = [each.name for each in fields(Details) if each.name in own]
    inner = {name: own.pop(name) for name in names}
    return replace(job, **own, details=replace(job.details, **inner))


def _fields(
    base: Any,  # noqa: ANN401 - a job or its details
    mine: Any,  # noqa: ANN401
    theirs: Any,  # noqa: ANN401
    without: str = "",
) -> tuple[dict[str, Any], tuple[Clash, ...]]:
    """What of mine goes into theirs, and what clashes."""
    own: dict[str, Any] = {}
    clashes: list[Clash] = []
    for each in fields(base):
        if each.name == without:
            continue
        was, here, there = (getattr(one, each.name) for one in (base, mine, theirs))
        if here in (was, there):
            continue
        if there == was:
            own[each.name] = here
        else:
            clashes.append(Clash(each.name, here, there))
    return own, tuple(clashes)
