"""Kinds of job, the painter's own choice, spot repairs, two colours, the old finish.

What steps a kind has is common practice, no source; areas and amounts are worked out
here from circles and shares.
"""

import math
from dataclasses import replace
from datetime import datetime, timedelta
from functools import cache

import pytest

from shadecore.coats.sand_throughs import compare_sand_throughs
from shadecore.errors import JobError, ShadecoreError
from shadecore.job.details import Details
from shadecore.job.kinds import KINDS, PANELS
from shadecore.job.left_out import ADHESION, MORE_COATS, SANDED_THROUGH, UNKNOWN_PAINT
from shadecore.job.material import Material
from shadecore.job.own_steps import StepChange
from shadecore.job.plan import Plan
from shadecore.job.planned import planned
from shadecore.job.request import MIX, NO_SEALER, JobRequest
from shadecore.job.step_sets import step_sets
from shadecore.products.sheet_file import demo_sheet
from shadecore.question.answer import answer
from shadecore.question.question import Question
from shadecore.telling.plan_notes import plan_notes
from shadecore.undercoats.shelf import undercoat
from shadecore.undercoats.shelf_table import demo_shelf

START = datetime.fromisoformat("2026-03-02T08:00")
RED = Question("45 60 35")
BLUE = Question("30 5 -32")


@cache
def plan(**asked: object) -> Plan:
    request = JobRequest(START, **{"area_m2": 1.0, "question": RED, **asked})  # type: ignore[arg-type]
    return planned(request, demo_sheet())


def keys(found: Plan) -> list[str]:
    return [each.step.key for each in found.timeline]


def of(found: Plan, kind: str, use: str = "") -> Material:
    return next(
        each for each in found.materials if (each.product.kind, each.use) == (kind, use)
    )


def notes(found: Plan) -> str:
    return " ".join(text for _, told in plan_notes(found) for text in told)


def test_every_kind_but_the_usual_one_is_a_set_of_steps() -> None:
    assert KINDS[0] == PANELS
    assert set(KINDS[1:]) == set(step_sets())
    usual = keys(plan())
    for kind in KINDS[1:]:
        second = Question("20 0 0") if kind == "two_tone" else None
        found = plan(kind=kind, second=second)
        assert keys(found) != usual
        # Whatever the shop drops goes after the kind's own steps.
        own = Details(changes=(StepChange("unmask", drop=True),))
        assert "unmask" not in keys(plan(kind=kind, second=second, details=own))
        assert step_sets()[kind].what in notes(found)
    assert plan_notes(plan()) == ()


def test_clear_only_picks_nothing_and_mixes_clear_alone() -> None:
    # A colour that never hides does not stop a job without colour.
    shelf = (undercoat("black", (5, 0, 0)),)
    never = replace(RED, colour="88 0 95", shelf=shelf, coat_cap=1)
    found = plan(kind="re_clear", question=never)
    assert found.picked.choice is None
    assert [each.product.kind for each in found.materials] == ["clear_coat"]
    assert found.stages is None
    assert {"dust", "isocyanate"} <= {hazard for hazard, _ in found.cautions}
    clear = next(each for each in found.timeline if each.step.key == "clear_coat")
    cure = next(each for each in found.timeline if each.step.key == "cure")
    # The gun first; 15 min to warm the panel and 30 to bake it.
    assert cure.start > clear.end
    assert cure.end - cure.start == timedelta(minutes=45)


def test_a_whole_car_takes_longer_than_a_door() -> None:
    door, car = plan(kind="whole_car"), plan(kind="whole_car", area_m2=12.0)
    work = [
        {each.step.key: each.step.work_min for each in found.timeline}
        for found in (door, car)
    ]
    # Six times two square metres: hand work six times, a wipe by the root of it.
    assert work[1]["block_sand"] == pytest.approx(6.0 * work[0]["block_sand"])
    assert work[1]["solvent_wipe"] == pytest.approx(
        math.sqrt(6.0) * work[0]["solvent_wipe"]
    )
    # The set gives these itself.
    for key in ("take_apart", "refit", "clean_gun"):
        assert work[1][key] == work[0][key]
    # Told by the shop, it stays as it was told.
    own = Details(changes=(StepChange("block_sand", work_min=99.0),))
    told = plan(area_m2=12.0, details=own)
    assert next(
        each.step.work_min for each in told.timeline if each.step.key == "block_sand"
    ) == pytest.approx(99.0)


