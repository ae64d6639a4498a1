"""Grits and primers by panel; what they are: common practice, no source."""

from datetime import datetime

import pytest

from shadecore.job.details import Details
from shadecore.job.plan import Plan
from shadecore.job.planned import planned
from shadecore.job.request import JobRequest
from shadecore.job.substrates import substrates
from shadecore.products.grits import check_grits
from shadecore.products.materials import panels
from shadecore.products.sheet_file import demo_sheet
from shadecore.telling.plan_notes import plan_notes

START = datetime.fromisoformat("2026-03-02T08:00")
AREAS = {each.key: each.area_m2 for each in panels()}


def plan(substrate_of: dict[str, tuple[str, ...]], **asked: object) -> Plan:
    details = Details(substrates=tuple(substrate_of.items()))
    told = {"panels": (("hood", 1), ("front_bumper", 2)), **asked}
    request = JobRequest(START, details=details, **told)  # type: ignore[arg-type]
    return planned(request, demo_sheet())


def sanding(found: Plan) -> dict[str, tuple[int, ...]]:
    return {
        each.step.title: each.step.grits
        for each in found.timeline
        if each.step.key.startswith("sand_for_surfacer")
    }


def test_each_panel_has_its_own_ladder_up_to_the_grit_of_the_sheet() -> None:
    found = plan({"hood": ("steel",), "front_bumper": ("plastic",)})
    assert sanding(found) == {
        "Sand bare metal: Hood (bonnet)": (80, 180),
        "Sand for surfacer: Front bumper cover": (400,),
    }
    assert found.scratches == ()
    minutes = [
        each.step.work_min
        for each in found.timeline
        if each.step.key.startswith("sand_for_surfacer")
    ]
    # Two panels of three, and then the metal of one.
    assert minutes[0] == pytest.approx(2.0 * minutes[1])
    note = dict(plan_notes(found))["What the panels are made of"]
    for each, text in zip(("steel", "plastic"), note, strict=True):
        told = substrates()[each]
        for said in (*told.first, *told.never, *told.ask):
            assert said in text


def test_primer_goes_on_the_panels_that_need_it() -> None:
    found = plan({"hood": ("aluminium",), "front_bumper": ("plastic",)})
    etched = next(each for each in found.timeline if each.step.key == "etch_primer")
    assert etched.step.title.endswith(": Hood (bonnet)")
    assert etched.step.share == pytest.approx(AREAS["hood"] / found.area_m2)
    kept = {each.step.key for each in found.timeline}
    assert "adhesion_promoter" in kept
    plastic = plan({"front_bumper": ("plastic",)})
    assert "etch_primer" not in {each.step.key for each in plastic.timeline}
    # Bare metal wherever nobody said what a panel is made of.
    bare = plan({"front_bumper": ("plastic",)}, bare_metal=True)
    step = next(e.step for e in bare.timeline if e.step.key == "etch_primer")
    assert step.share == pytest.approx(AREAS["hood"] / bare.area_m2)


def test_metal_and_paint_of_one_panel_have_a_line_each() -> None:
    """Metal to P180 before its primer, paint feathered at P320."""
    found = plan({"hood": ("steel", "old_two_pack")}, panels=(("hood", 1),))
    assert sanding(found) == {
        "Sand bare metal: Hood (bonnet)": (80, 180),
        "Sand for surfacer: Hood (bonnet)": (320, 400),
    }
    # Bare metal that nobody said the kind of is not sanded as paint is.
    bare = plan({}, panels=(("hood", 1),), bare_metal=True, filler=True)
    assert sanding(bare) == {
        "Sand bare metal": (80, 180),
        "Sand for surfacer": (320, 400),
    }
    filler = next(e.step for e in bare.timeline if e.step.key == "filler")
    assert filler.grits == (80, 180)
    assert bare.scratches == ()


def test_a_job_with_more_ladders_than_there_are_now_opens() -> None:
    old = ("wash", "solvent_wipe", "sand_for_surfacer", "sand_for_surfacer_2")
    done = tuple((key, START.replace(hour=9 + n)) for n, key in enumerate(old))
    found = plan({"hood": ("e_coat",)}, panels=(("hood", 1),), done=done)
    assert [each.step.key for each in found.timeline if each.done] == list(old[:3])


def test_metal_is_sanded_last_and_what_is_done_stays_what_it_was() -> None:
    told = {"hood": ("steel",), "front_bumper": ("e_coat",)}
    first = plan(told)
    order = [each for each in first.timeline if each.step.key.startswith("sand_for_")]
    assert [each.step.grits for each in order] == [(320, 400), (80, 180)]
    for each in order:
        keys = [*("wash", "solvent_wipe"), each.step.key]
        done = tuple((key, START.replace(hour=9 + n)) for n, key in enumerate(keys))
        again = plan(told, done=done)
        sanded = next(e for e in again.timeline if e.step.key == each.step.key)
        assert sanded.done
        assert sanded.step.grits == each.step.grits


def test_one_kind_of_panel_keeps_the_usual_title() -> None:
    found = plan({"hood": ("galvanised",)}, panels=(("hood", 2),))
    assert sanding(found) == {"Sand bare metal": (320,)}
    # A panel that is not in the job asks for nothing.
    assert sanding(plan({"roof": ("steel",)})) == {"Sand for surfacer": (320, 400)}


@pytest.mark.parametrize("key", list(substrates()))
def test_no_ladder_leaves_a_scratch(key: str) -> None:
    found = plan({"hood": (key,)}, filler=True)
    assert found.scratches == ()
    assert all(check_grits(grits) == [] for grits in sanding(found).values())
