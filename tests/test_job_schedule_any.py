"""What holds of any job's times, whatever its breaks, its weather and what is done."""

import math
from datetime import datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from schedules import (
    BAKE_MIN,
    COOL_MIN,
    FLASH_MIN,
    FULL,
    MINUTE,
    MORNING,
    REFERENCE_C,
    WINDOWS,
    nights,
    steps_of,
)

from shadecore.job.breaks import Break
from shadecore.job.schedule import Timed, schedule
from shadecore.job.steps import Step
from shadecore.products.sheet_file import demo_sheet
from shadecore.telling.window_words import broken_words

SOME = settings(deadline=None, derandomize=True, max_examples=150)
# Minutes from the end of one step to the start of the next at 70 F.
MINIMA = {
    ("solvent_wipe", "sand_for_surfacer"): 5,
    ("solvent_wipe", "filler"): 5,
    ("solvent_wipe_2", "etch_primer"): 5,
    ("solvent_wipe_2", "surfacer"): 5,
    ("solvent_wipe_3", "sealer"): 5,
    ("etch_primer", "surfacer"): 30,
    ("surfacer", "block_sand"): 120,
    ("sealer", "base_coat"): 10,
    ("base_coat", "clear_coat"): 20,
    ("clear_coat", "cure"): 5,
}
AIR_MIN = 24 * 60


def factor(panel_c: float) -> float:
    return float(2.0 ** ((REFERENCE_C - panel_c) / 10.0))


def minimum(before: str, after: str, panel_c: float, cure: str) -> float:
    """Minutes that must lie between two steps."""
    if before in ("clear_coat", "clear_coat_2") and after == "cut":
        flash = FLASH_MIN * factor(panel_c)
        return flash + (BAKE_MIN if cure == "bake" else AIR_MIN * factor(panel_c))
    if before == "cure":
        return COOL_MIN if cure == "bake" else 0.0
    return MINIMA.get((before, after), 0) * factor(panel_c)


def window(before: Timed, after: Timed, panel_c: float) -> timedelta | None:
    """Until when the later step must have started; warmth closes it sooner."""
    found = WINDOWS.get((before.step.key, after.step.key))
    return found and timedelta(hours=found[0] * min(factor(panel_c), 1.0))


breaks_of = st.lists(
    st.builds(
        lambda start, length: Break(
            MORNING + timedelta(minutes=start),
            MORNING + timedelta(minutes=start + length),
        ),
        st.integers(-600, 8000),
        st.integers(1, 2000),
    ),
    max_size=6,
).map(tuple)
panels_of = st.floats(5.0, 60.0)
cures = st.sampled_from(["bake", "air"])
jobs = st.builds(
    steps_of,
    st.integers(1, 6),
    bare_metal=st.booleans(),
    filler=st.booleans(),
    flattest=st.booleans(),
)


@st.composite
def done_of(draw: st.DrawFn, steps: tuple[Step, ...]) -> dict[str, datetime]:
    """Some first steps and when they were finished, at any pace."""
    gaps = draw(st.lists(st.integers(0, 2000), max_size=len(steps)))
    end, done = MORNING, {}
    for step, gap in zip(steps, gaps, strict=False):
        end += timedelta(minutes=gap)
        done[step.key] = end
    return done


# Invariants


@SOME
@given(jobs, panels_of, breaks_of, cures, st.data())
def test_no_step_starts_before_its_minimum(
    steps: tuple[Step, ...],
    panel_c: float,
    breaks: tuple[Break, ...],
    cure: str,
    data: st.DataObject,
) -> None:
    done = data.draw(done_of(steps))
    timed = schedule(steps, demo_sheet(), MORNING, panel_c, breaks, done, cure)
    for before, after in pairwise(timed):
        least = minimum(before.step.key, after.step.key, panel_c, cure)
        assert before.next_from >= before.end
        assert before.next_from >= before.end + timedelta(minutes=least - 1e-3)
        assert before.next_from < before.end + timedelta(minutes=least + 2)
        if not after.done:
            assert after.start >= before.next_from
            assert after.start >= MORNING


@SOME
@given(jobs, panels_of, breaks_of, cures, st.data())
def test_every_broken_window_is_reported_and_no_other(
    steps: tuple[Step, ...],
    panel_c: float,
    breaks: tuple[Break, ...],
    cure: str,
    data: st.DataObject,
) -> None:
    done = data.draw(done_of(steps))
    timed = schedule(steps, demo_sheet(), MORNING, panel_c, breaks, done, cure)
    assert not timed[0].broken
    for before, after in pairwise(timed):
        limit = window(before, after, panel_c)
        until = None if limit is None else before.end + limit
        assert (before.next_until is None) == (until is None)
        if until is not None and before.next_until is not None:
            assert until - MINUTE <= before.next_until <= until + MINUTE / 1e3
        late = before.next_until is not None and after.start > before.next_until
        words = WINDOWS.get((before.step.key, after.step.key), (0, "", 0))[1]
        assert ("closed" in broken_words(after)) == late
        if late:
            assert words in broken_words(after)
        if not after.done:
            assert bool(after.broken) == late


@SOME
@given(jobs, panels_of, st.data())
def test_done_before_its_minimum_is_reported(
    steps: tuple[Step, ...], panel_c: float, data: st.DataObject
) -> None:
    done = data.draw(done_of(steps))
    timed = schedule(steps, demo_sheet(), MORNING, panel_c, done=done)
    for before, after in pairwise(timed):
        least = minimum(before.step.key, after.step.key, panel_c, "bake")
        if least and after.done and after.end < before.next_from:
            assert "ready" in broken_words(after)


