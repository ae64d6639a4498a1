"""What is wrong with a day is said the working day before."""

from datetime import date, datetime, time, timedelta

import pytest

from shadecore.job.breaks import Break
from shadecore.job.calendar import calendar_uid
from shadecore.job.days import DayWeather
from shadecore.job.details import Details
from shadecore.job.eve import eve_of
from shadecore.job.own_steps import StepChange
from shadecore.job.plan import Plan
from shadecore.job.planned import planned
from shadecore.job.request import JobRequest
from shadecore.job.shop_hours import ShopHours, breaks_of
from shadecore.pages.calendar import to_icalendar
from shadecore.products.sheet_file import demo_sheet
from shadecore.question.question import Question
from shadecore.telling.eve_words import eve_words, eves

THURSDAY = date(2026, 3, 5)
DAY = timedelta(days=1)
MONDAY = THURSDAY + 4 * DAY
WEEK = ShopHours(time(8), time(18), closed=frozenset({5, 6}))
BREAKS = breaks_of(WEEK, THURSDAY - 7 * DAY, MONDAY + 7 * DAY)
LONG = StepChange("wash", work_min=500.0)
"""So long that all is sprayed on the next working day."""


def plan(
    weather: DayWeather | None, start: date = THURSDAY, *changes: StepChange
) -> Plan:
    days = () if weather is None else (weather,)
    request = JobRequest(
        datetime.combine(start, time(8)),
        question=Question("45 60 35"),
        area_m2=1.0,
        breaks=BREAKS,
        details=Details(days=days, changes=(LONG, *changes)),
    )
    return planned(request, demo_sheet())


@pytest.mark.parametrize(
    ("air_c", "panel_c", "humidity", "said"),
    [
        (5.0, 5.0, 50.0, "DO NOT SPRAY"),
        (21.0, 21.0, 95.0, "DO NOT SPRAY"),
        (16.0, 16.0, 50.0, "takes Fast"),
        (21.0, 21.0, 50.0, ""),
    ],
)
def test_the_weather_of_a_monday_is_said_on_friday(
    air_c: float, panel_c: float, humidity: float, said: str
) -> None:
    """Cold, humid, cool and fine, by the demo sheet's limits."""
    weather = DayWeather(MONDAY, air_c, panel_c, humidity)
    friday = MONDAY - 3 * DAY
    found = plan(weather, friday)
    for today in (friday, friday + DAY, MONDAY - DAY):
        told = eve_words(found, today)
        assert bool(told) == bool(said)
        assert said in " ".join(told)
    # Neither earlier nor at the gun.
    assert eve_words(found, friday - DAY) == eve_words(found, MONDAY) == ()


def test_a_window_that_is_missed_is_said_the_day_before() -> None:
    """A step of 9 hours lies between sealer and colour, which are 8 apart at most."""
    between = StepChange(
        "wait_for_it", title="Wait", after="sealer", wait_min=540.0, work_min=1.0
    )
    found = plan(None, THURSDAY, between)
    late = next(each for each in found.timeline if each.step.key == "base_coat")
    assert late.broken
    eve = eve_of(late.start.date(), BREAKS)
    assert any("Base coat starts" in each for each in eve_words(found, eve))


def test_it_is_an_event_of_the_day_before() -> None:
    friday = MONDAY - 3 * DAY
    found = plan(DayWeather(MONDAY, 5.0, 5.0, 50.0), friday)
    uid = calendar_uid(found.request)
    calendar = to_icalendar(
        found.timeline, uid, found.request.start, (), None, eves(found)
    )
    events = calendar.replace("\r\n ", "").split("BEGIN:VEVENT")
    (event,) = [each for each in events if "To settle" in each]
    assert "DTSTART;VALUE=DATE:20260306\r\n" in event
    assert "SUMMARY:To settle for Mon 09 Mar" in event
    assert "DO NOT SPRAY" in event
    uids = [line for line in calendar.split("\r\n") if line.startswith("UID:")]
    assert len(set(uids)) == len(uids)


def test_the_day_before() -> None:
    assert eve_of(MONDAY, BREAKS) == MONDAY - 3 * DAY
    assert eve_of(THURSDAY, BREAKS) == THURSDAY - DAY
    assert eve_of(MONDAY, ()) == MONDAY - DAY
    evening = datetime.combine(MONDAY, time(18))
    night = Break(evening, evening + timedelta(hours=14))
    assert eve_of(MONDAY, (night,)) == MONDAY - DAY