def test_edges_take_as_many_coats_as_the_outside() -> None:
    found = plan(kind="edges_first")
    coats = {each.step.key: each.step.coats for each in found.timeline}
    assert coats["base_coat_9"] == coats["base_coat"]
    assert keys(found).index("clear_coat_9") < keys(found).index("sealer")
    usual, more = of(plan(), "sealer"), of(found, "sealer")
    # A fifth of the outside, for which a gun is filled by itself.
    assert more.ready_l - 2 * 0.05 == pytest.approx(1.2 * (usual.ready_l - 0.05))


# Spot repairs


def test_the_worst_spot_sets_the_coats() -> None:
    found = plan(kind="spot_repair", old_finish="60 20 10", spot_cm=20.0)
    spot, picked = found.picked.spot, answer(RED)
    assert spot is not None
    assert spot.told
    sealer = picked.recommended.undercoat
    areas = (sealer, undercoat("x", (60, 20, 10)))
    worst = compare_sand_throughs(picked.belief, areas, sealer, picked.settings)
    assert worst.count.coats is not None
    assert picked.recommended.coats is not None
    assert spot.coats == max(picked.recommended.coats, worst.count.coats)
    base = next(each for each in found.timeline if each.step.key == "base_coat")
    assert base.step.coats == spot.coats
    assert f"{spot.coats} coats" in notes(found)


def test_a_repair_takes_paint_for_its_circles_only() -> None:
    found = plan(
        kind="spot_repair", spot_cm=20.0, sealer_reach_cm=15.0, fade_step_cm=10.0
    )
    spot = found.picked.spot
    assert spot is not None
    assert not spot.told
    assert spot.spot_m2 == pytest.approx(math.pi * 0.1**2)
    assert spot.sealer_m2 == pytest.approx(math.pi * 0.25**2)
    rings = [math.pi * (0.25 + 0.1 * n) ** 2 for n in range(1, spot.coats + 1)]
    assert spot.colour_m2 == pytest.approx(sum(rings) / spot.coats)
    whole = of(plan(coats=spot.coats), "base_coat").ready_l - 0.05
    assert of(found, "base_coat").ready_l - 0.05 == pytest.approx(
        whole * spot.colour_m2
    )
    assert of(found, "clear_coat").ready_l == of(plan(), "clear_coat").ready_l
    # From the spot outwards there are fewer coats, the last ring has one.
    counts = [each.coats for each in spot.zones]
    assert counts == sorted(counts, reverse=True)
    assert counts[-1] == 1
    assert [each.sealed for each in spot.zones] == [True] + [False] * spot.coats
    assert spot.reach_cm == pytest.approx(15.0 + 10.0 * spot.coats)


def test_without_a_sealer_the_colour_fades_from_the_spot_on() -> None:
    found = plan(
        kind="spot_repair", old_finish="45 58 34", sealer=NO_SEALER, spot_cm=20.0
    )
    spot = found.picked.spot
    assert spot is not None
    assert [each.reach_cm for each in spot.fades if each.kind == "base_coat"] == [
        10.0 * coat for coat in range(1, spot.coats + 1)
    ]


def test_midcoats_fade_past_the_ground() -> None:
    white = Question("93 0 2", kind="three-stage")
    found = plan(kind="spot_repair", question=white, midcoats=4, area_m2=9.0)
    spot = found.picked.spot
    assert spot is not None
    ground, mids = (
        [each.reach_cm for each in spot.fades if each.kind == kind]
        for kind in ("base_coat", "mid_coat")
    )
    assert mids == [ground[-1] + 10.0 * n for n in range(1, 5)]
    assert spot.reach_cm == mids[-1]
    circles = [math.pi * (0.1 + each / 100.0) ** 2 for each in mids]
    step = next(e.step for e in found.timeline if e.step.key == "mid_coats")
    assert step.share * 9.0 == pytest.approx(sum(circles) / 4)
    assert f"over the ground reach to {mids[0]:.0f} cm" in notes(found)
    # The zones tell what hides, which the mid-coats do not.
    assert max(each.end_cm for each in spot.zones) == ground[-1]


