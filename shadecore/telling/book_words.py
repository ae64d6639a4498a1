"""What the shop's book holds and what happened to it, in words."""

from datetime import datetime
from typing import Any, Final

from shadecore.book.import_plan import Import, dropped
from shadecore.book.shop_records import BookJob
from shadecore.coats.answer import Answer
from shadecore.formats.echo import brief
from shadecore.question.plain import Value, to_plain
from shadecore.question.question import Question
from shadecore.telling.counts import count_words
from shadecore.telling.names import sealer_name
from shadecore.units import UNITS, percent

_SETTINGS: Final = {
    "kind": "kind of colour",
    "angles": "readings at angles",
    "illuminant": "illuminant",
    "observer": "observer",
    "specular": "specular reflection",
    "photo": "photo",
    "from_gun": "film from the gun",
    "paint_parts": "parts of paint",
    "reducer_parts": "parts of reducer",
    "coat_cap": "coats counted",
    "blends": "mixing two sealers",
    "strength": "strength of the darker sealer",
    "test_card": "test card",
}
_STATES: Final = {
    "planned": "Planned",
    "started": "Started",
    "done": "Done",
    "abandoned": "Given up",
}
_NEAR_DAYS: Final = {0: "today", 1: "yesterday"}
_MONTHS: Final = [
    "Jan",
    "Feb",
    "Mar",
    "Apr",
    "May",
    "Jun",
    "Jul",
    "Aug",
    "Sep",
    "Oct",
    "Nov",
    "Dec",
]
_MOST: Final = 4
_MOST_NAMES: Final = 6


def pick_words(answer: Answer) -> str:
    """The pick of a kept colour, for a list.

    Parameters
    ----------
    answer : Answer
        The answer.

    Returns
    -------
    str
        Such as ``White N 9, 3 coats``.
    """
    best = answer.recommended
    return f"{sealer_name(best.undercoat)}, {count_words(best.count)}"


def job_words(job: BookJob) -> str:
    """Where a job stands, for a list.

    Parameters
    ----------
    job : BookJob
        The job.

    Returns
    -------
    str
        Such as ``Started, next: Flash off``.
    """
    state = _STATES[job.state]
    return f"{state}, next: {job.step}" if job.step else state


def when_changed_words(moment: datetime, now: datetime) -> str:
    """The day of a change, for a list.

    Parameters
    ----------
    moment, now : datetime
        With their time zones.

    Returns
    -------
    str
        ``today``, ``yesterday`` or such as ``12 Nov``; with the year of another one.
    """
    day, today = moment.astimezone(now.tzinfo).date(), now.date()
    days = (today - day).days
    if days in _NEAR_DAYS:
        return _NEAR_DAYS[days]
    year = "" if day.year == today.year else f" {day.year}"
    return f"{day.day} {_MONTHS[day.month - 1]}{year}"


def photos_words(count: int) -> str:
    """How many photos there are.

    Parameters
    ----------
    count : int
        One or more.

    Returns
    -------
    str
        Such as ``2 photos``.
    """
    return "1 photo" if count == 1 else f"{count} photos"


def import_words(plan: Import) -> tuple[str, ...]:
    """What an import would do, before it does it.

    Parameters
    ----------
    plan : Import
        The plan.

    Returns
    -------
    tuple of str
        Sentences.
    """
    told = []
    for verb, names in (
        ("Adds", [_name(each) for each in plan.add]),
        ("Changes", [_name(each) for _, each in plan.change]),
    ):
        if names:
            told.append(f"{verb} {len(names)}: {_some(names)}.")
    if plan.skip:
        reasons = sorted({reason for _, reason in plan.skip})
        why = "; ".join(reasons)
        names = [name for name, _ in plan.skip]
        told.append(f"Leaves out {len(names)}: {_some(names)} ({why}).")
    told += [f"Takes away: {each}." for each in dropped_words(plan)]
    told += [f"Not read: {each}" for each in plan.problems[:_MOST]]
    if len(plan.problems) > _MOST:
        told.append(f"And {len(plan.problems) - _MOST} more rows not read.")
    return tuple(told)


def dropped_words(plan: Import) -> tuple[str, ...]:
    """What an import takes away from what the book holds.

    Parameters
    ----------
    plan : Import
        The plan.

    Returns
    -------
    tuple of str
        Such as ``its spectrum (Red)``, of each thing that loses something.
    """
    return tuple(
        f"{_some(list(lost))} ({_name(there.thing)})"
        for there, becomes in plan.change
        if (lost := dropped(there.thing, becomes))
    )


def _name(thing: Any) -> str:  # noqa: ANN401 - a record of any kind
    return str(getattr(thing, "name", "")) or "a record"


def _some(names: list[str]) -> str:
    more = len(names) - _MOST_NAMES
    listed = ", ".join(names[:_MOST_NAMES])
    return f"{listed} and {more} more" if more > 0 else listed


def version_words(one: Question, other: Question) -> str:
    """What one version of a colour says where another says something else.

    Parameters
    ----------
    one, other : Question
        The versions.

    Returns
    -------
    str
        Of the first: such as ``colour 45 60 35, film 12.0 um``; empty where they say
        the same.
    """
    mine, theirs = to_plain(one), to_plain(other)
    units = UNITS[one.units]
    said = []
    if mine["colour"] != theirs["colour"]:
        said.append(f"colour {_line(str(mine['colour']))}")
    if one.tolerance != other.tolerance:
        said.append(f"hidden at {one.tolerance:g}")
    if one.film.dry_film_um != other.film.dry_film_um:
        said.append(f"film {units.film.show(one.film.dry_film_um)}")
    if one.film.solids_percent != other.film.solids_percent:
        said.append(f"solids {percent(one.film.solids_percent / 100.0)}")
    for name, words in _SETTINGS.items():
        if mine[name] != theirs[name]:
            said.append(f"{words} {_value(mine[name])}")
    if not said and mine != theirs:
        return "other settings"
    more = len(said) - _MOST
    return ", ".join(said[:_MOST]) + (f" and {more} more" if more > 0 else "")


def _line(text: str) -> str:
    return brief(" ".join(text.split()))


def _value(value: Value) -> str:
    if isinstance(value, bool):
        return "on" if value else "off"
    if isinstance(value, str):
        return _line(value) if value else "not given"
    return f"{value:g}"
