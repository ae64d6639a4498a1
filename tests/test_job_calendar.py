"""The calendar file against the rules of RFC 5545, written out here, and a parser.

The rules: lines end in CR LF and have at most 75 octets without it, longer ones go on
after a blank or tab (3.1); a calendar has one PRODID and one VERSION 2.0 (3.6, 3.7); an
event has one UID, one DTSTAMP in UTC and one DTSTART, and ends later than it starts
(3.6.1, 3.8.2.2, 3.8.7.2); a time without zone and Z is floating (3.3.5); in TEXT
backslash, semicolon, comma and line end are escaped and no control character stands
(3.3.11).
"""

import re
from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone
from uuid import UUID

import icalendar
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.errors import JobError
from shadecore.job.breaks import Break
from shadecore.job.calendar import calendar_uid, uid_after
from shadecore.job.request import JobRequest
from shadecore.job.schedule import Timed, schedule
from shadecore.job.steps import job_steps
from shadecore.pages.calendar import to_icalendar
from shadecore.products.sheet_file import demo_sheet
from shadecore.question.question import Question
from shadecore.telling.window_words import broken_words

SOME = settings(deadline=None, derandomize=True, max_examples=150)
STAMP = datetime(2026, 3, 1, 6, 30, 15, tzinfo=UTC)
MORNING = datetime(2026, 3, 2, 8, 0)  # noqa: DTZ001 - the shop's own time
SHEET = demo_sheet()
STEPS = job_steps(SHEET, 4, "Grey N5", bare_metal=True, filler=True, flattest=True)
NIGHT = (Break(MORNING + timedelta(hours=9), MORNING + timedelta(hours=24)),)
DONE = {"wash": MORNING + timedelta(minutes=25)}
TIMED = schedule(STEPS, SHEET, MORNING, 21.0, NIGHT, DONE)

FLOATING = re.compile(r"\d{8}T\d{6}")
UTC_TIME = re.compile(r"\d{8}T\d{6}Z")
PROPERTY = re.compile(r"([A-Z]+):(.*)", re.DOTALL)
TEXT_VALUES = {"UID", "SUMMARY", "DESCRIPTION"}
# A TEXT value: what need not be escaped, and the four escapes.
TEXT = re.compile(
    r"(?:[\x20\x21\x23-\x2b\x2d-\x3a\x3c-\x5b\x5d-\x7e\x09\x22\x80-\U0010ffff]"
    r"|\\[\\;,nN])*"
)
texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=200)


def unfolded(calendar: str) -> list[str]:
    """Content lines, after the rules for lines have been checked."""
    assert calendar.endswith("\r\n")
    lines = calendar.removesuffix("\r\n").split("\r\n")
    for line in lines:
        assert "\r" not in line
        assert "\n" not in line
        assert 1 <= len(line.encode()) <= 75
    return calendar.removesuffix("\r\n").replace("\r\n ", "").split("\r\n")


def events(calendar: str) -> list[dict[str, str]]:
    """Events of a calendar, after all rules have been checked."""
    pairs = []
    for line in unfolded(calendar):
        found = PROPERTY.fullmatch(line)
        assert found is not None, line
        pairs.append(found.groups())
    assert pairs[0] == ("BEGIN", "VCALENDAR")
    assert pairs[-1] == ("END", "VCALENDAR")
    head = pairs[1 : pairs.index(("BEGIN", "VEVENT"))]
    assert sorted(name for name, _ in head) == ["CALSCALE", "PRODID", "VERSION"]
    assert dict(head)["VERSION"] == "2.0"
    assert dict(head)["CALSCALE"] == "GREGORIAN"
    found_events: list[dict[str, str]] = []
    inside: list[tuple[str, str]] | None = None
    for name, value in pairs[1 + len(head) : -1]:
        if (name, value) == ("BEGIN", "VEVENT"):
            assert inside is None
            inside = []
        elif (name, value) == ("END", "VEVENT"):
            assert inside is not None
            found_events.append(checked(inside))
            inside = None
        else:
            assert inside is not None
            inside.append((name, value))
    assert inside is None
    return found_events