def test_a_spot_that_does_not_end_in_its_panel_asks_for_the_one_beside() -> None:
    cap = {"panels": (("mirror_cap", 1),), "area_m2": 0.0}
    asked = "Add the panel beside"
    for told, said in (
        ({"spot_cm": 80.0, **cap}, "The spot does not end"),
        ({"spot_cm": 10.0, **cap}, "The colour does not end"),
    ):
        words = notes(plan(kind="spot_repair", **told))
        assert said in words
        assert asked in words
    found = plan(kind="spot_repair", area_m2=3.0)
    assert asked not in notes(found)
    # As much is mixed as on panels that hold all of it, but for their own clear.
    cut = plan(kind="spot_repair", **cap)
    for kind in ("sealer", "base_coat"):
        assert of(cut, kind).ready_l == pytest.approx(of(found, kind).ready_l)
    spot = cut.picked.spot
    assert spot is not None
    beside = spot.whole_m2 - cut.area_m2
    assert f"of which {beside:.1f} m² falls on the panel beside" in notes(cut)
    clear = of(cut, "clear_coat").sprayed_l / of(found, "clear_coat").sprayed_l
    assert clear == pytest.approx(spot.whole_m2 / 3.0)


def test_coats_that_are_told_go_before_the_worst_spot() -> None:
    found = plan(kind="spot_repair", old_finish="95 0 0", coats=2)
    assert found.picked.spot is not None
    assert found.picked.spot.coats == 2


# Two colours


def test_two_colours_share_the_area() -> None:
    found = plan(kind="two_tone", second=BLUE, second_share=0.3, area_m2=4.0)
    two = found.picked.two_tone
    assert two is not None
    first, second = of(found, "base_coat"), of(found, "base_coat", "Second colour")
    one, other = plan(area_m2=4.0), plan(area_m2=4.0, question=BLUE)
    assert first.ready_l - 0.05 == pytest.approx(
        0.7 * (of(one, "base_coat").ready_l - 0.05)
    )
    if two.second.coats == other.picked.choice.coats:  # type: ignore[union-attr]
        assert second.ready_l - 0.05 == pytest.approx(
            0.3 * (of(other, "base_coat").ready_l - 0.05)
        )
    until, late = found.first_colour
    base = next(each for each in found.timeline if each.step.key == "base_coat")
    clear = next(each for each in found.timeline if each.step.key == "clear_coat")
    # The demo sheet's 24 hours for clear, and its half hour before tape.
    assert until is not None
    assert (until - base.end).total_seconds() == 24 * 3600
    assert late == (clear.start > until)
    tape, mask = (
        next(each for each in found.timeline if each.step.key == key)
        for key in ("tape_test", "mask_2")
    )
    assert (tape.start - base.end).total_seconds() >= 30 * 60
    # What has borne the test is masked at once.
    assert mask.start == tape.end


def test_one_sealer_serves_where_it_costs_no_coat() -> None:
    same = plan(kind="two_tone", second=RED).picked.two_tone
    assert same is not None
    assert same.one_sealer
    # White for the red, but black under a black: each has its own.
    apart = plan(kind="two_tone", second=Question("8 0 0"))
    two = apart.picked.two_tone
    assert two is not None
    if not two.one_sealer:
        found = keys(apart)
        assert found.index("mask_2") < found.index("sealer_2")
        assert found.index("sealer_2") < found.index("base_coat_2")
        assert of(apart, "sealer", "Second colour").coats == 1


def test_the_colour_with_fewer_coats_goes_second() -> None:
    """Common practice, no source."""
    pale, dark = Question("85 10 60"), Question("8 0 0")
    coats = [answer(each).recommended.coats for each in (pale, dark)]
    assert coats[0] != coats[1]
    swaps = [
        plan(kind="two_tone", question=one, second=other).picked.two_tone.swap  # type: ignore[union-attr]
        for one, other in ((pale, dark), (dark, pale))
    ]
    assert sorted(swaps) == ["", "coats"]
    with pytest.raises(JobError, match="needs a second colour"):
        plan(kind="two_tone")


# The painter's own choice


