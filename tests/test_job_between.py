"""Masking, blowing off and guide coats between steps; common practice, no source."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from shadecore.job.between import NO_GUIDE_CHECK
from shadecore.job.details import Details
from shadecore.job.kinds import KINDS
from shadecore.job.own_steps import StepChange
from shadecore.job.plan import Plan
from shadecore.job.planned import planned
from shadecore.job.request import JobRequest
from shadecore.products.sheet_file import demo_sheet
from shadecore.question.question import Question

START = datetime.fromisoformat("2026-03-02T08:00")
WIPED_WITHIN = {"de_nib", "sand_clear", "scuff_9"}
"""Their own check says that they are wiped."""


def request(*changes: StepChange, **asked: object) -> JobRequest:
    told: dict[str, object] = {"area_m2": 1.0, "filler": True, **asked}
    if told.get("kind") == "two_tone":
        told["second"] = Question("20 0 0")
    return JobRequest(START, details=Details(changes=changes), **told)  # type: ignore[arg-type]


def plan(*changes: StepChange, **asked: object) -> Plan:
    return planned(request(*changes, **asked), demo_sheet())


def keys(found: Plan) -> list[str]:
    return [each.step.key for each in found.timeline]


@pytest.mark.parametrize("kind", KINDS)
def test_no_coat_goes_on_dust(kind: str) -> None:
    own = (StepChange("long_board"), StepChange("surfacer_2", after="long_board"))
    found = plan(*(own if kind != "re_clear" else ()), kind=kind, flattest=True)
    sanded = False
    for each in found.timeline:
        step = each.step
        assert not (step.coats and sanded), step.key
        if step.product == "cleaner":
            sanded = False
        elif step.grits and step.key not in WIPED_WITHIN:
            sanded = True
    assert ("blow_off_long_board" in keys(found)) == (kind != "re_clear")
    dropped = plan(*own, StepChange("blow_off_long_board", drop=True))
    assert "blow_off_long_board" not in keys(dropped)


@pytest.mark.parametrize("kind", ["spot_repair", "whole_car", "two_tone"])
def test_it_is_masked_before_the_first_coat(kind: str) -> None:
    found = plan(kind=kind, bare_metal=True)
    order = keys(found)
    first = next(n for n, each in enumerate(found.timeline) if each.step.coats)
    # Paint is sanded before, and bare metal when all is masked: it must not lie long.
    paint, metal = order.index("sand_for_surfacer_2"), order.index("sand_for_surfacer")
    assert paint < order.index("mask_for_primer") < metal < first
    # And again for the colour, over which dust of the block has gone.
    assert order.index("block_sand") < order.index("mask") < order.index("sealer")
    # Loose panels and a clear coat alone have nothing of that.
    assert "mask_for_primer" not in keys(plan(kind="re_clear"))
    own = StepChange("mask_for_primer", drop=True)
    assert "mask_for_primer" not in keys(plan(own, kind=kind))


def test_the_block_asks_for_a_guide_coat_where_there_is_one() -> None:
    for found, guided in (
        (plan(), True),
        (plan(StepChange("guide_coat", drop=True)), False),
        (plan(kind="re_clear"), None),
    ):
        block = next(e.step for e in found.timeline if e.step.key == "block_sand")
        assert ("guide_coat" in keys(found)) == bool(guided)
        assert block.check.startswith("Guide coat gone") == bool(guided)
        assert (block.check == NO_GUIDE_CHECK) == (guided is False)
    own = StepChange("surfacer_2", after="guide_coat", coats=1)
    again = keys(plan(own))
    place = again.index("surfacer_2")
    assert again[place : place + 3] == [
        *("surfacer_2", "clean_gun_surfacer_2", "guide_coat_2")
    ]


def test_a_spot_repair_dulls_the_old_clear_that_it_fades_over() -> None:
    found = plan(kind="spot_repair")
    order = keys(found)
    assert order.index("block_sand") < order.index("scuff_panel")
    assert order.index("scuff_panel") < order.index("solvent_wipe_3")
    step = next(e.step for e in found.timeline if e.step.key == "scuff_panel")
    assert step.grits == (800,)
    assert found.scratches == ()


def test_openings_are_masked_before_edges_are_primed() -> None:
    """Glass and trim beside the jambs, too; common practice, no source."""
    found = [e.step.key for e in plan(kind="edges_first").timeline]
    assert found.index("mask_for_primer") < found.index("surfacer")


def test_what_is_stripped_is_primed() -> None:
    found = plan(StepChange("strip"))
    order = keys(found)
    assert order.index("strip") < order.index("etch_primer") < order.index("surfacer")
    step = next(e.step for e in found.timeline if e.step.key == "etch_primer")
    assert step.share == pytest.approx(1.0)
    door = {"panels": (("hood", 1), ("front_bumper", 1)), "area_m2": 0.0}
    told = Details(
        substrates=(("hood", ("old_two_pack",)), ("front_bumper", ("plastic",))),
        changes=(StepChange("strip"),),
    )
    asked = replace(request(**door), details=told)
    half = planned(asked, demo_sheet())
    step = next(e.step for e in half.timeline if e.step.key == "etch_primer")
    assert step.share == pytest.approx(1.4 / half.area_m2)


def test_a_job_that_was_begun_before_these_were_asked_for_goes_on() -> None:
    asked = request(StepChange("strip"), kind="whole_car")
    old = [
        *("wash", "take_apart", "test_old_paint", "solvent_wipe", "strip", "filler"),
        *("sand_for_surfacer", "solvent_wipe_2", "surfacer", "block_sand"),
    ]
    done = tuple((key, START + timedelta(hours=n)) for n, key in enumerate(old))
    found = planned(replace(asked, done=done), demo_sheet())
    assert [each.step.key for each in found.timeline if each.done] == old
    left = keys(found)[len(old) :]
    assert not {"mask_for_primer", "etch_primer", "guide_coat"} & set(left)
    assert left[0] == "mask"
    # Without a guide coat nothing asks whether it is gone.
    block = next(e.step for e in found.timeline if e.step.key == "block_sand")
    assert block.check == NO_GUIDE_CHECK
