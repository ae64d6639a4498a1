"""The timer between coats: the sheet's flash at the panel's temperature."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.job.climate import climate_of
from shadecore.job.coat_timer import coat_timer
from shadecore.job.schedule import schedule
from shadecore.job.steps import Step, job_steps
from shadecore.products.sheet_file import demo_sheet

SOME = settings(deadline=None, derandomize=True, max_examples=100)
START = datetime.fromisoformat("2026-03-02T08:00")
SECONDS = st.integers(0, 7200).map(lambda count: timedelta(seconds=count))


def step_of(key: str) -> Step:
    steps = job_steps(
        demo_sheet(), 4, "", bare_metal=False, filler=False, flattest=False
    )
    return next(step for step in steps if step.key == key)


@pytest.mark.parametrize(
    ("panel_c", "minutes"), [(21.0, 10.0), (11.0, 20.0), (31.0, 5.0)]
)
def test_a_flash_doubles_with_ten_kelvin(panel_c: float, minutes: float) -> None:
    """The sheet's own rule of thumb, on its base coat's 10 min at 21 degrees C."""
    climate = climate_of(demo_sheet(), panel_c, "bake")
    timer = coat_timer(step_of("base_coat"), climate, [START])
    assert timer.next_at == START + timedelta(minutes=minutes)
    assert (timer.sprayed, timer.coats) == (1, 4)


def test_nothing_is_waited_for_before_the_first_and_after_the_last_coat() -> None:
    climate = climate_of(demo_sheet(), 21.0, "bake")
    step = step_of("clear_coat")
    assert coat_timer(step, climate, []).next_at is None
    assert coat_timer(step, climate, [START, START]).next_at is None


@SOME
@given(st.lists(SECONDS, min_size=2, max_size=4), st.floats(5.0, 40.0))
def test_what_a_flash_missed_is_what_was_not_waited(
    waits: list[timedelta], panel_c: float
) -> None:
    climate = climate_of(demo_sheet(), panel_c, "bake")
    step = step_of("base_coat")
    sprayed = [START + sum(waits[:n], timedelta()) for n in range(1, len(waits) + 1)]
    timer = coat_timer(step, climate, sprayed)
    assert timer.early >= timedelta()
    assert waits[-1] + timer.early >= timer.flash
    assert timer.early == timedelta() or waits[-1] + timer.early == timer.flash


@SOME
@given(st.floats(5.0, 40.0), st.integers(2, 6))
def test_the_timer_keeps_the_schedules_time(panel_c: float, coats: int) -> None:
    """Flashes of the timer are those the schedule leaves room for, to the minute."""
    sheet = demo_sheet()
    step = replace(step_of("base_coat"), coats=coats)
    (timed,) = schedule([step], sheet, START, panel_c)
    climate = climate_of(sheet, panel_c, "bake")
    flashes = (coats - 1) * coat_timer(step, climate, [START]).flash
    left = timed.end - timed.start - timedelta(minutes=step.work_min) - flashes
    assert timedelta(seconds=-1) < left < timedelta(minutes=1)