def test_another_sealer_and_what_it_costs() -> None:
    black = demo_shelf()[-1].name
    found = plan(sealer=black, coats=4, area_m2=2.0)
    choice = found.picked.choice
    assert choice is not None
    over_black = next(
        each for each in answer(RED).outlooks if each.undercoat.name == black
    )
    assert choice.own
    assert choice.difference == over_black.difference[3]
    assert choice.chance == over_black.count.chance[3]
    best = answer(RED).recommended
    assert best.coats is not None
    assert choice.coats_more == 4 - best.coats
    more_l, more_cost = found.own_choice
    assert more_l is not None
    assert more_cost is not None
    # One coat more over 2 m2, in the whole cans that are bought.
    usual = plan(area_m2=2.0)
    usual_l = of(usual, "base_coat").ready_l
    assert more_l == pytest.approx(of(found, "base_coat").ready_l - usual_l)
    assert more_cost == pytest.approx(found.cost - usual.cost)
    assert "the cans cost as much" in notes(found)
    many = plan(sealer=black, coats=9, area_m2=2.0)
    dearer = many.cost - usual.cost
    assert dearer > 0.0
    assert f"the cans cost {dearer:.2f} USD more" in notes(many)
    assert f"Seal with {black}" in [each.step.title for each in found.timeline]
    assert (
        f"a difference of {choice.difference:.1f} is left (2 counts as hidden)"
        in notes(found)
    )


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"sealer": "Pink"}, "sealer 'Pink' is not on the shelf; take one of"),
        ({"sealer": NO_SEALER, "surfacer": "mud"}, "The surfacer of the job cannot"),
        ({"old_finish": "mud"}, "The old finish of the job cannot be used"),
        ({"place": "open_shop"}, "In an open shop nothing is baked"),
        ({"kind": "boat"}, "The kind 'boat' is none; take one of panels"),
        ({"place": "moon"}, "The place 'moon' is none; take one of booth"),
        ({"coats": 51}, "The job's coats must be from 1 to 50"),
        ({"second_share": 0.0}, "second_share must be from 0.01 to 0.99"),
    ],
)
def test_choices_that_cannot_be(asked: dict[str, object], said: str) -> None:
    with pytest.raises(ShadecoreError, match=said) as caught:
        plan(**asked)
    assert len(str(caught.value)) <= 300


def test_a_mix_says_how_much_of_each_can() -> None:
    two = (demo_shelf()[0], demo_shelf()[-1])
    asked = Question("50 -40 10", shelf=two)
    mix = answer(asked).mix
    assert mix is not None
    found = plan(question=asked, sealer=MIX)
    parts = dict(mix.undercoat.parts)
    sealer = of(found, "sealer")
    poured = {
        each.component.name: each.volume_l
        for each in sealer.portions
        if each.component.name in parts
    }
    assert set(poured) == set(parts)
    # Four of the demo sealer's six parts are paint.
    assert sum(poured.values()) == pytest.approx(sealer.ready_l * 4.0 / 6.0)
    for name, count in parts.items():
        share = poured[name] / sum(poured.values())
        assert share == pytest.approx(count / sum(parts.values()))
        amount = f"{1000.0 * poured[name]:.0f} ml of {name}"
        assert amount in notes(found)
    with pytest.raises(JobError, match="No mix of two sealers saves a coat here"):
        plan(question=replace(RED, shelf=(demo_shelf()[0],)), sealer=MIX)


# The old finish


def test_may_the_sealer_be_left_out() -> None:
    found = plan(old_finish="40 0 0", filler=True)
    left = found.picked.left_out
    assert left is not None
    over, sealed = left.over_old.coats, left.sealed.coats
    assert over is not None
    assert sealed is not None
    assert left.coats_more == over - sealed > 0
    assert set(left.against) == {ADHESION, MORE_COATS, SANDED_THROUGH, UNKNOWN_PAINT}
    known = Details(substrates=(("hood", ("old_two_pack",)),))
    sound = plan(
        old_finish="45 60 35", panels=(("hood", 1),), area_m2=0.0, details=known
    ).picked.left_out
    assert sound is not None
    assert sound.against == (ADHESION,)
    assert plan().picked.left_out is None


def test_without_a_sealer_the_old_finish_is_the_undercoat() -> None:
    bare = Details(changes=(StepChange("surfacer", drop=True),))
    found = plan(old_finish="40 0 0", sealer=NO_SEALER, details=bare)
    left = plan(old_finish="40 0 0").picked.left_out
    assert left is not None
    assert "sealer" not in keys(found)
    assert "sealer" not in {each.product.kind for each in found.materials}
    assert of(found, "base_coat").coats == left.over_old.coats
    assert "no sealer" in notes(found)
