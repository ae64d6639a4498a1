"""A job's times with its nights, weekends, weather by day, and coats that wait.

The sealer's window of 8 hours and the clear coat's times are the demo sheet's.
"""

from dataclasses import replace
from datetime import date, datetime, time, timedelta
from functools import cache
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.coats.answer import Answer
from shadecore.errors import JobError
from shadecore.job.breaks import Break
from shadecore.job.days import DayWeather
from shadecore.job.details import Details
from shadecore.job.kinds import MASKED
from shadecore.job.own_steps import StepChange
from shadecore.job.plan import Plan, plan_job, timeline_from
from shadecore.job.request import JobRequest
from shadecore.job.schedule import Timed
from shadecore.job.shop_hours import ShopHours, breaks_of, hours_of, with_days_off
from shadecore.job.step_sets import step_sets
from shadecore.job.trade_steps import trade_steps
from shadecore.job.usual_steps import USUAL
from shadecore.pages.booth_sheet import booth_sheet
from shadecore.pages.text_layout import document_text
from shadecore.products.sheet_file import demo_sheet
from shadecore.question.answer import answer
from shadecore.question.question import Question
from shadecore.telling.day_words import day_notes
from shadecore.telling.weather_words import plan_stops
from shadecore.telling.window_words import broken_words

SOME = settings(deadline=None, derandomize=True, max_examples=60)
MONDAY = date(2026, 3, 2)
DAY = timedelta(days=1)
MORNING = datetime.combine(MONDAY, time(8))
HOURS = ShopHours(time(8), time(18), (time(12), time(12, 30)))
NIGHTS = breaks_of(HOURS, MONDAY, MONDAY + DAY)
SHEET = demo_sheet()


@cache
def picked() -> Answer:
    return answer(Question())


def plan(details: Details = Details(), **asked: object) -> Plan:  # noqa: B008 - frozen
    told = {"area_m2": 1.0, "breaks": NIGHTS, **asked}
    request = JobRequest(MORNING, details=details, **told)  # type: ignore[arg-type]
    return plan_job(request, SHEET, picked())


def of(found: Plan, key: str) -> Timed:
    return next(each for each in found.timeline if each.step.key == key)


def test_the_shops_nights_go_on_for_as_long_as_the_job() -> None:
    # Two nights are told, and the job takes a month.
    long = tuple(StepChange(f"n{n}", title=f"N {n}", work_min=480.0) for n in range(25))
    found = plan(Details(changes=long))
    assert found.timeline[-1].end.date() > MONDAY + 20 * DAY
    for each in found.timeline:
        # A bake that was begun in time runs on by itself.
        ends = () if each.step.key == "cure" else (each.end,)
        for moment in (each.start, *ends):
            assert time(8) <= moment.time() <= time(18)


def test_weekends_and_holidays_are_put_into_the_breaks() -> None:
    holiday = MONDAY + 2 * DAY
    breaks = with_days_off(NIGHTS, MONDAY, {5, 6}, [holiday])
    hours = hours_of(breaks)
    assert hours == replace(HOURS, closed=frozenset({5, 6}), holidays={holiday})
    long = tuple(StepChange(f"n{n}", title=f"N {n}", work_min=480.0) for n in range(25))
    found = plan(Details(changes=long), breaks=breaks)
    starts = {each.start.date() for each in found.timeline}
    assert holiday not in starts
    assert not {day for day in starts if day.weekday() in {5, 6}}
    # A break that follows no hours stays, and no hours at all become the usual ones.
    dentist = Break(MORNING + timedelta(hours=1), MORNING + timedelta(hours=2))
    assert dentist in with_days_off((dentist, *NIGHTS), MONDAY, {6}, [])
    usual = hours_of(with_days_off((), MONDAY, {6}, []))
    assert usual == ShopHours(time(8), time(18), closed=frozenset({6}))


def test_sealer_waits_for_the_morning_rather_than_lie_over_night() -> None:
    late = Details(changes=(StepChange("wash", work_min=165.0),))
    found = plan(late)
    sealer, base = of(found, "sealer"), of(found, "base_coat")
    assert sealer.start.date() == base.start.date() == MONDAY + DAY
    assert not any(each.broken for each in found.timeline)
    # What is done stays; what it misses is told.
    before = [each for each in found.timeline if each.end <= sealer.start][:-1]
    done = [(each.step.key, each.end) for each in before]
    evening = datetime.combine(MONDAY, time(17, 30))
    keys = [each.step.key for each in found.timeline]
    done += [(key, evening) for key in keys[len(done) : keys.index("base_coat")]]
    sealed = plan(late, done=tuple(done))
    assert "scuff" in broken_words(of(sealed, "base_coat"))


