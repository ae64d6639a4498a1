"""Numbers of coats in words: how many, between which, how sure.

Every screen, text, file for people and print takes its counts from here, so that one
count reads the same everywhere.
"""

from typing import Final

from shadecore.coats.answer import Count
from shadecore.telling.numbers import chance_words

SURE: Final = "90 %"
"""How the interval of a count is headed: the true count lies in it so often."""
RANGE: Final = "Range"
"""How a column of such intervals is headed where a note says what it is."""
RANGE_NOTE: Final = "Range: where 9 of 10 likely paints lie."
Ends = tuple[int | None, int | None]
"""Both ends of an interval of coats; None where one lies beyond the cap."""


def coats_words(coats: int) -> str:
    """A number of coats with its noun.

    Parameters
    ----------
    coats : int
        0 or more.

    Returns
    -------
    str

    Examples
    --------
    >>> coats_words(1), coats_words(3)
    ('1 coat', '3 coats')
    """
    return f"{coats} coat" if coats == 1 else f"{coats} coats"


def place_words(coat: int, coats: int) -> str:
    """Which coat of how many.

    Parameters
    ----------
    coat, coats : int
        The coat, from 1, and all that are planned.

    Returns
    -------
    str

    Examples
    --------
    >>> place_words(2, 4)
    '2 of 4'
    """
    return f"{coat} of {coats}"


def number_words(coats: int | None, cap: int) -> str:
    """A count without its noun, for tables.

    Parameters
    ----------
    coats : int or None
        Coats; None or more than the cap where they lie beyond it.
    cap : int
        Coats counted at most.

    Returns
    -------
    str

    Examples
    --------
    >>> number_words(3, 12), number_words(None, 12), number_words(13, 12)
    ('3', 'over 12', 'over 12')
    """
    return f"over {cap}" if coats is None or coats > cap else f"{coats}"


def range_words(low: int | None, high: int | None, cap: int) -> str:
    """Two ends of a count without a noun.

    Parameters
    ----------
    low, high : int or None
        The ends; None or more than the cap where one lies beyond it.
    cap : int
        Coats counted at most.

    Returns
    -------
    str

    Examples
    --------
    >>> range_words(2, 5, 12), range_words(3, 3, 12), range_words(4, None, 12)
    ('2 to 5', '3', '4 to over 12')
    """
    first, last = number_words(low, cap), number_words(high, cap)
    return first if first == last else f"{first} to {last}"


def count_words(count: Count) -> str:
    """A count with its noun, such as ``3 coats`` or ``over 12 coats``.

    Parameters
    ----------
    count : Count
        The count.

    Returns
    -------
    str
    """
    if count.coats is None:
        return f"over {coats_words(count.cap)}"
    return coats_words(count.coats)


def number_of(count: Count) -> str:
    """A count without its noun, such as ``3`` or ``over 12``.

    Parameters
    ----------
    count : Count
        The count.

    Returns
    -------
    str
    """
    return number_words(count.coats, count.cap)


def narrow_number(count: Count) -> str:
    """A count for a column of two or three characters, such as ``3`` or ``>12``.

    Parameters
    ----------
    count : Count
        The count.

    Returns
    -------
    str
    """
    return f">{count.cap}" if count.coats is None else f"{count.coats}"


def interval_words(count: Count) -> str:
    """The 90 percent interval of a count, such as ``2 to 5``.

    Parameters
    ----------
    count : Count
        The count.

    Returns
    -------
    str
    """
    return range_words(count.low, count.high, count.cap)


def narrow_interval(count: Count) -> str:
    """The 90 percent interval of a count for a narrow column.

    Parameters
    ----------
    count : Count
        The count.

    Returns
    -------
    str
        Such as ``2 to 5`` or ``4 to >12``.
    """
    return interval_words(count).replace("over ", ">")


def sure_words(count: Count) -> str:
    """A count with its interval, such as ``3 coats (90 %: 2 to 5)``.

    Parameters
    ----------
    count : Count
        The count.

    Returns
    -------
    str
    """
    return f"{count_words(count)} ({SURE}: {interval_words(count)})"


def plan_words(count: Count) -> str:
    """What to plan and what to have in the cupboard, as a sentence.

    Parameters
    ----------
    count : Count
        The count.

    Returns
    -------
    str
        Such as ``Plan 4 coats, have paint for 6.``
    """
    if count.coats is None:
        return f"Not hidden within {coats_words(count.cap)}: do not plan on it."
    if count.high is None:
        return (
            f"Plan {coats_words(count.coats)}, but it may take over {count.cap}: spray "
            "out a test card first."
        )
    return f"Plan {coats_words(count.coats)}, have paint for {count.high}."


def planned_words(count: Count, coats: int, held: int | None) -> str:
    """The coats that a job is planned with, beside what the colour may take.

    Parameters
    ----------
    count : Count
        Over what is sprayed over.
    coats : int
        Planned.
    held : int or None
        For how many coats the job's cans are enough; None where that is not known.

    Returns
    -------
    str
        Such as ``3 coats planned (90 %: 2 to 7), cans for 4.``
    """
    cans = "" if held is None else f", cans for {held}"
    if coats == count.coats:
        return f"{coats_words(coats)} planned ({SURE}: {interval_words(count)}){cans}."
    return f"{coats_words(coats)} planned{cans}; it hides in {sure_words(count)}."


def chance_by(count: Count, coats: int | None) -> str:
    """Chance that a number of coats is enough.

    Parameters
    ----------
    count : Count
        The count.
    coats : int or None
        1 to the cap; None for no number.

    Returns
    -------
    str
        In percent; empty for no number.
    """
    return "" if coats is None else chance_words(count.chance[coats - 1])


def enough_words(count: Count, most: int = 3) -> str:
    """The chance that the count is enough, and each coat beyond it.

    Parameters
    ----------
    count : Count
        The count.
    most : int
        Numbers of coats to name.

    Returns
    -------
    str
        Such as ``3 coats 65 %, 4: 78 %, 5: 87 %``; where it does not hide within the
        cap, the chance at the cap.
    """
    first = count.cap if count.coats is None else count.coats
    more = range(first + 1, min(first + most, count.cap + 1))
    said = [f"{coats_words(first)} {chance_by(count, first)}"]
    return ", ".join([*said, *(f"{n}: {chance_by(count, n)}" for n in more)])


def average_coats(count: Count) -> float:
    """Mean of a count, "not within the cap" taken as one more than the cap.

    Parameters
    ----------
    count : Count
        The count.

    Returns
    -------
    float
    """
    return count.cap + 1 - sum(count.chance)


def narrowed_words(before: Ends, after: Ends, cap: int) -> str:
    """How far something narrowed an interval.

    Parameters
    ----------
    before, after : tuple of int or None
        Both ends of the interval without it and with it; None for beyond the cap.
    cap : int
        Coats counted at most.

    Returns
    -------
    str

    Examples
    --------
    >>> narrowed_words((2, 7), (3, 4), 12)
    'from 2 to 7 down to 3 to 4'
    """
    old, new = range_words(*before, cap), range_words(*after, cap)
    if old == new:
        return f"{new} as before"
    if _width(after, cap) < _width(before, cap):
        return f"from {old} down to {new}"
    return f"{old} before, {new} now"


def _width(ends: Ends, cap: int) -> int:
    low, high = (cap + 1 if each is None else each for each in ends)
    return high - low
