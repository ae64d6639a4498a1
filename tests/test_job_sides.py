"""Panels by side, and steps that are for some panels only.

What each substrate needs is common practice, no source; areas are those of
``data/panels.csv``, added up here.
"""

from dataclasses import replace
from datetime import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.errors import JobError
from shadecore.job.details import Details
from shadecore.job.job_file import parse_job, write_job
from shadecore.job.own_steps import StepChange
from shadecore.job.plan import Plan
from shadecore.job.planned import planned
from shadecore.job.request import JobRequest
from shadecore.job.schedule import Timed
from shadecore.job.sides import PAIRED, SIDES, panel_of, piece_names, pieces
from shadecore.products.materials import panels
from shadecore.products.product import ProductSheet
from shadecore.products.sheet_file import demo_sheet
from shadecore.question.question import Question
from shadecore.telling.plan_notes import plan_notes

START = datetime.fromisoformat("2026-03-02T08:00")
AREAS = {each.key: each.area_m2 for each in panels()}
DOORS = (("front_door", 2), ("hood", 1))


def plan(*, sheet: ProductSheet | None = None, **asked: object) -> Plan:
    told = {"question": Question("45 60 35"), "panels": DOORS, **asked}
    return planned(JobRequest(START, **told), sheet or demo_sheet())  # type: ignore[arg-type]


def of(found: Plan, key: str) -> Timed:
    return next(each for each in found.timeline if each.step.key == key)


def notes(found: Plan) -> str:
    return " ".join(text for _, told in plan_notes(found) for text in told)


def told(**substrates: tuple[str, ...]) -> Details:
    return Details(substrates=tuple(substrates.items()))


# Sides


def test_two_doors_of_different_substrates() -> None:
    """A new left door in e-coat, the right one of aluminium laid bare."""
    found = plan(
        details=told(left_front_door=("e_coat",), right_front_door=("aluminium",))
    )
    etched = of(found, "etch_primer").step
    assert etched.share * found.area_m2 == pytest.approx(AREAS["front_door"])
    assert etched.title.endswith(": Right front door")
    ladders = {
        panel: each.step.grits
        for each in found.timeline
        for panel in each.step.panels
        if each.step.key.startswith("sand_for_surfacer")
    }
    assert ladders["right_front_door"] == (120, 180)
    assert ladders["left_front_door"][0] == 320
    assert "E-coat of a new part (Left front door)" in notes(found)


def test_what_is_said_of_both_holds_for_the_side_that_is_not_named() -> None:
    found = plan(details=told(front_door=("steel",), left_front_door=("e_coat",)))
    assert of(found, "etch_primer").step.title.endswith(": Right front door")
    # Without a side it is as it always was: both.
    both = plan(details=told(front_door=("steel",)))
    share = of(both, "etch_primer").step.share
    assert share * both.area_m2 == pytest.approx(2 * AREAS["front_door"])


def test_one_door_on_the_side_that_is_named() -> None:
    one = {"panels": (("front_door", 1),)}
    found = plan(details=told(left_front_door=("steel",)), **one)
    assert of(found, "etch_primer").step.share == pytest.approx(1.0)
    for asked in (
        {
            "details": told(left_front_door=("steel",), right_front_door=("steel",)),
            **one,
        },
        {"details": told(left_front_door=("steel",)), "panels": (("front_door", 4),)},
    ):
        with pytest.raises(JobError, match="'left_front_door' names a side, but"):
            plan(**asked)
    with pytest.raises(JobError, match="There is no panel 'left_hood'"):
        told(left_hood=("steel",))


@settings(deadline=None, derandomize=True, max_examples=100)
@given(
    st.dictionaries(st.sampled_from(list(AREAS)), st.integers(0, 2)),
    st.sets(st.sampled_from([f"{s}_{p}" for s in SIDES for p in PAIRED])),
)
def test_sides_never_change_what_there_is(
    counts: dict[str, int], named: set[str]
) -> None:
    """Two of a panel are a left and a right one, whatever is said of them."""
    sides = {key: ("steel",) for key in named if counts.get(panel_of(key)) == 2}
    request = JobRequest(START, panels=tuple(counts.items()), details=told(**sides))
    found = pieces(request)
    assert set(found) <= set(piece_names())
    for panel, count in counts.items():
        mine = [n for key, n in found.items() if panel_of(key) == panel]
        assert sum(mine) == count
    assert set(sides) <= set(found)


# Steps for some panels


