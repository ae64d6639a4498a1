"""Steps of a shop's own. What the trade does: common practice, no source."""

from collections.abc import Sequence

import pytest

from shadecore.errors import JobError
from shadecore.job.own_steps import StepChange, changed_steps
from shadecore.job.step_places import FIRST
from shadecore.job.steps import Step, job_steps
from shadecore.products.sheet_file import demo_sheet

SHEET = demo_sheet()
PLAIN = job_steps(SHEET, 3, "Grey", bare_metal=False, filler=False, flattest=False)
FULL = job_steps(SHEET, 3, "Grey", bare_metal=True, filler=True, flattest=True)


def keys(steps: Sequence[Step]) -> list[str]:
    return [step.key for step in steps]


def changed(*changes: StepChange, steps: Sequence[Step] = PLAIN) -> tuple[Step, ...]:
    return changed_steps(steps, changes, SHEET)


def of(steps: Sequence[Step], key: str) -> Step:
    return next(step for step in steps if step.key == key)


def test_a_step_of_the_shops_own() -> None:
    steps = changed(
        StepChange(
            "rinse",
            after="wash",
            title="Rinse again",
            purpose="Takes off soap.",
            check="No foam.",
            work_min=7,
            wait_min=90,
            grits=(800,),
        )
    )
    rinse = steps[1]
    assert (rinse.title, rinse.purpose, rinse.check) == (
        "Rinse again",
        "Takes off soap.",
        "No foam.",
    )
    assert (rinse.work_min, rinse.wait_min, rinse.grit, rinse.coats) == (7, 90, 800, 0)
    assert rinse.cautions == ("dust",)
    with pytest.raises(JobError, match="The new step 'rinse' has no title"):
        changed(StepChange("rinse", after="wash"))


def test_drop_rename_and_move() -> None:
    steps = changed(
        StepChange("polish", drop=True),
        StepChange("wash", title="Hose down"),
        StepChange("solvent_wipe_2", after=FIRST),
    )
    assert keys(steps)[:2] == ["solvent_wipe_2", "wash"]
    assert steps[1].title == "Hose down"
    assert "polish" not in keys(steps)
    assert len(steps) == len(PLAIN) - 1
    # A set is made for many jobs: one without the step is none the worse.
    assert changed(StepChange("filler", drop=True)) == PLAIN


def test_a_usual_step_that_the_job_left_out() -> None:
    steps = changed(StepChange("filler"))
    assert keys(steps)[:3] == ["wash", "solvent_wipe", "filler"]
    assert of(steps, "filler") == of(FULL, "filler")


def test_a_product_of_the_sheet_for_an_own_step() -> None:
    steps = changed(
        StepChange("seal_again", title="Seal", after="sealer", product="sealer")
    )
    again, sealer = of(steps, "seal_again"), of(steps, "sealer")
    assert (again.product, again.gun, again.coats) == ("sealer", sealer.gun, 1)
    assert (again.flash_min, again.work_min) == (sealer.flash_min, sealer.work_min)
    assert again.cautions == sealer.cautions
    twice = changed(StepChange("sealer", coats=2))
    assert (of(twice, "sealer").coats, of(twice, "sealer").work_min) == (2, 30.0)
    with pytest.raises(JobError, match="has no product 'glue'; take one of cleaner"):
        changed(StepChange("sealer", product="glue"))
    with pytest.raises(JobError, match="'wash' sprays nothing; give it no coats"):
        changed(StepChange("wash", coats=2))


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"key": "Wash"}, "must be of small letters"),
        ({"key": "a" * 41}, "at most 40"),
        ({"title": "a\nb"}, "title of the step 'wash' must be on one line"),
        ({"title": ""}, "title of the step"),
        ({"check": "x" * 301}, "at most 300 characters"),
        ({"work_min": -1.0}, "work_min of the step 'wash' must be from 0 to 6000 min"),
        ({"wait_min": float("nan")}, "wait_min of the step"),
        ({"within_h": 0.0}, "within_h of the step"),
        ({"coats": 51}, "coats of the step 'wash' must be from 1 to 50"),
        ({"grits": (400, 320)}, "grits of the step 'wash' must rise"),
        ({"grits": (0,)}, "must rise from P1 to P5000"),
    ],
)
def test_changes_that_cannot_be(wrong: dict[str, object], said: str) -> None:
    with pytest.raises(JobError, match=said):
        StepChange(**{"key": "wash", **wrong})  # type: ignore[arg-type]


def test_a_job_does_not_grow_without_end() -> None:
    many = [StepChange(f"x_{n}", title="x") for n in range(600)]
    with pytest.raises(JobError, match="more than 500 steps"):
        changed(*many)
