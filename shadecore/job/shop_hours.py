"""A shop's hours: the nights and the daily break that follow from them, and back."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from typing import Final

from shadecore.errors import JobError
from shadecore.job.breaks import Break

_DAY: Final = timedelta(days=1)
_MINUTE: Final = timedelta(minutes=1)
_FORTNIGHT: Final = timedelta(days=13)
_WEEK: Final = frozenset(range(7))
WEEKEND: Final = frozenset({5, 6})
"""Saturday and Sunday."""
_DAILY: Final = 2
"""A break on so many days is a daily one; on a single day it is an exception."""


@dataclass(frozen=True)
class ShopHours:
    """When somebody works, day by day.

    Attributes
    ----------
    opens, closes : time
        Of the working day.
    pause : tuple of time or None
        Start and end of a daily break, such as lunch; None where there is none.
    closed : frozenset of int
        Days of the week on which nobody works, Monday counted as 0.
    holidays : frozenset of date
        Other days on which nobody works.

    Raises
    ------
    JobError
        If the day ends before it begins, or the break does not lie in it.
    """

    opens: time
    closes: time
    pause: tuple[time, time] | None = None
    closed: frozenset[int] = frozenset()
    holidays: frozenset[date] = frozenset()

    def __post_init__(self) -> None:
        if not self.closed < _WEEK:
            message = "The shop must be open on one day of the week at least."
            raise JobError(message)
        if not self.opens < self.closes:
            message = (
                f"The shop closes at {self.closes:%H:%M}, which is not after it opens "
                f"at {self.opens:%H:%M}; correct its hours."
            )
            raise JobError(message)
        if self.pause is None:
            return
        start, end = self.pause
        if not self.opens < start < end < self.closes:
            message = (
                f"The daily break from {start:%H:%M} to {end:%H:%M} must end later "
                "than it starts and lie within the shop's hours; correct its times."
            )
            raise JobError(message)

    @property
    def longest_min(self) -> float:
        """Longest time in which somebody works without a break. [min]."""
        clock = [self.opens, *(self.pause or ()), self.closes]
        ends = [datetime.combine(date.min, each) for each in clock]
        return max(
            (end - start) / _MINUTE
            for start, end in zip(ends[::2], ends[1::2], strict=True)
        )

    def works_on(self, day: date) -> bool:
        """Whether somebody works on a day.

        Parameters
        ----------
        day : date
            The day.

        Returns
        -------
        bool
        """
        return day.weekday() not in self.closed and day not in self.holidays


USUAL_HOURS: Final = ShopHours(time(8), time(18))
"""Hours where nobody said any."""


def breaks_of(hours: ShopHours, first: date, last: date) -> tuple[Break, ...]:
    """Breaks of some days.

    Parameters
    ----------
    hours : ShopHours
        The hours.
    first, last : date
        Days, both with their daily break and the night after them; on a day on which
        nobody works a break lasts from opening to closing time.

    Returns
    -------
    tuple of Break
        In order.

    Examples
    --------
    >>> day = date(2026, 3, 2)
    >>> (night,) = breaks_of(ShopHours(time(8), time(18)), day, day)
    >>> night.end.isoformat()
    '2026-03-03T08:00:00'
    """
    found = []
    for count in range((last - first).days + 1):
        day = first + count * _DAY
        if not hours.works_on(day):
            found.append(Break(*_whole_day(hours, day)))
        elif hours.pause is not None:
            start, end = (datetime.combine(day, each) for each in hours.pause)
            found.append(Break(start, end))
        night = datetime.combine(day, hours.closes)
        found.append(Break(night, datetime.combine(day + _DAY, hours.opens)))
    return tuple(found)


def hours_of(breaks: Iterable[Break]) -> ShopHours | None:
    """Hours that breaks come from.

    Parameters
    ----------
    breaks : iterable of Break
        In any order.

    Returns
    -------
    ShopHours or None
        By the first night, from one day to the next, and the first break that comes
        on more than one day. A break from opening to closing time is a holiday; on a
        Saturday or Sunday it is taken for every one. None where there is no night.
    """
    ordered = sorted(breaks, key=lambda each: each.start)
    night = next((each for each in ordered if _is_night(each)), None)
    if night is None:
        return None
    opens, closes = night.end.time(), night.start.time()
    clocks = [_clock(each) for each in ordered if each.start.date() == each.end.date()]
    often = Counter(clocks)
    pause = next(
        (
            each
            for each in clocks
            if often[each] >= _DAILY and opens < each[0] and each[1] < closes
        ),
        None,
    )
    off = {each.start.date() for each in ordered if _clock(each) == (opens, closes)}
    closed = frozenset(day.weekday() for day in off) & WEEKEND
    holidays = frozenset(day for day in off if day.weekday() not in closed)
    return ShopHours(opens, closes, pause, closed, holidays)


def follow(breaks: Iterable[Break], hours: ShopHours) -> bool:
    """Whether breaks are none but those of some hours.

    Parameters
    ----------
    breaks : iterable of Break
        The breaks.
    hours : ShopHours
        The hours.

    Returns
    -------
    bool
    """
    return all(
        each in breaks_of(hours, each.start.date(), each.start.date())
        for each in breaks
    )


def with_usual_breaks(
    breaks: tuple[Break, ...], first: date, last: date
) -> tuple[Break, ...]:
    """Breaks with the shop's night and daily break on each of some days.

    A job that is begun days before its start, or goes on long after it, runs into
    nights that nobody thought of when it was planned.

    Parameters
    ----------
    breaks : tuple of Break
        In the job; :func:`hours_of` says which are the shop's usual ones.
    first, last : date
        Days, both with their night.

    Returns
    -------
    tuple of Break
        Those given, and after them the usual ones that were missing.

    Examples
    --------
    >>> night = Break(datetime(2026, 3, 2, 18), datetime(2026, 3, 3, 8))
    >>> added = with_usual_breaks((night,), date(2026, 3, 1), date(2026, 3, 2))[1:]
    >>> [each.start.isoformat() for each in added]
    ['2026-03-01T18:00:00']
    """
    hours = hours_of(breaks)
    if hours is None:
        return breaks
    missing = [
        each
        for each in breaks_of(hours, first, last)
        if not any(one.start < each.end and each.start < one.end for one in breaks)
    ]
    return (*breaks, *missing)


def with_days_off(
    breaks: tuple[Break, ...], first: date, closed: Iterable[int], dates: Iterable[date]
) -> tuple[Break, ...]:
    """Breaks of a job with more days on which nobody works.

    Parameters
    ----------
    breaks : tuple of Break
        In the job; :func:`hours_of` says when the shop is open, or else it is open at
        the usual hours.
    first : date
        First day of the job.
    closed : iterable of int
        Days of the week, Monday counted as 0.
    dates : iterable of date
        Other days.

    Returns
    -------
    tuple of Break
        Breaks that follow no hours first, then those of a fortnight at least, so that
        :func:`hours_of` can read the days off them.
    """
    hours = hours_of(breaks) or USUAL_HOURS
    holidays = hours.holidays | frozenset(dates)
    more = replace(hours, closed=hours.closed | frozenset(closed), holidays=holidays)
    known = [each.start.date() for each in breaks]
    last = max([first + _FORTNIGHT, *holidays, *known])
    own = tuple(each for each in breaks if not follow([each], hours))
    return (*own, *breaks_of(more, min([first, *holidays]), last))


def _whole_day(hours: ShopHours, day: date) -> tuple[datetime, datetime]:
    return datetime.combine(day, hours.opens), datetime.combine(day, hours.closes)


def _is_night(each: Break) -> bool:
    next_day = each.end.date() - each.start.date() == _DAY
    return next_day and each.end - each.start < _DAY


def _clock(each: Break) -> tuple[time, time]:
    return each.start.time(), each.end.time()
