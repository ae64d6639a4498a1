"""Weather over a job: drying by day and night, and what may not be sprayed when."""

from dataclasses import replace
from datetime import date, datetime, time, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.errors import JobError, ShadecoreError, TableError
from shadecore.job.breaks import Break
from shadecore.job.climate import Climate, Spell, climate_of
from shadecore.job.days import (
    DayWeather,
    answer_days,
    parse_days,
    spells_of,
    write_days,
)
from shadecore.job.schedule import schedule
from shadecore.job.shop_hours import ShopHours, breaks_of, hours_of, with_usual_breaks
from shadecore.job.steps import job_steps
from shadecore.job.weather import OutsideSheet
from shadecore.products.sheet_file import demo_sheet

SOME = settings(deadline=None, derandomize=True, max_examples=150)
SHEET = demo_sheet()
STEPS = job_steps(SHEET, 3, "Grey", bare_metal=True, filler=True, flattest=True)
HOURS = ShopHours(time(8), time(18))
MONDAY = date(2026, 3, 2)
MORNING = datetime.combine(MONDAY, time(8))
DAY = timedelta(days=1)
MINUTE = timedelta(minutes=1)


def day(count: int, panel_c: float = 21.0, night_c: float | None = None) -> DayWeather:
    return DayWeather(MONDAY + count * DAY, panel_c, panel_c, 50.0, night_c)


def at(hours: float) -> datetime:
    return MORNING + timedelta(hours=hours)


# Drying through spells


def test_drying_goes_on_through_spells_by_their_factors() -> None:
    """An hour at half speed and a stop: worked out by hand."""
    climate = Climate(1.0, "air", (Spell(at(1), at(2), 2.0), Spell(at(2), at(5), None)))
    for film_h, ready_h in ((0.5, 0.5), (1.0, 1.0), (1.25, 1.5), (1.5, 2.0), (2, 5.5)):
        assert climate.after(at(0), film_h * 60.0) == at(ready_h)
    # What begins in the stop waits for its end; what takes no time does not.
    assert climate.after(at(3), 30.0) == at(5.5)
    assert climate.after(at(3), 0.0) == at(3)
    # A window is not kept open by cold, nor by standing still.
    assert climate.at_most(at(0), 180.0) == at(3)
    warm = Climate(1.0, "air", (Spell(at(1), at(2), 0.5),))
    assert warm.at_most(at(0), 180.0) == at(2)
    assert climate.factor_at(at(1)) == 2.0
    assert climate.factor_at(at(3)) == climate.factor_at(at(9)) == 1.0


@SOME
@given(
    st.floats(0.1, 8.0),
    st.lists(st.tuples(st.floats(0.0, 9.0), st.floats(0.1, 9.0)), max_size=4),
    st.lists(st.none() | st.floats(0.1, 8.0), min_size=4, max_size=4),
    st.floats(0.0, 5000.0),
)
def test_drying_minute_by_minute(
    usual: float,
    times: list[tuple[float, float]],
    factors: list[float | None],
    film_min: float,
) -> None:
    """Against adding up what dries in each minute."""
    spells, start = [], at(0)
    for (gap, length), factor in zip(times, factors, strict=False):
        begin = start + round(gap * 60) * MINUTE
        start = begin + (round(length * 60) + 1) * MINUTE
        spells.append(Spell(begin, start, factor))
    climate = climate_of(SHEET, SHEET.reference_c, "air", tuple(spells[::-1]))
    climate = replace(climate, factor=usual)
    dried, now = 0.0, at(0)
    while dried < film_min - 1e-6:
        factor = next(
            (each.factor for each in spells if each.start <= now < each.end), usual
        )
        dried += 0.0 if factor is None else 1.0 / factor
        now += MINUTE
    assert abs(climate.after(at(0), film_min) - now) <= MINUTE


def test_spells_that_cannot_be() -> None:
    for wrong in (
        (Spell(at(1), at(1), 1.0),),
        (Spell(at(0), at(2), 1.0), Spell(at(1), at(3), 1.0)),
    ):
        with pytest.raises(JobError, match="ends before it starts or begins in other"):
            climate_of(SHEET, 21.0, "air", wrong)


# Days and nights


