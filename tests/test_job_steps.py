"""The steps of the job. Order, grits, coats and tests: common practice, no source."""

import itertools
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.errors import JobError
from shadecore.job.steps import Step, job_steps, scratches
from shadecore.job.windows import REMEDIES
from shadecore.products.grits import check_grits
from shadecore.products.product import (
    HAZARDS,
    KINDS,
    MISSED,
    OPTIONAL,
    SANDED,
    SPRAYED,
    Gun,
)
from shadecore.products.sheet_file import demo_sheet
from shadecore.telling.job_words import step_words
from shadecore.units import UNITS

SOME = settings(deadline=None, derandomize=True, max_examples=100)
ALL = (
    *("wash", "solvent_wipe", "filler", "sand_for_surfacer", "solvent_wipe_2"),
    *("etch_primer", "surfacer", "block_sand", "solvent_wipe_3", "sealer"),
    *("base_coat", "clear_coat", "cure", "sand_clear", "clear_coat_2", "cut", "polish"),
)
FLAGS = tuple(itertools.product((False, True), repeat=3))


def steps_of(
    coats: int = 3,
    name: str = "Grey N5",
    *,
    bare_metal: bool = True,
    filler: bool = True,
    flattest: bool = True,
) -> dict[str, Step]:
    steps = job_steps(
        demo_sheet(),
        coats,
        name,
        bare_metal=bare_metal,
        filler=filler,
        flattest=flattest,
    )
    assert len({step.key for step in steps}) == len(steps)
    return {step.key: step for step in steps}


@pytest.mark.parametrize(("bare_metal", "filler", "flattest"), FLAGS)
def test_steps_and_their_order(
    bare_metal: bool,  # noqa: FBT001 - a parameter of the test
    filler: bool,  # noqa: FBT001
    flattest: bool,  # noqa: FBT001
) -> None:
    left_out = set()
    if not bare_metal:
        left_out.add("etch_primer")
    if not filler:
        left_out.add("filler")
    if not flattest:
        left_out |= {"cure", "sand_clear", "clear_coat_2"}
    steps = steps_of(bare_metal=bare_metal, filler=filler, flattest=flattest)
    assert tuple(steps) == tuple(key for key in ALL if key not in left_out)


def test_grits() -> None:
    steps = steps_of()
    assert {key: step.grits for key, step in steps.items() if step.grits} == {
        "filler": (80, 180),
        "sand_for_surfacer": (320, 400),
        "block_sand": (400, 600),
        "sand_clear": (800,),
        "cut": (2000,),
    }
    for step in steps.values():
        assert step.grit == (step.grits[-1] if step.grits else None)


def test_coats() -> None:
    """Etch and sealer one coat, surfacer two to three, clear two, and two more."""
    steps = steps_of(4)
    coats = {key: step.coats for key, step in steps.items() if step.coats}
    assert coats.pop("surfacer") in (2, 3)
    assert coats == {
        "etch_primer": 1,
        "sealer": 1,
        "base_coat": 4,
        "clear_coat": 2,
        "clear_coat_2": 2,
    }


def test_the_pick_is_in_the_steps() -> None:
    steps = steps_of(5, "  Red\noxide  primer ")
    assert steps["base_coat"].coats == 5
    assert "Red oxide primer" in steps["sealer"].title
    assert steps_of(name=" ")["sealer"].title == "Seal"


def test_tape_test_before_clear() -> None:
    assert "tape or finger test" in steps_of()["base_coat"].check.lower()


def test_products_guns_and_flashes_come_from_the_sheet() -> None:
    sheet = demo_sheet()
    by_key = {product.key: product for product in sheet.products}
    for step in steps_of().values():
        assert step.work_min > 0.0 or step.key == "cure"
        assert step.purpose
        assert step.check
        if step.product is None:
            assert step.gun is None
            assert step.coats == 0
            continue
        product = by_key[step.product]
        assert step.gun == product.gun
        assert bool(step.coats) == (product.kind in SPRAYED)
        if step.coats:
            assert step.flash_min == product.windows.flash_min
    used = {by_key[each.product].kind for each in steps_of().values() if each.product}
    # The rest belongs to three-stage and candy colours, plastics and bare seams.
    assert used == set(KINDS) - set(OPTIONAL)


def test_at_the_bench_a_gun_is_told_whole() -> None:
    """By hand, from the example sheet; what a sheet does not say is left out."""
    sealer = steps_of()["sealer"]
    assert (
        "Gun: HVLP, tip 1.2 mm, inlet 2.2 bar, 0.60 bar at the cap, distance 15 cm, "
        "overlap 50 %."
    ) in step_words(sealer, UNITS["metric"])
    silent = replace(sealer, gun=Gun(1.2, 2.2, 15.0, 0.5))
    told = step_words(silent, UNITS["metric"])
    assert "Gun: tip 1.2 mm, inlet 2.2 bar, distance 15 cm" in told


def test_cautions() -> None:
    """Hardeners are isocyanates, sanding makes dust, cleaner and paint are solvent."""
    steps = steps_of()
    for key, step in steps.items():
        assert ("dust" in step.cautions) == bool(step.grits), key
        assert step.cautions == tuple(each for each in HAZARDS if each in step.cautions)
    for key in ("surfacer", "sealer", "clear_coat", "clear_coat_2"):
        assert "isocyanate" in steps[key].cautions
    for key in ("solvent_wipe", "base_coat"):
        assert steps[key].cautions == ("solvent",)
    # The activator bites by acid, the filler's hardener is a peroxide.
    assert steps["etch_primer"].cautions == ("solvent", "acid")
    assert steps["filler"].cautions == ("solvent", "dust", "peroxide")
    assert steps["wash"].cautions == ()


