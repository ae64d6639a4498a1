"""What is left of a paint and whether it may be used, in words."""

from datetime import date

from shadecore.book.left_overs import Judged
from shadecore.formats.echo import brief
from shadecore.products.left_overs import Reuse
from shadecore.units import ML_PER_L, Units


def verdict_words(judged: Judged) -> str:
    """Whether a left-over may be used.

    Parameters
    ----------
    judged : Judged
        The left-over.

    Returns
    -------
    str
        Such as ``to be used until 29 Aug 2026``.
    """
    reuse = judged.reuse
    if judged.product is None:
        return "in no product sheet of the shop: find out what it is first"
    if reuse is None:
        return "its day is yet to come: correct it"
    return _told(reuse)


def _told(reuse: Reuse) -> str:
    if reuse.verdict == "hardened":
        return "waste: mixed with hardener, it has set"
    if reuse.until is None:
        return "its sheet does not say how long it keeps; ask its maker"
    until = day_words(reuse.until)
    if reuse.allowed:
        return f"to be used until {until}; stir, strain and spray a card first"
    return f"not to be used: its last day was {until}"


def left_over_words(judged: Judged, units: Units) -> str:
    """A left-over with its verdict, as a sentence.

    Parameters
    ----------
    judged : Judged
        The left-over.
    units : Units
        What volumes are shown in.

    Returns
    -------
    str
        Such as ``120 ml left of Red base, mixed 02 Mar 2026: to be used until ...``.
    """
    thing = judged.kept.thing
    left = thing.left
    how = "mixed" if left.mixed else "can opened"
    batch = f", batch {brief(left.batch)}" if left.batch else ""
    return (
        f"{units.volume.show(left.ml / ML_PER_L)} left of {brief(thing.name)}, {how} "
        f"{day_words(left.since)}{batch}: {verdict_words(judged)}."
    )


def day_words(day: date) -> str:
    """A day with its year.

    Parameters
    ----------
    day : date
        The day.

    Returns
    -------
    str
    """
    return f"{day:%d %b %Y}"
