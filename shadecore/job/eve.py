"""The working day before a day, on which its weather is known and time is left."""

from collections.abc import Iterable
from datetime import date, timedelta

from shadecore.job.breaks import Break
from shadecore.job.shop_hours import hours_of

_DAY = timedelta(days=1)
_LONGEST = 14
"""So many days off in a row are looked back over."""


def eve_of(day: date, breaks: Iterable[Break]) -> date:
    """The last day before another one on which somebody works.

    Parameters
    ----------
    day : date
        The day.
    breaks : iterable of Break
        Of the job, which say when the shop is closed.

    Returns
    -------
    date
        The day before where nobody said any hours, or works for a fortnight.

    Examples
    --------
    >>> eve_of(date(2026, 3, 5), ())
    datetime.date(2026, 3, 4)
    """
    hours = hours_of(breaks)
    before = (day - count * _DAY for count in range(1, _LONGEST + 1))
    if hours is None:
        return day - _DAY
    return next((each for each in before if hours.works_on(each)), day - _DAY)
