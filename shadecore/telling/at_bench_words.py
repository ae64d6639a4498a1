"""What is said at the bench, in few words that a glance takes in."""

from datetime import datetime, timedelta
from typing import Final

from shadecore.book.shop_records import BookJob
from shadecore.formats.echo import brief
from shadecore.job.plan import Plan
from shadecore.telling.bench_words import poured_words
from shadecore.telling.counts import coats_words, place_words
from shadecore.telling.job_words import when_words
from shadecore.telling.numbers import time_words
from shadecore.units import Units, percent

TIME: Final = "{t}"
"""Stands for a time that the browser counts."""
TIMER_TEXTS: Final = {
    "soundOff": "Sound: off",
    "soundOn": "Sound: on",
    "awakeOff": "Keep the screen on",
    "awakeOn": "Screen stays on",
    "awakeRefused": "This phone refused, perhaps to save its battery: the screen will "
    "go dark.",
    "noAwake": "The screen cannot be kept on here: browsers allow it only over https, "
    "or on the shop's own computer.",
}
"""Labels of the buttons under the timer."""
SINCE: Final = f"since {TIME}"
"""Under a step that may start."""
SINCE_DULL: Final = f"may be sprayed since {TIME}, if the film is dull"
"""Under a coat whose flash is over."""
UNTIL_START: Final = "until it may start"
READY: Final = "Ready"
AS_YOU_LIKE: Final = "start when you like"
"""Under a step that is planned for later, but waits for nothing."""
CURED: Final = "Through"
SINCE_CURED: Final = f"since {TIME}"
"""Under a cure that is over."""
WINDOW_CLOSES: Final = f"Window closes in {TIME}."
POT_LIFE_RUNS: Final = f"The mix can be sprayed for {TIME}."
POT_LIFE_ENDED: Final = f"Its pot life ended {TIME} ago: do not spray this mix."
_MIN_PER_H: Final = 60
_S_PER_MIN: Final = 60


def where_words(place: int, steps: int) -> str:
    """Which step of how many.

    Parameters
    ----------
    place, steps : int
        The step, from 1, and how many there are.

    Returns
    -------
    str
    """
    return f"Step {place_words(place, steps)}"


def head_words(title: str) -> tuple[str, str]:
    """What a step does, and on which panels.

    Parameters
    ----------
    title : str
        The step's.

    Returns
    -------
    tuple of str
        The panels are empty where the title names none.

    Examples
    --------
    >>> head_words("Guide coat: Hood (bonnet), Roof")
    ('Guide coat', 'Hood (bonnet), Roof')
    """
    what, _, where = title.partition(": ")
    return what, where


def done_words(title: str, coat: int, coats: int) -> str:
    """Label of the one big button.

    Parameters
    ----------
    title : str
        The step's.
    coat, coats : int
        The coat that is sprayed next, and those of the step; a coat beyond them, or a
        step of less than two, is done as a whole.

    Returns
    -------
    str

    Examples
    --------
    >>> done_words("Surfacer", 2, 3), done_words("Wash", 1, 0)
    ('Done: coat 2 of 3', 'Done: Wash')
    """
    if coats > 1 and coat <= coats:
        return f"Done: coat {place_words(coat, coats)}"
    what, _ = head_words(title)
    return f"Done: {brief(what)}"