@pytest.mark.parametrize("coats", [0, -1, 51])
def test_coats_out_of_range(coats: int) -> None:
    with pytest.raises(JobError, match=rf"from 1 to 50, not {coats}"):
        steps_of(coats)


@pytest.mark.parametrize("kind", ["cleaner", "etch_primer", "clear_coat", "polish"])
def test_a_sheet_without_a_product(kind: str) -> None:
    sheet = demo_sheet()
    left = tuple(product for product in sheet.products if product.kind != kind)
    with pytest.raises(JobError, match=f"no product of kind '{kind}'"):
        job_steps(
            replace(sheet, products=left),
            3,
            "Grey",
            bare_metal=True,
            filler=True,
            flattest=True,
        )


@pytest.mark.parametrize(("bare_metal", "filler", "flattest"), FLAGS)
def test_the_jobs_own_ladders_are_fine(
    bare_metal: bool,  # noqa: FBT001 - a parameter of the test
    filler: bool,  # noqa: FBT001
    flattest: bool,  # noqa: FBT001
) -> None:
    steps = steps_of(bare_metal=bare_metal, filler=filler, flattest=flattest)
    assert scratches(steps.values()) == ()
    under = [*steps_of()["filler"].grits, *steps_of()["sand_for_surfacer"].grits]
    assert check_grits(under) == []
    # On the surfacer the ladder starts anew, and a fresh clear has no scratches.
    for key in ("block_sand", "sand_clear", "cut"):
        assert check_grits(steps_of()[key].grits) == []


@pytest.mark.parametrize(
    ("key", "grits", "jumps"),
    [
        ("filler", (80, 150), []),
        ("filler", (80, 320), ["From P80 to P320"]),
        ("sand_for_surfacer", (360,), []),
        ("sand_for_surfacer", (600,), ["From P180 to P600"]),
        ("sand_for_surfacer", (150,), ["P150 after P180"]),
        ("block_sand", (320, 600), ["From P320 to P600"]),
        ("block_sand", (800,), []),
        ("cut", (1000, 3000), ["From P1000 to P3000"]),
    ],
)
def test_grits_of_the_sheet_are_planned_and_checked_on_each_surface(
    key: str, grits: tuple[int, ...], jumps: list[str]
) -> None:
    """By the limits of ``check_grits``: common practice, no source."""
    sheet = replace(demo_sheet(), grits={key: grits})
    steps = job_steps(sheet, 3, "", bare_metal=True, filler=True, flattest=True)
    planned = {step.key: step for step in steps}
    assert planned[key].grits == grits
    assert planned[key].grit == grits[-1]
    found = scratches(steps)
    assert [each.split(" the old")[0].split(" scratches")[0] for each in found] == jumps


@pytest.mark.parametrize(
    ("grits", "problems"),
    [
        ((), 0),
        ((80,), 0),
        ((80, 180), 0),
        ((80, 181), 1),
        ((80, 320), 1),
        ((180, 320), 0),
        ((220, 400), 0),
        ((219, 400), 1),
        ((400, 600), 0),
        ((400, 601), 1),
        ((600, 800, 1000, 1500, 2000, 3000), 0),
        ((1000, 1500), 0),
        ((1000, 2000), 0),
        ((800, 2000), 1),
        ((80, 400, 2000), 2),
        ((320, 180), 1),
        ((180, 180), 0),
    ],
)
def test_jumps(grits: tuple[int, ...], problems: int) -> None:
    """The limits the docstring gives: common practice, no source."""
    found = check_grits(grits)
    assert len(found) == problems
    for sentence in found:
        assert sentence.endswith(".")
        assert "P" in sentence


def test_a_ladder_back_to_coarse_is_named() -> None:
    (problem,) = check_grits((80, 180, 120))
    assert "P120 after P180" in problem


@pytest.mark.parametrize("grit", [0, -80, 5001])
def test_no_grit(grit: int) -> None:
    assert check_grits((80, grit)) == [
        f"P{grit} is no grit; take one from P1 to P5000."
    ]


@SOME
@given(st.lists(st.integers(1, 5000), max_size=8))
def test_each_step_of_a_ladder_is_judged_by_itself(grits: list[int]) -> None:
    pairs = [check_grits(pair) for pair in itertools.pairwise(grits)]
    assert check_grits(grits) == [problem for pair in pairs for problem in pair]


@SOME
@given(st.lists(st.integers(1, 5000), min_size=2, max_size=2))
def test_a_grit_between_never_hurts(pair: list[int]) -> None:
    coarse, fine = sorted(pair)
    if not check_grits((coarse, fine)):
        assert not check_grits((coarse, (coarse + fine) // 2, fine))


def test_a_sheet_may_give_grits_for_what_is_sanded_and_nothing_else() -> None:
    steps = job_steps(demo_sheet(), 3, "", bare_metal=True, filler=True, flattest=True)
    assert tuple(step.key for step in steps if step.grits) == SANDED
    assert set(REMEDIES) == set(MISSED)
