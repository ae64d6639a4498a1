"""Times of a shop's own steps, whatever it changes."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.errors import JobError
from shadecore.job.own_steps import StepChange, changed_steps
from shadecore.job.schedule import Timed, schedule
from shadecore.job.step_places import FIRST
from shadecore.job.steps import USUAL_KEYS, Step, job_steps
from shadecore.job.trade_steps import trade_steps
from shadecore.products.sheet_file import demo_sheet
from shadecore.telling.window_words import broken_words

SOME = settings(deadline=None, derandomize=True, max_examples=150)
SHEET = demo_sheet()
PLAIN = job_steps(SHEET, 3, "Grey", bare_metal=False, filler=False, flattest=False)
# A sheet that leaves no time out, whatever comes after whatever.
TELLS_ALL = replace(
    SHEET,
    products=tuple(
        replace(
            each,
            windows=replace(
                each.windows,
                sand_after_h=2.0,
                bake_min=30.0,
                bake_c=60.0,
                air_cure_h=9.0,
            ),
        )
        for each in SHEET.products
    ),
)
MORNING = datetime(2026, 3, 2, 8, 0)  # noqa: DTZ001 - the shop's own time


def keys(steps: Sequence[Step]) -> list[str]:
    return [step.key for step in steps]


def changed(*changes: StepChange, steps: Sequence[Step] = PLAIN) -> tuple[Step, ...]:
    return changed_steps(steps, changes, SHEET)


def of(steps: Sequence[Step], key: str) -> Step:
    return next(step for step in steps if step.key == key)


def planned(*changes: StepChange) -> tuple[Timed, ...]:
    return schedule(changed(*changes), SHEET, MORNING, SHEET.reference_c)


def test_a_wait_of_the_steps_own_is_kept() -> None:
    timed = planned(StepChange("wash", wait_min=90))
    assert timed[0].next_from == timed[0].end + timedelta(minutes=90)
    assert timed[1].start == timed[0].next_from
    colder = schedule(
        changed(StepChange("wash", wait_min=90)), SHEET, MORNING, SHEET.reference_c - 10
    )
    assert colder[1].start == colder[0].end + timedelta(minutes=180)


def test_a_window_of_the_steps_own_is_told() -> None:
    change = StepChange("wash", within_h=1.0, wait_min=30)
    timed = planned(change)
    assert timed[0].next_until == timed[0].end + timedelta(hours=1)
    assert not timed[1].broken
    late = planned(replace(change, wait_min=90))
    assert " starts 30 min after the window of 'Wash with soap and water'" in (
        broken_words(late[1])
    )
    done = {"wash": MORNING, "solvent_wipe": MORNING + timedelta(minutes=20)}
    early = schedule(changed(change), SHEET, MORNING, 21.0, done=done)
    told = broken_words(early[1])
    assert "10 min or more before the wait after 'Wash with soap" in told


def test_a_step_that_is_half_done() -> None:
    steps = changed(StepChange("wash", work_min=60))
    whole = schedule(steps, SHEET, MORNING, SHEET.reference_c)
    half = schedule(steps, SHEET, MORNING, SHEET.reference_c, begun={"wash": 0.5})
    assert whole[0].end - half[0].end == timedelta(minutes=30)
    # Of three coats one is on: two are left, with one flash between them.
    base = {"base_coat": 1 / 3}
    left = schedule(PLAIN, SHEET, MORNING, SHEET.reference_c, begun=base)
    lasted = [
        next(each.end - each.start for each in timed if each.step.key == "base_coat")
        for timed in (schedule(PLAIN, SHEET, MORNING, SHEET.reference_c), left)
    ]
    flash = of(PLAIN, "base_coat").flash_min
    # Forty minutes to mix and spray, and two flashes.
    assert lasted[0] == timedelta(minutes=40 + 2 * flash)
    assert lasted[1] == timedelta(minutes=27 + flash)
    for share in (-0.1, 1.1, float("nan")):
        with pytest.raises(JobError, match="from 0 to 100 percent are done"):
            schedule(PLAIN, SHEET, MORNING, 21.0, begun={"wash": share})
    with pytest.raises(JobError, match="'x' is said to be begun but is not part"):
        schedule(PLAIN, SHEET, MORNING, 21.0, begun={"x": 0.5})


def test_what_the_sheet_does_not_tell_is_asked_for() -> None:
    """Without its clear the base coat would be cut, which no sheet gives times for."""
    with pytest.raises(
        JobError, match="its sheet does not say when; give sand_after_h"
    ):
        planned(StepChange("clear_coat", drop=True))


CHANGES = st.builds(
    StepChange,
    key=st.sampled_from([*USUAL_KEYS, *trade_steps(), "mine", "mask_2"]),
    drop=st.booleans(),
    after=st.none() | st.sampled_from([FIRST, *USUAL_KEYS, *trade_steps(), "nobody"]),
    title=st.just("Own"),
    work_min=st.none() | st.floats(0.0, 500.0),
    wait_min=st.none() | st.floats(0.0, 500.0),
    within_h=st.none() | st.floats(0.1, 50.0),
)


@SOME
@given(
    st.lists(CHANGES, max_size=12),
    st.floats(11.0, 35.0),
    st.dictionaries(st.sampled_from(keys(PLAIN)), st.floats(0.0, 1.0), max_size=4),
)
def test_whatever_a_shop_changes_its_steps_follow_each_other(
    changes: list[StepChange], panel_c: float, begun: dict[str, float]
) -> None:
    steps = changed(*changes)
    assert len({step.key for step in steps}) == len(steps)
    there = {key: share for key, share in begun.items() if key in keys(steps)}
    timed = schedule(steps, TELLS_ALL, MORNING, panel_c, begun=there)
    for before, after in pairwise(timed):
        assert before.start <= before.end <= before.next_from <= after.start
        waited = before.step.wait_min * 2 ** ((SHEET.reference_c - panel_c) / 10)
        assert after.start - before.end >= timedelta(minutes=waited)
        if before.step.within_h is not None and not after.broken:
            assert after.start - before.end <= timedelta(hours=before.step.within_h)
