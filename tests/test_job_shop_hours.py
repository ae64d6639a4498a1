"""The shop's hours: which breaks follow from them, and hours read off breaks."""

from datetime import date, datetime, time, timedelta

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from shadecore.errors import JobError
from shadecore.job.breaks import Break
from shadecore.job.hours import joined
from shadecore.job.shop_hours import (
    ShopHours,
    breaks_of,
    follow,
    hours_of,
    with_usual_breaks,
)

SOME = settings(deadline=None, derandomize=True, max_examples=100)
at = datetime.fromisoformat
LUNCH = Break(at("2026-03-04T12:00"), at("2026-03-04T12:30"))
NIGHT = Break(at("2026-03-04T17:00"), at("2026-03-05T07:00"))
CLOCKS = st.lists(st.times(), min_size=2, max_size=4, unique=True).map(sorted)


def hours_from(clocks: list[time]) -> ShopHours:
    """Hours of two to four times of a day; of three, the break is left out."""
    opens, *between, closes = clocks
    pause = (between[0], between[1]) if len(between) > 1 else None
    return ShopHours(opens, closes, pause)


def test_each_day_gets_its_night_and_keeps_what_it_had() -> None:
    filled = with_usual_breaks((LUNCH, NIGHT), date(2026, 3, 2), date(2026, 3, 6))
    assert filled[:2] == (LUNCH, NIGHT)
    nights = [each for each in joined(filled) if each != LUNCH]
    assert [each.start.day for each in nights] == [2, 3, 4, 5, 6]
    assert {each.start.hour for each in nights} == {17}
    assert {each.end - each.start for each in nights} == {timedelta(hours=14)}


def test_a_shop_that_works_at_night_stays_so() -> None:
    days = date(2026, 3, 2), date(2026, 3, 9)
    assert with_usual_breaks((LUNCH,), *days) == (LUNCH,)
    assert with_usual_breaks((), *days) == ()


def test_a_longer_night_is_not_laid_over() -> None:
    weekend = Break(at("2026-03-06T17:00"), at("2026-03-09T07:00"))
    filled = with_usual_breaks((NIGHT, weekend), date(2026, 3, 4), date(2026, 3, 9))
    assert [each.start.day for each in filled] == [4, 6, 5, 9]


def test_a_break_on_two_days_is_a_daily_one_and_comes_on_others() -> None:
    again = Break(LUNCH.start + timedelta(days=1), LUNCH.end + timedelta(days=1))
    filled = with_usual_breaks(
        (LUNCH, again, NIGHT), date(2026, 3, 3), date(2026, 3, 5)
    )
    lunches = [each.start.day for each in filled if each.start.hour == 12]
    assert lunches == [4, 5, 3]


@SOME
@given(CLOCKS, st.dates(date(1900, 1, 1), date(2200, 1, 1)), st.integers(1, 20))
def test_hours_come_back_from_their_breaks(
    clocks: list[time], first: date, days: int
) -> None:
    hours = hours_from(clocks)
    breaks = breaks_of(hours, first, first + timedelta(days=days))
    assert hours_of(reversed(breaks)) == hours
    assert follow(breaks, hours)


@SOME
@given(CLOCKS, st.datetimes(at("1900-01-01"), at("2200-01-01")))
def test_a_moment_lies_in_a_break_where_the_clock_says_so(
    clocks: list[time], moment: datetime
) -> None:
    hours = hours_from(clocks)
    day = timedelta(days=1)
    breaks = breaks_of(hours, (moment - day).date(), moment.date())
    off = any(each.start <= moment < each.end for each in breaks)
    clock = moment.time()
    pausing = hours.pause is not None and hours.pause[0] <= clock < hours.pause[1]
    assert off == (not hours.opens <= clock < hours.closes or pausing)


def test_a_weekend_is_no_night() -> None:
    weekend = Break(at("2026-03-06T17:00"), at("2026-03-09T07:00"))
    holiday = Break(at("2026-03-10T00:00"), at("2026-03-11T00:00"))
    assert hours_of((weekend, holiday)) is None
    assert hours_of((weekend, NIGHT)) == ShopHours(time(7), time(17))
    assert follow((NIGHT,), ShopHours(time(7), time(17)))
    assert not follow((NIGHT, weekend), ShopHours(time(7), time(17)))


@SOME
@given(st.times(), st.times())
def test_a_day_that_ends_before_it_begins_is_refused(one: time, other: time) -> None:
    assume(one >= other)
    with pytest.raises(JobError, match="not after it opens"):
        ShopHours(one, other)


@pytest.mark.parametrize(
    "pause",
    [
        (time(13), time(12)),
        (time(12), time(12)),
        (time(7), time(9)),
        (time(17), time(19)),
        (time(20), time(21)),
    ],
)
def test_a_break_outside_the_day_is_refused(pause: tuple[time, time]) -> None:
    with pytest.raises(JobError, match="daily break"):
        ShopHours(time(8), time(18), pause)