def test_a_cold_night_stops_drying_and_a_cool_one_slows_it() -> None:
    """The demo sheet may be sprayed from 10 degrees on; halving is 10 K."""
    spells = spells_of([day(0, 21.0, 5.0), day(1, 31.0, 11.0)], SHEET, HOURS)
    assert [each.factor for each in spells] == [1.0, None, 0.5, 2.0]
    assert [each.start for each in spells] == [at(0), at(10), at(24), at(34)]
    assert spells[-1].end == at(48)
    # A shop that is kept warm has no nights.
    assert [each.factor for each in spells_of([day(0)], SHEET, HOURS)] == [1.0]
    assert spells_of([day(0)], SHEET, None)[0].start == datetime.combine(MONDAY, time())


def test_surfacer_that_stands_in_the_cold_is_sanded_later() -> None:
    """Its two hours end an hour after the shop opens again, not over night."""
    late = job_steps(SHEET, 3, "", bare_metal=False, filler=False, flattest=False)
    surfacer = tuple(step for step in late if step.key in {"surfacer", "block_sand"})
    nights = breaks_of(HOURS, MONDAY, MONDAY + 3 * DAY)
    evening = at(8.25)
    ready = {}
    for night_c in (None, 5.0):
        spells = spells_of([day(n, 21.0, night_c) for n in range(3)], SHEET, HOURS)
        timed = schedule(surfacer, SHEET, evening, 21.0, nights, spells=spells)
        assert timed[0].end < at(10)
        ready[night_c] = timed[0].next_from
    dried_by_evening = at(10) - (ready[None] - timedelta(hours=2))
    assert ready[5.0] == at(24) + timedelta(hours=2) - dried_by_evening


def test_the_day_of_a_coat_decides_on_it() -> None:
    steps = tuple(step for step in STEPS if step.key == "base_coat")
    days = [day(0, 21.0), day(1, 5.0)]
    for start, barred in ((at(0), [True, False]), (at(24), [False, True])):
        timed = schedule(steps, SHEET, start, 21.0)
        answers = answer_days(timed, days, SHEET)
        assert [bool(each.steps) for each in answers] == barred
        assert [each.barred for each in answers] == [False, barred[1]]
    assert answers[1].steps == ("base_coat",)
    assert OutsideSheet("air", 5.0, SHEET.coldest_c, SHEET.warmest_c) in (
        answers[1].answer.stops
    )
    done = schedule(steps, SHEET, at(24), 21.0, done={"base_coat": at(25)})
    assert not any(each.barred for each in answer_days(done, days, SHEET))


# Weekends


def test_weekends_and_holidays() -> None:
    tuesday = MONDAY + DAY
    hours = replace(HOURS, closed=frozenset({5, 6}), holidays=frozenset({tuesday}))
    breaks = breaks_of(hours, MONDAY, MONDAY + 13 * DAY)
    timed = schedule(STEPS, SHEET, MORNING, 21.0, breaks)
    worked = {
        moment.date()
        for each in timed
        for moment in (each.start, each.end)
        if each.step.work_min
    }
    assert MONDAY in worked
    assert tuesday not in worked
    assert not {d for d in worked if d.weekday() in {5, 6}}


@pytest.mark.parametrize("closed", [{5, 6}, {6}, set()])
def test_days_off_are_read_off_the_breaks(closed: set[int]) -> None:
    holiday = MONDAY + 2 * DAY
    hours = replace(HOURS, closed=frozenset(closed), holidays=frozenset({holiday}))
    breaks = breaks_of(hours, MONDAY, MONDAY + 6 * DAY)
    assert hours_of(breaks) == hours
    # The week after has its weekend, but the holiday only once.
    longer = with_usual_breaks(breaks, MONDAY, MONDAY + 13 * DAY)
    assert set(longer) == set(breaks_of(hours, MONDAY, MONDAY + 13 * DAY))


def test_a_shop_that_is_never_open_is_none() -> None:
    with pytest.raises(JobError, match="open on one day of the week at least"):
        ShopHours(time(8), time(18), closed=frozenset(range(7)))
    with pytest.raises(JobError, match="open on one day of the week at least"):
        ShopHours(time(8), time(18), closed=frozenset({7}))


# Invariants


WEATHERS = st.lists(
    st.tuples(st.floats(11.0, 35.0), st.none() | st.floats(-5.0, 25.0)),
    max_size=14,
)


