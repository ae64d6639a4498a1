"""Kinds of job as sets of steps; what they hold: common practice, no source."""

from datetime import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.errors import JobError
from shadecore.job.fade import coats_at, fade, zones
from shadecore.job.own_steps import StepChange, changed_steps
from shadecore.job.schedule import schedule
from shadecore.job.step_sets import step_sets
from shadecore.job.steps import Step, job_steps
from shadecore.products.sheet_file import demo_sheet

SOME = settings(deadline=None, derandomize=True, max_examples=100)
SHEET = demo_sheet()
MORNING = datetime(2026, 3, 2, 8, 0)  # noqa: DTZ001 - the shop's own time


def steps_of(key: str, *, full: bool = False) -> tuple[Step, ...]:
    usual = job_steps(SHEET, 3, "", bare_metal=full, filler=full, flattest=full)
    return changed_steps(usual, step_sets()[key].changes, SHEET)


def keys(steps: tuple[Step, ...]) -> list[str]:
    return [step.key for step in steps]


@pytest.mark.parametrize("key", list(step_sets()))
@pytest.mark.parametrize("full", [False, True])
def test_each_set_can_be_planned(key: str, full: bool) -> None:  # noqa: FBT001
    steps = steps_of(key, full=full)
    timed = schedule(steps, SHEET, MORNING, SHEET.reference_c)
    assert not [each.broken for each in timed if each.broken]
    assert step_sets()[key].source == "common practice, no source"
    for step in steps:
        assert step.title
        assert step.purpose.endswith(".")
        assert step.check.endswith(".")


def test_clear_only_has_no_colour() -> None:
    sprayed = [step.key for step in steps_of("re_clear") if step.coats]
    assert sprayed == ["clear_coat"]
    assert next(s for s in steps_of("re_clear") if s.key == "block_sand").grit == 800


def test_edges_come_before_the_outsides() -> None:
    found = keys(steps_of("edges_first"))
    order = ("sealer_9", "base_coat_9", "clear_coat_9", "refit_9", "mask_9", "sealer")
    places = [found.index(key) for key in (*order, "base_coat", "clear_coat")]
    assert places == sorted(places)


def test_the_second_colour_goes_over_tape_that_the_first_bears() -> None:
    steps = steps_of("two_tone")
    found = keys(steps)
    order = (
        "base_coat",
        "tape_test",
        "mask_2",
        "base_coat_2",
        "unmask_2",
        "clear_coat",
    )
    places = [found.index(key) for key in order]
    assert places == list(range(places[0], places[0] + len(order)))
    timed = schedule(steps, SHEET, MORNING, SHEET.reference_c)
    first, clear = (timed[found.index(key)] for key in ("base_coat", "clear_coat"))
    # The first colour stays in its window for clear.
    within_h = SHEET.of_kind("base_coat").windows.recoat_within_h
    assert within_h is not None
    assert (clear.start - first.end).total_seconds() <= within_h * 3600.0


def test_a_usual_step_once_more() -> None:
    usual = job_steps(SHEET, 3, "", bare_metal=False, filler=False, flattest=False)
    steps = changed_steps(usual, [StepChange("sealer_5")], SHEET)
    place = keys(steps).index("sealer_5")
    assert keys(steps)[place - 1] == "sealer"
    assert steps[place].coats == SHEET.of_kind("sealer").coats


# How far the coats reach


def test_each_coat_reaches_past_the_last() -> None:
    """Three coats of base and two of clear in steps of ten centimetres."""
    coats = fade(3, 2, sealer_cm=5.0)
    assert [(each.kind, each.reach_cm) for each in coats] == [
        ("sealer", 5.0),
        ("base_coat", 15.0),
        ("base_coat", 25.0),
        ("base_coat", 35.0),
        ("clear_coat", 45.0),
        ("clear_coat", 55.0),
    ]
    assert zones(coats) == (
        (5.0, True, 3),
        (15.0, False, 3),
        (25.0, False, 2),
        (35.0, False, 1),
    )
    assert coats_at(coats, "base_coat", -3.0) == 3
    assert coats_at(coats, "base_coat", 35.0) == 0
    assert coats_at(coats, "clear_coat", 40.0) == 2


@SOME
@given(st.integers(1, 9), st.integers(1, 4), st.floats(0.0, 50.0), st.floats(0.1, 50.0))
def test_colour_thins_out_and_clear_covers_it(
    base: int, clear: int, sealer_cm: float, step_cm: float
) -> None:
    coats = fade(base, clear, sealer_cm, step_cm, step_cm)
    found = zones(coats)
    counts = [count for _, _, count in found]
    assert counts == sorted(counts, reverse=True)
    assert counts[-1] == 1
    assert [sealed for _, sealed, _ in found].count(True) == (1 if sealer_cm else 0)
    assert coats_at(coats, "clear_coat", found[-1][0] - 1e-6) == clear


@pytest.mark.parametrize("wrong", [-1.0, float("nan"), 501.0])
def test_reaches_that_cannot_be(wrong: float) -> None:
    with pytest.raises(JobError, match="reach of the sealer must be from 0 to 500 cm"):
        fade(3, 2, sealer_cm=wrong)
    with pytest.raises(JobError, match="number of coats of base coat must be"):
        fade(0, 2)
    with pytest.raises(JobError, match="some cm from the repair's edge"):
        coats_at(fade(3, 2), "base_coat", float("nan"))