@SOME
@given(jobs, st.lists(st.tuples(panels_of, breaks_of, cures), min_size=2), st.data())
def test_planning_again_never_moves_what_is_done(
    steps: tuple[Step, ...],
    plans: list[tuple[float, tuple[Break, ...], str]],
    data: st.DataObject,
) -> None:
    done = data.draw(done_of(steps))
    seen = set()
    for panel_c, breaks, cure in plans:
        now = MORNING + data.draw(st.integers(0, 5000)) * MINUTE
        timed = schedule(steps, demo_sheet(), now, panel_c, breaks, done, cure)
        for each in timed:
            assert each.done == (each.step.key in done)
            if each.done:
                assert each.end == done[each.step.key]
        seen.add(tuple((each.start, each.end) for each in timed if each.done))
    assert len(seen) == 1


@SOME
@given(jobs, panels_of, breaks_of, cures)
def test_hands_on_work_never_lies_in_a_break(
    steps: tuple[Step, ...], panel_c: float, breaks: tuple[Break, ...], cure: str
) -> None:
    for each in schedule(steps, demo_sheet(), MORNING, panel_c, breaks, {}, cure):
        if each.step.key == "cure":
            continue
        assert free_minutes(each, breaks) >= math.ceil(each.step.work_min)
        for one in breaks:
            assert not one.start <= each.start < one.end
            assert not one.start < each.end <= one.end
        if each.step.coats:
            flashes = (each.step.coats - 1) * each.step.flash_min * factor(panel_c)
            begun = each.end - math.ceil(each.step.work_min + flashes - 1e-6) * MINUTE
            for one in breaks:
                assert each.end <= one.start or begun >= one.end


def free_minutes(timed: Timed, breaks: tuple[Break, ...]) -> int:
    """Minutes of a step that lie in no break, one by one."""
    length = int((timed.end - timed.start) / MINUTE)
    minutes = (timed.start + count * MINUTE for count in range(length))
    return sum(not any(b.start <= now < b.end for b in breaks) for now in minutes)


@SOME
@given(jobs, panels_of, breaks_of, cures, st.data())
def test_the_timeline_is_sorted(
    steps: tuple[Step, ...],
    panel_c: float,
    breaks: tuple[Break, ...],
    cure: str,
    data: st.DataObject,
) -> None:
    done = data.draw(done_of(steps))
    timed = schedule(steps, demo_sheet(), MORNING, panel_c, breaks, done, cure)
    assert tuple(each.step for each in timed) == steps
    for each in timed:
        assert each.start <= each.end
        assert each.start.second == each.start.microsecond == 0
    for before, after in pairwise(timed):
        assert before.end <= after.start


@SOME
@given(jobs, panels_of, panels_of, cures)
def test_a_colder_panel_never_finishes_earlier(
    steps: tuple[Step, ...], one: float, other: float, cure: str
) -> None:
    cold, warm = (
        schedule(steps, demo_sheet(), MORNING, panel_c, cure=cure)
        for panel_c in sorted((one, other))
    )
    for late, early in zip(cold, warm, strict=True):
        assert late.end >= early.end
        assert late.start >= early.start


@SOME
@given(jobs, panels_of, panels_of, breaks_of, cures)
def test_nor_with_breaks_where_no_window_is_broken(
    steps: tuple[Step, ...],
    one: float,
    other: float,
    breaks: tuple[Break, ...],
    cure: str,
) -> None:
    """A window that only the warm panel misses costs it time, rightly."""
    cold, warm = (
        schedule(steps, demo_sheet(), MORNING, panel_c, breaks, cure=cure)
        for panel_c in sorted((one, other))
    )
    if not any(each.broken for each in warm):
        for late, early in zip(cold, warm, strict=True):
            assert late.end >= early.end


@SOME
@given(jobs, cures)
def test_no_window_is_broken_without_breaks(steps: tuple[Step, ...], cure: str) -> None:
    timed = schedule(steps, demo_sheet(), MORNING, REFERENCE_C, cure=cure)
    assert not any(each.broken for each in timed)
    assert timed[0].start == MORNING


@SOME
@given(jobs, panels_of, breaks_of)
def test_breaks_in_any_order_and_cut_in_two(
    steps: tuple[Step, ...], panel_c: float, breaks: tuple[Break, ...]
) -> None:
    cut = [
        half
        for each in breaks
        for middle in [each.start + (each.end - each.start) / 2]
        for half in (Break(each.start, middle), Break(middle, each.end))
    ]
    whole = schedule(steps, demo_sheet(), MORNING, panel_c, breaks)
    assert schedule(steps, demo_sheet(), MORNING, panel_c, tuple(cut[::-1])) == whole


@pytest.mark.parametrize("key", [step.key for step in FULL])
def test_done_as_planned_leaves_the_rest_as_planned(key: str) -> None:
    plan = schedule(FULL, demo_sheet(), MORNING, 15.0, nights())
    done: dict[str, datetime] = {}
    for each in plan:
        done[each.step.key] = each.end
        if each.step.key == key:
            break
    again = schedule(FULL, demo_sheet(), MORNING, 15.0, nights(), done)
    assert again[len(done) :] == plan[len(done) :]