def test_work_longer_than_a_day_is_left_for_the_night() -> None:
    found = plan(Details(changes=(StepChange("polish", work_min=900.0),)))
    polish = of(found, "polish")
    assert polish.end - polish.start < 3 * DAY
    wide = plan(area_m2=60.0)
    assert wide.timeline[-1].end < MORNING + 60 * DAY
    assert HOURS.longest_min == 5.5 * 60


# Weather by day


def test_grades_follow_the_day_and_their_ratio_stays() -> None:
    cold = DayWeather(MONDAY, 16.0, 16.0, 50.0)
    # Without masking all of it is sprayed on one day.
    open_wide = tuple(StepChange(key, drop=True) for key in MASKED)
    usual = plan(Details(changes=open_wide))
    found = plan(Details(changes=open_wide, days=(cold,)))
    (day,) = found.days
    changed = {(each.product.kind, each.part): each.name for each in day.changed}
    # The demo sheet's fast reducers are for 10 to 18 degrees.
    assert changed["sealer", "reducer"] == "Fast reducer"
    assert changed["base_coat", "reducer"] == "Fast base reducer"
    sealer = next(each for each in found.materials if each.product.kind == "sealer")
    assert sealer.reducer == "Fast reducer"
    for one, other in zip(found.materials, usual.materials, strict=True):
        assert [each.volume_l for each in one.portions] == [
            each.volume_l for each in other.portions
        ]
    (note,) = day_notes(found)
    assert note.startswith("Mon 02 Mar at 16 °C, to settle by Sun 01 Mar: ")
    assert "takes Fast reducer instead of Medium reducer; the ratio stays" in note
    mild = DayWeather(MONDAY, 21, 21, 50)
    assert day_notes(plan(Details(changes=open_wide, days=(mild,)))) == ()


def test_each_day_bars_what_is_sprayed_on_it_and_no_more() -> None:
    # 5 degrees is colder than the sheet sprays at; the job as a whole is told 21.
    cold = DayWeather(MONDAY + DAY, 5.0, 5.0, 50.0)
    late = Details(changes=(StepChange("wash", work_min=240.0),), days=(cold,))
    found = plan(late)
    assert "sealer" in found.barred
    assert "surfacer" not in found.barred
    # Said once, with its day and with what is not to be sprayed on it.
    (stop,) = plan_stops(found)
    assert stop.startswith("On Tue 03 Mar (")
    assert "the sheet allows" in stop
    sheet = document_text(booth_sheet(found)).lower()
    said = "and the sheet allows"
    assert " ".join(sheet.split()).count(said) == stop.count(said)
    # Told the other way round: a cold shop today, and a warm day for all of it.
    warm = DayWeather(MONDAY, 21.0, 21.0, 50.0)
    assert plan(air_c=5.0, panel_c=5.0).barred
    short = plan(Details(days=(warm, replace(warm, day=MONDAY + DAY))), air_c=5.0)
    assert not short.barred
    assert short.stops == ()


# Invariants


KEYS = (*USUAL, *trade_steps())
CHANGES = st.lists(
    st.one_of(
        st.builds(StepChange, st.sampled_from(KEYS)),
        st.builds(
            StepChange,
            st.sampled_from(["guide_coat", "mask"]),
            drop=st.just(value=True),
        ),
        st.builds(
            StepChange,
            st.sampled_from(["surfacer_2", "long_board", "stone_chip"]),
            panels=st.sampled_from([("left_front_door",), ("hood", "front_door"), ()]),
        ),
        st.builds(StepChange, st.just("sealer"), drop=st.just(value=True)),
        st.builds(
            StepChange,
            st.sampled_from(["own_1", "own_2", "wash"]),
            title=st.just("Own"),
            after=st.sampled_from(["", *KEYS]),
            work_min=st.floats(0.0, 700.0),
            wait_min=st.floats(0.0, 3000.0),
        ),
    ),
    max_size=6,
).map(tuple)
WEATHERS = st.lists(
    st.tuples(st.floats(11.0, 35.0), st.none() | st.floats(-5.0, 25.0)), max_size=7
)