def checked(properties: list[tuple[str, str]]) -> dict[str, str]:
    event = dict(properties)
    assert len(event) == len(properties), "a property is given twice"
    assert {"UID", "DTSTAMP", "DTSTART"} <= set(event)
    assert UTC_TIME.fullmatch(event["DTSTAMP"])
    assert FLOATING.fullmatch(event["DTSTART"])
    if "DTEND" in event:
        assert FLOATING.fullmatch(event["DTEND"])
        assert event["DTEND"] > event["DTSTART"]
    for name in TEXT_VALUES & set(event):
        assert TEXT.fullmatch(event[name]), event[name]
    return event


def plain(value: str) -> str:
    """A TEXT value as it was before it was escaped."""
    return re.sub(
        r"\\([\\;,nN])",
        lambda found: "\n" if found[1] in "nN" else found[1],
        value,
    )


def kept(text: str) -> str:
    """What can be kept of a text: line ends as one, no other control characters."""
    one = text.replace("\r\n", "\n").replace("\r", "")
    return re.sub(r"[\x00-\x08\x0b-\x1f\x7f]", "", one)


def calendar_of(*timed: Timed, prefix: str = "job-1") -> str:
    return to_icalendar(timed, prefix, STAMP)


def test_a_whole_job() -> None:
    found = events(calendar_of(*TIMED))
    assert [each["UID"] for each in found] == [f"job-1-{step.key}" for step in STEPS]
    for event, timed in zip(found, TIMED, strict=True):
        assert event["DTSTART"] == timed.start.strftime("%Y%m%dT%H%M%S")
        assert event["DTEND"] == timed.end.strftime("%Y%m%dT%H%M%S")
        assert event["DTSTAMP"] == "20260301T063015Z"
        assert plain(event["SUMMARY"]).endswith(timed.step.title)
        for said in (timed.step.purpose, timed.step.check, broken_words(timed)):
            assert said in plain(event["DESCRIPTION"])
    assert found[0]["SUMMARY"].startswith("Done: ")
    late = [event for event in found if event["SUMMARY"].startswith("Late: ")]
    assert len(late) == sum(bool(each.broken) for each in TIMED) == 1


def test_times_windows_grits_and_coats_are_told() -> None:
    said = {
        timed.step.key: plain(event["DESCRIPTION"])
        for event, timed in zip(events(calendar_of(*TIMED)), TIMED, strict=True)
    }
    assert "Grit P80, P180" in said["filler"]
    assert "1 coat\n" in said["sealer"]
    assert "4 coats, 10 min flash between" in said["base_coat"]
    assert "Next from" in said["sealer"]
    assert "Next until" in said["sealer"]
    assert "Next until" not in said["surfacer"]


def test_a_parser_reads_the_same() -> None:
    calendar = icalendar.Calendar.from_ical(calendar_of(*TIMED))
    assert calendar["version"] == "2.0"
    read = calendar.walk("VEVENT")
    assert not any(part.errors for part in read)
    for part, timed in zip(read, TIMED, strict=True):
        assert part.decoded("dtstart") == timed.start
        assert part.decoded("dtend") == timed.end
        assert part.decoded("dtstart").tzinfo is None
        assert part.decoded("dtstamp") == STAMP
        assert timed.step.title in str(part["summary"])
        assert timed.step.check in str(part["description"])


@SOME
@given(texts, texts, texts)
def test_any_text_comes_through(title: str, purpose: str, prefix: str) -> None:
    step = replace(TIMED[1].step, title=title, purpose=purpose)
    timed = replace(TIMED[1], step=step)
    (event,) = events(calendar_of(timed, prefix=prefix))
    assert plain(event["SUMMARY"]) == kept(title)
    assert kept(purpose) in plain(event["DESCRIPTION"])
    assert plain(event["UID"]) == kept(f"{prefix}-{step.key}")


@SOME
@given(st.text(st.sampled_from("aé€\N{AUTOMOBILE}\\;,\n \t"), max_size=200))
def test_a_parser_unescapes_and_unfolds_it(title: str) -> None:
    timed = replace(TIMED[1], step=replace(TIMED[1].step, title=f"a{title}a"))
    (part,) = icalendar.Calendar.from_ical(calendar_of(timed)).walk("VEVENT")
    assert str(part["summary"]) == f"a{title}a"


