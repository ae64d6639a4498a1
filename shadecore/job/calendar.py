"""A timeline as a calendar file, by RFC 5545."""

import math
from collections.abc import Collection, Iterator, Sequence
from datetime import UTC, datetime, timedelta
from typing import Final
from uuid import UUID, uuid5

from shadecore.errors import JobError
from shadecore.job.request import JobRequest
from shadecore.job.schedule import Timed
from shadecore.job.weather import NOT_TO_BE_SPRAYED

_JOBS: Final = UUID("9377521a-563b-4713-ad31-9bfd5ec28a93")
"""Namespace of jobs that bring no UUID of their own; drawn once."""
_DAY: Final = timedelta(days=1)
_LINE_OCTETS: Final = 75
_LINE_END: Final = "\r\n"
_PRODUCER: Final = "-//shadecore//job timeline//EN"
_ESCAPES: Final = str.maketrans(
    {"\\": "\\\\", ";": "\\;", ",": "\\,", "\n": "\\n", "\r": None}
    # A TEXT value has no other control characters (RFC 5545, 3.3.11).
    | {chr(code): None for code in (*range(32), 127) if chr(code) not in "\t\n\r"}
)


def calendar_uid(job: JobRequest) -> str:
    """What a job's events are told from those of any other job by.

    Parameters
    ----------
    job : JobRequest
        The job.

    Returns
    -------
    str
        A UUID, as RFC 7986 (5.3) wants it: the job's own, or one made of what the job
        is. It stays when steps are done or the weather changes.
    """
    if job.uid:
        return job.uid
    what = (
        job.name,
        job.start.isoformat(),
        job.question.colour,
        job.panels,
        job.area_m2,
    )
    return str(uuid5(_JOBS, repr(what)))


def uid_after(
    job: JobRequest, name: str, start: datetime, length: timedelta, fresh: str
) -> str:
    """The job's UUID after a change of its name or start.

    Whoever opens an old job as the template of a new one renames it or plans it for
    another time; were the UUID kept, the calendar would move the old job's events.

    Parameters
    ----------
    job : JobRequest
        Before the change.
    name : str
        Its name now.
    start : datetime
        Its start now.
    length : timedelta
        From its first step to its last; a start moved by no more, give or take the
        rest of a day, is the same job put off.
    fresh : str
        A UUID that no job has yet.

    Returns
    -------
    str
        Its own one, or the fresh one; empty where it had none.
    """
    days = timedelta(days=math.ceil(length / _DAY))
    same = name == job.name and abs(start - job.start) <= days
    return job.uid if same or not job.uid else fresh


def to_icalendar(
    timed: Sequence[Timed],
    uid_prefix: str,
    stamp: datetime,
    stops: Sequence[str] = (),
    barred: Collection[str] | None = None,
) -> str:
    """Calendar with one event to a step, in the shop's own ("floating") time.

    Parameters
    ----------
    timed : sequence of Timed
        The timeline, at least one step.
    uid_prefix : str
        As :func:`calendar_uid` gives it. Keep it when the job is planned again, and
        the calendar moves its events.
    stamp : datetime
        When the job was last changed; taken as UTC where it names no time zone.
    stops : sequence of str
        Why nothing may be sprayed as planned. Steps that are sprayed say so, and are
        tentative until the weather is another one.
    barred : collection of str, optional
        Keys of the steps that they stop; all that are sprayed unless given.

    Returns
    -------
    str
        Lines that end in CR LF and have at most 75 octets in UTF-8; write it to a
        file without translating line ends.

    Raises
    ------
    JobError
        If there is no step.
    """
    if not timed:
        message = "There is no step to put into a calendar; plan the job first."
        raise JobError(message)
    utc = stamp.astimezone(UTC) if stamp.tzinfo is not None else stamp
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        f"PRODID:{_PRODUCER}",
        "CALSCALE:GREGORIAN",
    ]
    for each in timed:
        open_coat = bool(each.step.coats) and not each.done
        stopped = open_coat and (barred is None or each.step.key in barred)
        lines += _event(each, uid_prefix, f"{_basic(utc)}Z", stops if stopped else ())
    lines.append("END:VCALENDAR")
    return "".join(f"{part}{_LINE_END}" for line in lines for part in _folded(line))


def _event(
    timed: Timed, uid_prefix: str, stamp: str, stops: Sequence[str]
) -> list[str]:
    step = timed.step
    # An event may not end when it starts; without an end it takes no time (3.6.1).
    ends = [f"DTEND:{_basic(timed.end)}"] if _lasts(timed) else []
    mark = "Done: " if timed.done else ("Late: " if timed.broken else "")
    if stops:
        mark = f"{NOT_TO_BE_SPRAYED}: {mark}"
    return [
        "BEGIN:VEVENT",
        f"UID:{_escaped(f'{uid_prefix}-{step.key}')}",
        f"DTSTAMP:{stamp}",
        f"DTSTART:{_basic(timed.start)}",
        *ends,
        f"SUMMARY:{_escaped(mark + step.title)}",
        f"DESCRIPTION:{_escaped(_description(timed, stops))}",
        *(["STATUS:TENTATIVE"] if stops else []),
        "END:VEVENT",
    ]


def _description(timed: Timed, stops: Sequence[str]) -> str:
    step = timed.step
    said = [*stops, *([timed.broken] if timed.broken else [])]
    said.append(step.purpose)
    if step.grits:
        said.append("Grit " + ", ".join(f"P{grit}" for grit in step.grits))
    if step.coats:
        flash = f", {step.flash_min:g} min flash between" if step.coats > 1 else ""
        said.append(f"{step.coats} coat{'s' if step.coats > 1 else ''}{flash}")
    said += [f"Check: {step.check}", f"Next from {_plain(timed.next_from)}"]
    if timed.next_until is not None:
        said.append(f"Next until {_plain(timed.next_until)}")
    return "\n".join(said)


def _lasts(timed: Timed) -> bool:
    return _basic(timed.end) > _basic(timed.start)


def _basic(at: datetime) -> str:
    """A time in the form 20261201T080000."""
    whole = at.replace(tzinfo=None).isoformat(timespec="seconds")
    return whole.replace("-", "").replace(":", "")


def _plain(at: datetime) -> str:
    return at.isoformat(" ", "minutes")


def _escaped(text: str) -> str:
    return text.replace("\r\n", "\n").translate(_ESCAPES)


def _folded(line: str) -> Iterator[str]:
    """Parts of a line short enough, no character cut; all but the first indented."""
    part, octets = "", 0
    for character in line:
        size = len(character.encode("utf-8", "replace"))
        if octets + size > _LINE_OCTETS:
            yield part
            part, octets = " ", 1
        part += character
        octets += size
    yield part
