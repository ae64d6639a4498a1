"""When somebody works: pieces of work laid around breaks, to the minute."""

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from shadecore.errors import JobError
from shadecore.job.breaks import Break

_MINUTE: Final = timedelta(minutes=1)
_SLACK_MIN: Final = 1e-6
"""What sums of fractions may miss a whole minute by."""


@dataclass(frozen=True)
class Piece:
    """A piece of a step.

    Attributes
    ----------
    work_min : float
        Hands-on time; 0 where nobody works. [min]
    wait_min : float
        Time after it in which nothing is done, also in a break. [min]
    film_min : float
        Drying after that, at the sheet's reference temperature; it may lie in a break,
        too. [min]
    whole : bool
        Whether it cannot be left and taken up after a break.
    room_min : float
        Work right after it that no break may come before, if it is whole. [min]
    """

    work_min: float
    wait_min: float = 0.0
    film_min: float = 0.0
    whole: bool = False
    room_min: float = 0.0


def minutes(count: float) -> timedelta:
    """Time of at least so many minutes, in whole ones.

    Parameters
    ----------
    count : float
        [min]

    Returns
    -------
    timedelta

    Examples
    --------
    >>> minutes(20.2)
    datetime.timedelta(seconds=1260)
    """
    return math.ceil(count - _SLACK_MIN) * _MINUTE


def minutes_at_most(count: float) -> timedelta:
    """Time of at most so many minutes, in whole ones.

    Parameters
    ----------
    count : float
        [min]

    Returns
    -------
    timedelta
    """
    return math.floor(count + _SLACK_MIN) * _MINUTE


def to_minute(at: datetime) -> datetime:
    """First whole minute from a time on.

    Parameters
    ----------
    at : datetime
        In the shop's own time.

    Returns
    -------
    datetime

    Raises
    ------
    JobError
        If it names a time zone.
    """
    cut = _floor(at)
    return cut if cut == at else cut + _MINUTE


def joined(breaks: Iterable[Break]) -> tuple[Break, ...]:
    """Breaks in order, those that touch made one.

    Parameters
    ----------
    breaks : iterable of Break
        In any order.

    Returns
    -------
    tuple of Break

    Raises
    ------
    JobError
        If one ends before it starts or names a time zone.
    """
    whole = []
    for each in breaks:
        first, last = _floor(each.start), to_minute(each.end)
        if each.end <= each.start:
            message = (
                f"The break from {each.start.isoformat(' ')} must end later than it "
                "starts; correct its times."
            )
            raise JobError(message)
        whole.append(Break(first, last))
    found: list[Break] = []
    for each in sorted(whole, key=lambda one: one.start):
        if found and each.start <= found[-1].end:
            found[-1] = Break(found[-1].start, max(found[-1].end, each.end))
        else:
            found.append(each)
    return tuple(found)


def shifted(each: Break, by: timedelta) -> Break:
    """A break at another time.

    Parameters
    ----------
    each : Break
        The break.
    by : timedelta
        How much later.

    Returns
    -------
    Break
    """
    return Break(each.start + by, each.end + by)


def lay(
    pieces: Iterable[Piece],
    at: datetime,
    breaks: tuple[Break, ...],
    dried: Callable[[datetime, float], datetime],
) -> tuple[datetime, datetime]:
    """Lay pieces of work one after the other, as early as breaks allow.

    Parameters
    ----------
    pieces : iterable of Piece
        In their order.
    at : datetime
        When the first may start at the earliest.
    breaks : tuple of Break
        As :func:`joined` gives them.
    dried : callable
        When a film has dried, from when it began to and from the minutes that it takes
        at the sheet's reference temperature.

    Returns
    -------
    tuple of datetime
        Start of the first and end of the last, its drying included.
    """
    first: datetime | None = None
    for piece in pieces:
        start, end = _laid(piece, at, breaks)
        first = start if first is None else first
        at = dried(end + minutes(piece.wait_min), piece.film_min)
    return at if first is None else first, at


def _floor(at: datetime) -> datetime:
    if at.tzinfo is not None:
        message = f"{at.isoformat()} names a time zone; give the shop's own time."
        raise JobError(message)
    return at.replace(second=0, microsecond=0)


def _laid(
    piece: Piece, at: datetime, breaks: tuple[Break, ...]
) -> tuple[datetime, datetime]:
    length = minutes(piece.work_min)
    if not length:
        return at, at
    whole = minutes(piece.work_min + piece.room_min)
    start = _free(at, whole if piece.whole else _MINUTE, breaks)
    end = start + length
    if not piece.whole:
        for each in breaks:
            if start < each.start < end:
                end += each.end - each.start
    return start, end


def _free(at: datetime, length: timedelta, breaks: tuple[Break, ...]) -> datetime:
    """Earliest start from which so much work meets no break."""
    for each in breaks:
        if at < each.end and at + length > each.start:
            at = each.end
    return at