@SOME
@given(
    WEATHERS,
    st.sets(st.integers(0, 6), max_size=4),
    st.floats(11.0, 35.0),
    st.sampled_from(["bake", "air"]),
)
def test_nothing_is_done_before_its_time_in_any_weather(
    weathers: list[tuple[float, float | None]],
    closed: set[int],
    panel_c: float,
    cure: str,
) -> None:
    days = [day(n, c, night) for n, (c, night) in enumerate(weathers)]
    hours = replace(HOURS, closed=frozenset(closed))
    breaks = breaks_of(hours, MONDAY, MONDAY + 60 * DAY)
    spells = spells_of(days, SHEET, hours)
    timed = schedule(STEPS, SHEET, MORNING, panel_c, breaks, {}, cure, spells=spells)
    climate = climate_of(SHEET, panel_c, cure, spells)
    for before, after in pairwise(timed):
        assert before.start <= before.end <= before.next_from <= after.start
        if (before.step.key, after.step.key) == ("surfacer", "block_sand"):
            # The demo sheet's two hours, by whatever the weather makes of them.
            assert after.start >= climate.after(before.end, 120.0)
    for each in timed:
        if each.step.coats:
            assert not any(_meets(each.start, each.end, one) for one in breaks)


def _meets(start: datetime, end: datetime, one: Break) -> bool:
    return start < one.end and one.start < end


# Forecasts


@SOME
@given(
    st.lists(
        st.builds(
            DayWeather,
            st.dates(date(2020, 1, 1), date(2030, 1, 1)),
            st.floats(-20.0, 60.0),
            st.floats(-20.0, 90.0),
            st.floats(1.0, 100.0),
            st.none() | st.floats(-20.0, 60.0),
        ),
        max_size=6,
        unique_by=lambda each: each.day,
    )
)
def test_a_forecast_is_read_back_as_it_was(days: list[DayWeather]) -> None:
    ordered = tuple(sorted(days, key=lambda each: each.day))
    assert parse_days(write_days(days), "x") == ordered


def test_a_short_forecast() -> None:
    text = "date;air_c;humidity_percent\n2026-03-03;15,5;60\n2026-03-02;14;70\n"
    assert parse_days(text, "x") == (
        DayWeather(date(2026, 3, 2), 14.0, 14.0, 70.0),
        DayWeather(date(2026, 3, 3), 15.5, 15.5, 60.0),
    )


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("tomorrow,20,50", "line 2: the date 'tomorrow' is none; write it like 2026"),
        ("9999-12-31,20,50", "line 2: There is no day beside 9999-12-31; correct"),
        ("2026-03-02,200,50", "line 2: The air temperature must be from -20 to 60"),
        ("2026-03-02,20,0.5", "humidity must be from 1 to 100 percent"),
        ("2026-03-02,,50", "column 'air_c' is empty"),
        ("2026-03-02,20,50\n2026-03-02,21,50", "2026-03-02 is given twice; keep one"),
    ],
)
def test_a_forecast_that_cannot_be_used(row: str, said: str) -> None:
    with pytest.raises(JobError) as caught:
        parse_days(f"date,air_c,humidity_percent\n{row}\n", "x")
    assert said in str(caught.value)


def test_a_forecast_of_too_many_days_or_none() -> None:
    rows = "\n".join(f"{MONDAY + n * DAY},20,50" for n in range(401))
    with pytest.raises(JobError, match="more than 400 days"):
        parse_days(f"date,air_c,humidity_percent\n{rows}\n", "x")
    with pytest.raises(TableError, match="date, air_c, humidity_percent"):
        parse_days("", "x")


def test_frost_stops_the_film_where_nobody_told_the_hours() -> None:
    """At the usual hours, 08:00 to 18:00, the night is fourteen hours long."""
    days = [day(n, 21.0, -4.0) for n in range(4)]
    climate = Climate(1.0, "air", spells_of(days, SHEET, None))
    # From 08:00 on 24 h of drying: ten on each of two days, and four on the third.
    assert climate.after(at(0), 24.0 * 60.0) == at(48 + 4)


@pytest.mark.parametrize("column", ["night", "Night C", "night_temp", "panel"])
def test_a_column_that_is_meant_but_misnamed_is_refused(column: str) -> None:
    head = f"date,air_c,humidity_percent,{column}"
    with pytest.raises(ShadecoreError, match=r"call it (night_c|panel_c)"):
        parse_days(f"{head}\n2026-12-01,20,50,-4\n", "frost.csv")
    told = parse_days("date,air_c,humidity_percent,wind\n2026-12-01,20,50,3\n", "a")
    assert told[0].night_c is None