def stopwatch_words(time: timedelta) -> str:
    """A time in minutes and seconds.

    Parameters
    ----------
    time : timedelta
        Not below zero.

    Returns
    -------
    str
        With hours where there are any; a second begun counts.

    Examples
    --------
    >>> stopwatch_words(timedelta(minutes=9, seconds=5))
    '9:05'
    """
    seconds = -int(-time.total_seconds() // 1)
    minutes, seconds = divmod(seconds, _S_PER_MIN)
    hours, minutes = divmod(minutes, _MIN_PER_H)
    return (
        f"{hours}:{minutes:02d}:{seconds:02d}" if hours else f"{minutes}:{seconds:02d}"
    )


def flash_words(flash: timedelta, sheet_min: float) -> str:
    """How long a coat flashes, in the words of the sheet.

    Parameters
    ----------
    flash : timedelta
        At this panel.
    sheet_min : float
        As the sheet says it, at its reference temperature. [min]

    Returns
    -------
    str

    Examples
    --------
    >>> flash_words(timedelta(minutes=3), 3.0)
    '3 min flash'
    >>> flash_words(timedelta(minutes=6), 3.0)
    '3 min flash, 6:00 at this panel'
    """
    told = f"{sheet_min:g} min flash"
    if flash == timedelta(minutes=sheet_min):
        return told
    return f"{told}, {stopwatch_words(flash)} at this panel"


def sprayed_words(coat: int, coats: int) -> str:
    """How many coats of a step are on.

    Parameters
    ----------
    coat, coats : int
        The last one that was sprayed, and those of the step.

    Returns
    -------
    str
    """
    return f"Coat {place_words(coat, coats)} sprayed"


def coat_words(coat: int) -> str:
    """A coat by its number.

    Parameters
    ----------
    coat : int
        The coat, from 1.

    Returns
    -------
    str
    """
    return f"Coat {coat}"


def planned_words(start: datetime) -> str:
    """For when a step is planned that might start at once.

    Parameters
    ----------
    start : datetime
        In the shop's own time.

    Returns
    -------
    str
        With its day.
    """
    return f"Planned for {when_words(start)}"


def until_cured_words(begun: str) -> str:
    """What a cure is waited for.

    Parameters
    ----------
    begun : str
        When it could be begun.

    Returns
    -------
    str
    """
    return f"until it is through, if begun at {begun}"


def until_coat_words(coat: int, flash: timedelta, sheet_min: float) -> str:
    """What a flash is waited for.

    Parameters
    ----------
    coat : int
        The coat that comes next, from 1.
    flash, sheet_min
        As for :func:`flash_words`.

    Returns
    -------
    str
    """
    return f"until coat {coat}; {flash_words(flash, sheet_min)}"


def window_closed_words(late: str) -> str:
    """That a window has closed.

    Parameters
    ----------
    late : str
        What that costs; empty where nobody knows.

    Returns
    -------
    str
    """
    return f"Window closed {TIME} ago. {late}".rstrip()


def early_words(coat: int, early: timedelta) -> str:
    """A coat that came before the flash under it was over.

    Parameters
    ----------
    coat : int
        The coat, from 1.
    early : timedelta
        How much was missing.

    Returns
    -------
    str
    """
    return (
        f"Coat {coat} was sprayed {stopwatch_words(early)} too early: solvent may be "
        "trapped; let it flash longer."
    )


def share_words(share: float) -> str:
    """How much of a step is done.

    Parameters
    ----------
    share : float
        0..1.

    Returns
    -------
    str
    """
    return f"{percent(share)} of it is done"


def look_words(coat: int, *, covered: bool | None) -> str:
    """What was seen after a coat, or the question for it.

    Parameters
    ----------
    coat : int
        The coat, from 1.
    covered : bool or None
        What was said; None where nobody looked.

    Returns
    -------
    str
    """
    if covered is None:
        return f"Coat {coat}: covered?"
    return f"Coat {coat}: {'covered' if covered else 'not yet covered'}"


def coming_words(plan: Plan, most: int) -> tuple[str, ...]:
    """The steps after the coming one.

    Parameters
    ----------
    plan : Plan
        The plan.
    most : int
        How many to name.

    Returns
    -------
    tuple of str
        Each with its time, and with its coats where it is sprayed.
    """
    left = [each for each in plan.timeline if not each.done][1 : most + 1]
    found: list[str] = []
    before: datetime | None = None
    for each in left:
        coats = f", {coats_words(each.step.coats)}" if each.step.coats else ""
        start = when_words(each.start, before)
        found.append(f"{start} {brief(each.step.title)}{coats}")
        before = each.start
    return tuple(found)


def spray_until_words(product: str, until: datetime) -> str:
    """Until when a mix can be sprayed.

    Parameters
    ----------
    product : str
        Its name.
    until : datetime
        In the shop's own time.

    Returns
    -------
    str
    """
    return f"{brief(product)} is mixed: spray it until {when_words(until, until)}."


def took_words(record: BookJob, units: Units) -> str:
    """What a job took in the end.

    Parameters
    ----------
    record : BookJob
        As the book holds it.
    units : Units
        What volumes are shown in.

    Returns
    -------
    str
        What nobody said is left out.
    """
    told = []
    if record.took_coats is not None:
        told.append(f"{coats_words(record.took_coats)} of colour")
    if record.took_ml is not None:
        told.append(poured_words(record.took_ml, units))
    if record.took_minutes is not None:
        told.append(f"{time_words(record.took_minutes)} of work")
    return f"Kept: it took {', '.join(told)}."
