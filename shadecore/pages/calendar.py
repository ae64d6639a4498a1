"""A timeline as a calendar file, by RFC 5545."""

from collections.abc import Collection, Iterator, Sequence
from datetime import UTC, date, datetime
from typing import Final

from shadecore.errors import JobError
from shadecore.job.schedule import Timed
from shadecore.telling.job_words import grit_words, spraying_words
from shadecore.telling.weather_words import NOT_TO_BE_SPRAYED
from shadecore.telling.window_words import broken_words

_LINE_OCTETS: Final = 75
_LINE_END: Final = "\r\n"
_PRODUCER: Final = "-//shadecore//job timeline//EN"
_ESCAPES: Final = str.maketrans(
    {"\\": "\\\\", ";": "\\;", ",": "\\,", "\n": "\\n", "\r": None}
    # A TEXT value has no other control characters (RFC 5545, 3.3.11).
    | {chr(code): None for code in (*range(32), 127) if chr(code) not in "\t\n\r"}
)


def to_icalendar(
    timed: Sequence[Timed],
    uid_prefix: str,
    stamp: datetime,
    stops: Sequence[str] = (),
    barred: Collection[str] | None = None,
    eves: Sequence[tuple[date, date, Sequence[str]]] = (),
) -> str:
    """Calendar with one event to a step, in the shop's own ("floating") time.

    Parameters
    ----------
    timed : sequence of Timed
        The timeline, at least one step.
    uid_prefix : str
        As :func:`shadecore.job.calendar.calendar_uid` gives it. Keep it when the job
        is planned again, and the calendar moves its events.
    stamp : datetime
        When the job was last changed; taken as UTC where it names no time zone.
    stops : sequence of str
        Why nothing may be sprayed as planned. Steps that are sprayed say so, and are
        tentative until the weather is another one.
    barred : collection of str, optional
        Keys of the steps that they stop; all that are sprayed unless given.
    eves : sequence of (date, date, sequence of str)
        As :func:`shadecore.telling.eve_words.eves` gives them: each is an event of the
        whole day before the one that it is about.

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
    for eve, day, told in eves:
        lines += _eve_event(eve, day, told, uid_prefix, f"{_basic(utc)}Z")
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


def _eve_event(
    eve: date, day: date, told: Sequence[str], prefix: str, stamp: str
) -> list[str]:
    return [
        "BEGIN:VEVENT",
        f"UID:{_escaped(f'{prefix}-eve-{day.isoformat()}')}",
        f"DTSTAMP:{stamp}",
        f"DTSTART;VALUE=DATE:{eve:%Y%m%d}",
        f"SUMMARY:{_escaped(f'To settle for {day:%a %d %b}')}",
        f"DESCRIPTION:{_escaped(chr(10).join(told))}",
        "TRANSP:TRANSPARENT",
        "END:VEVENT",
    ]


def _description(timed: Timed, stops: Sequence[str]) -> str:
    step = timed.step
    grits = f"Grit {grit_words(step.grits)}" if step.grits else ""
    told = (broken_words(timed), step.purpose, grits, spraying_words(step))
    said = [*stops, *(each for each in told if each)]
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