@SOME
@given(
    CHANGES,
    st.sampled_from(["", *sorted(set(step_sets()) - {"two_tone"})]),
    st.sets(st.integers(0, 6), max_size=4),
    WEATHERS,
    st.floats(0.0, 1.0),
    st.sampled_from(["bake", "air", "lamp"]),
    st.floats(0.0, 40.0),
    st.sampled_from([0.0, 4.0, 25.0]),
)
def test_whatever_is_said_of_a_job_its_steps_follow_each_other(  # noqa: PLR0913, PLR0917
    changes: tuple[StepChange, ...],
    kind: str,
    closed: set[int],
    weathers: list[tuple[float, float | None]],
    share: float,
    cure: str,
    hours: float,
    clearance_min: float,
) -> None:
    open_hours = replace(HOURS, closed=frozenset(closed))
    days = tuple(
        DayWeather(MONDAY + n * DAY, air_c, air_c, 50.0, night_c)
        for n, (air_c, night_c) in enumerate(weathers)
    )
    details = Details(changes=changes, days=days, begun=(("wash", share),))
    found = plan(
        details,
        kind=kind or "panels",
        cure=cure,
        panels=(("front_door", 2), ("hood", 1)),
        booth_clearance_min=clearance_min,
        breaks=breaks_of(open_hours, MONDAY, MONDAY + 13 * DAY),
    )
    _check(found.timeline, open_hours)
    _check_air(found.timeline, clearance_min or 30.0)
    again = timeline_from(found, MORNING + timedelta(hours=hours))
    _check(again, open_hours)
    assert [e.step.key for e in again] == [e.step.key for e in found.timeline]
    assert all(each.start >= MORNING + timedelta(hours=hours) for each in again)


def _check_air(timeline: tuple[Timed, ...], clearance_min: float) -> None:
    """Nobody at work breathes the air of a booth that has not cleared."""
    clear_at = MORNING
    for each in timeline:
        unmanned = each.step.key.startswith("cure")
        if each.start < clear_at and not unmanned:
            assert each.air_until is not None
            assert each.air_until >= clear_at
        if each.step.coats and "isocyanate" in each.step.cautions:
            clear_at = each.end + timedelta(minutes=clearance_min)


def _check(timeline: tuple[Timed, ...], hours: ShopHours) -> None:
    for before, after in pairwise(timeline):
        assert before.start <= before.end <= before.next_from <= after.start
    for each in timeline:
        # Beyond the fortnight that is told only weekends are known to be off.
        told = each.start.date() < MONDAY + 14 * DAY
        working = hours.works_on(each.start.date()) or not each.step.work_min
        assert working or not told
        # A coat is not left half sprayed where a day is long enough for it.
        if each.step.coats and not each.broken:
            assert each.start.date() == each.end.date()


def test_days_that_a_forecast_lacks_are_named() -> None:
    """Also where a whole forecast is of another year."""
    for year in (2025, 2027):
        other = DayWeather(MONDAY.replace(year=year), 21.0, 21.0, 50.0)
        notes = day_notes(plan(Details(days=(other,))))
        assert any("No weather is told for Mon 02 Mar 2026" in each for each in notes)
    assert not any("No weather" in each for each in day_notes(plan()))


@pytest.mark.parametrize("cure", ["bake", "lamp", "air"])
def test_how_the_clear_cures(cure: str) -> None:
    found = plan(cure=cure, breaks=())
    clear, cut = of(found, "clear_coat"), of(found, "cut")
    waited = (cut.start - clear.end).total_seconds() / 60.0
    # Clean the gun 15, then: warm up 15, bake 30 and cool 30 (or 12 under the lamp and
    # cool 30), and unmask in that half hour; or unmask 20 and a day in air. The demo
    # sheet's times, and rules of thumb around them.
    assert waited == {"bake": 90.0, "lamp": 57.0, "air": 35.0 + 24.0 * 60.0}[cure]


def test_a_job_at_the_end_of_the_calendar() -> None:
    late = JobRequest(datetime.fromisoformat("9999-12-31T08:00"), area_m2=1.0)
    with pytest.raises(JobError, match="beyond the calendar"):
        plan_job(late, SHEET, picked())