def test_promoter_takes_the_time_of_the_plastic_only() -> None:
    """On 2.2 m2 of bumpers, not on a whole side of a car."""
    bumpers = (("front_bumper", 1), ("rear_bumper", 1))
    more = plan(
        panels=(*bumpers, ("roof", 2), ("hood", 2)),
        details=told(front_bumper=("plastic",), rear_bumper=("plastic",)),
    )
    alone = plan(
        panels=bumpers,
        details=told(front_bumper=("plastic",), rear_bumper=("plastic",)),
    )
    step = of(more, "adhesion_promoter").step
    assert step.share * more.area_m2 == pytest.approx(
        AREAS["front_bumper"] + AREAS["rear_bumper"]
    )
    assert step.work_min == pytest.approx(of(alone, "adhesion_promoter").step.work_min)
    assert "Front bumper cover" in step.title


def test_an_own_step_for_some_panels() -> None:
    """Area, time and amount follow."""
    again = StepChange(
        "surfacer_2", after="guide_coat", coats=2, panels=("left_front_door",)
    )
    board = StepChange("long_board", after="guide_coat", panels=("hood", "front_door"))
    here, everywhere = (
        plan(details=Details(changes=changes), cup_loss_l=0.0)
        for changes in (
            (board, again),
            tuple(replace(each, panels=None) for each in (board, again)),
        )
    )
    door = of(here, "surfacer_2").step
    assert door.panels == ("left_front_door",)
    assert door.share * here.area_m2 == pytest.approx(AREAS["front_door"])
    assert door.title == "Surfacer: Left front door"
    # All of the job is named with both doors and the hood.
    assert of(here, "long_board").step.share == pytest.approx(1.0)
    litres = [
        next(e.sprayed_l for e in found.materials if e.product.kind == "surfacer")
        for found in (here, everywhere)
    ]
    area = here.area_m2
    # Three coats on all, and two more on one door or on all.
    assert litres[0] / litres[1] == pytest.approx(
        (3 * area + 2 * AREAS["front_door"]) / (5 * area)
    )


def test_a_step_for_panels_that_are_not_there_is_not_planned() -> None:
    """A set of steps is made for many jobs."""
    roof = StepChange("long_board", panels=("roof",))
    found = plan(details=Details(changes=(roof,)))
    assert "long_board" not in [each.step.key for each in found.timeline]
    with pytest.raises(JobError, match="names the panel 'rof', which is none"):
        StepChange("long_board", panels=("rof",))


def test_sides_and_panels_of_steps_come_back_from_a_file() -> None:
    changes = (StepChange("long_board", panels=("left_front_door",)),)
    details = replace(told(left_front_door=("steel",)), changes=changes)
    job = JobRequest(START, panels=DOORS, details=details)
    assert parse_job(write_job(job), "x") == job


# Products that a line may not have


ASKED = ("adhesion_promoter", "seam_sealer", "stone_chip")


def test_a_product_that_the_sheet_lacks_is_asked_for() -> None:
    changes = tuple(StepChange(key, panels=("hood",)) for key in ASKED)
    found = plan(details=Details(changes=changes))
    said = notes(found)
    assert said.count("has no product for it. Ask for its window") == len(ASKED)
    assert said.count(f"the amount on {AREAS['hood']:.1f} m²") == len(ASKED)


def test_a_product_that_the_sheet_has_is_planned_by_it() -> None:
    sheet = demo_sheet()
    surfacer = sheet.of_kind("surfacer")
    windows = replace(surfacer.windows, recoat_after_min=17.0, recoat_within_h=2.0)
    promoter = replace(
        surfacer, key="mine", kind="adhesion_promoter", coats=1, windows=windows
    )
    with_it = replace(sheet, products=(*sheet.products, promoter))
    own = Details(changes=(StepChange("adhesion_promoter", panels=("hood",)),))
    found = plan(sheet=with_it, details=own)
    timed = of(found, "adhesion_promoter")
    assert (timed.step.product, timed.step.coats) == ("mine", 1)
    assert "no product for it" not in notes(found)
    mixed = next(each for each in found.materials if each.product.key == "mine")
    assert 0.0 < mixed.ready_l < 1.0
    surfaced = of(found, "surfacer")
    assert (surfaced.start - timed.end).total_seconds() >= 17 * 60


def test_a_step_for_panels_that_are_not_there_is_told() -> None:
    seam = StepChange(
        "seam", after="wash", title="Seal the seam", panels=("trunk_lid",)
    )
    door = StepChange("edge", after="wash", title="Check the edge", panels=("hood",))
    found = plan(details=Details(changes=(seam, door)))
    assert not any(each.step.key == "seam" for each in found.timeline)
    assert (
        "Seal the seam is for trunk lid (boot), which the job does not have"
        in notes(found)
    )
    assert "Check the edge is for" not in notes(found)
