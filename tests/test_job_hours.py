"""Nights that a job runs into when it is done at another time than planned."""

from datetime import date, datetime, timedelta

from shadecore.job.hours import joined, with_nights
from shadecore.job.request import Break

at = datetime.fromisoformat
LUNCH = Break(at("2026-03-04T12:00"), at("2026-03-04T12:30"))
NIGHT = Break(at("2026-03-04T17:00"), at("2026-03-05T07:00"))


def test_each_day_gets_its_night_and_keeps_what_it_had() -> None:
    filled = with_nights((LUNCH, NIGHT), date(2026, 3, 2), date(2026, 3, 6))
    assert filled[:2] == (LUNCH, NIGHT)
    nights = [each for each in joined(filled) if each != LUNCH]
    assert [each.start.day for each in nights] == [2, 3, 4, 5, 6]
    assert {each.start.hour for each in nights} == {17}
    assert {each.end - each.start for each in nights} == {timedelta(hours=14)}


def test_a_shop_that_works_at_night_stays_so() -> None:
    assert with_nights((LUNCH,), date(2026, 3, 2), date(2026, 3, 9)) == (LUNCH,)
    assert with_nights((), date(2026, 3, 2), date(2026, 3, 9)) == ()


def test_a_longer_night_is_not_laid_over() -> None:
    weekend = Break(at("2026-03-06T17:00"), at("2026-03-09T07:00"))
    filled = with_nights((NIGHT, weekend), date(2026, 3, 4), date(2026, 3, 9))
    assert [each.start.day for each in filled] == [4, 6, 5, 9]