@pytest.mark.parametrize("count", range(60, 80))
@pytest.mark.parametrize("character", ["a", "é", "€", "\N{AUTOMOBILE}"])
def test_folding_at_the_limit(count: int, character: str) -> None:
    title = "a" * count + character * 3
    timed = replace(TIMED[1], step=replace(TIMED[1].step, title=title))
    (event,) = events(calendar_of(timed))
    assert event["SUMMARY"] == title


def test_escapes_by_hand() -> None:
    """The example of RFC 5545, 3.3.11, and a backslash."""
    title = "Project XYZ Final Review\nConference Room - 3B; a\\b, c"
    timed = replace(TIMED[1], step=replace(TIMED[1].step, title=title))
    (event,) = events(calendar_of(timed))
    assert event["SUMMARY"] == (
        r"Project XYZ Final Review\nConference Room - 3B\; a\\b\, c"
    )


def test_a_step_without_length_has_no_end() -> None:
    timed = replace(TIMED[1], end=TIMED[1].start)
    (event,) = events(calendar_of(timed))
    assert "DTEND" not in event


def test_the_stamp_is_in_utc() -> None:
    east = STAMP.astimezone(timezone(timedelta(hours=5, minutes=30)))
    calendars = {
        to_icalendar(TIMED, "job", stamp)
        for stamp in (STAMP, east, STAMP.replace(tzinfo=None))
    }
    assert len(calendars) == 1


def test_a_year_of_three_digits() -> None:
    early = MORNING.replace(year=987)
    (event,) = events(calendar_of(replace(TIMED[1], start=early)))
    assert event["DTSTART"] == "09870302T080000"


def test_planned_again_the_events_stay_the_same_ones() -> None:
    again = schedule(STEPS, SHEET, MORNING + timedelta(days=1), 15.0)
    before, after = events(calendar_of(*TIMED)), events(calendar_of(*again))
    assert [each["UID"] for each in before] == [each["UID"] for each in after]


def test_two_jobs_of_one_name_share_no_event() -> None:
    """UIDs are unique over all jobs, and one job's stay (RFC 5545, 3.8.4.7)."""
    first = JobRequest(MORNING, "Door", panels=(("front_door", 1),))
    others = (
        replace(first, start=MORNING + timedelta(days=1)),
        replace(first, panels=(("rear_door", 1),)),
        replace(first, question=Question(colour="26 0 0")),
        replace(first, uid=str(UUID(int=7))),
        replace(first, uid=str(UUID(int=8))),
    )
    uids = [calendar_uid(each) for each in (first, *others)]
    assert len(set(uids)) == len(uids)
    # RFC 7986, 5.3: a UUID, which says nothing of the job.
    assert [str(UUID(each)) for each in uids] == uids
    events_of = [
        {each["UID"] for each in events(calendar_of(*TIMED, prefix=uid))}
        for uid in uids
    ]
    assert len(set.union(*events_of)) == len(TIMED) * len(uids)


def test_a_job_exported_again_keeps_its_events() -> None:
    job = JobRequest(MORNING, "Door", area_m2=1.0)
    again = replace(job, done=(("wash", MORNING),), air_c=15.0, humidity=0.7)
    assert calendar_uid(again) == calendar_uid(job)
    named = replace(job, uid=str(UUID(int=7)))
    moved = replace(named, name="Wing", start=MORNING + timedelta(days=3))
    assert calendar_uid(moved) == calendar_uid(named) == str(UUID(int=7))


@pytest.mark.parametrize(
    ("name", "days", "same"),
    [
        ("Door", 0.0, True),
        ("Door", 2.0, True),
        ("Door", -2.0, True),
        ("Door", 2.1, False),
        ("Door", -2.1, False),
        ("Wing", 0.0, False),
    ],
)
def test_a_template_gets_events_of_its_own(
    name: str, days: float, *, same: bool
) -> None:
    """A job of a day and a half put off by two days is the same one."""
    old, fresh = (str(UUID(int=n)) for n in (7, 8))
    job = JobRequest(MORNING, "Door", uid=old)
    start, length = MORNING + timedelta(days=days), timedelta(hours=36)
    assert uid_after(job, name, start, length, fresh) == (old if same else fresh)
    # Without a UUID the events follow from the job and have moved on already.
    assert uid_after(replace(job, uid=""), name, start, length, fresh) == ""


def test_nothing_to_put_in() -> None:
    with pytest.raises(JobError, match="plan the job first"):
        calendar_of()
