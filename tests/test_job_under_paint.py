"""What must not go on a panel is not planned on it; common practice, no source."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.job.details import Details
from shadecore.job.own_steps import StepChange
from shadecore.job.plan import Plan
from shadecore.job.planned import planned
from shadecore.job.request import JobRequest
from shadecore.job.steps import Step
from shadecore.job.substrates import substrates
from shadecore.products.materials import panels
from shadecore.products.sheet_file import demo_sheet
from shadecore.telling.plan_notes import plan_notes

START = datetime.fromisoformat("2026-03-02T08:00")
SOME = settings(deadline=None, derandomize=True, max_examples=12)
AREAS = {each.key: each.area_m2 for each in panels()}
NO_METAL = ("glass_fibre", "plastic", "e_coat", "old_two_pack")


def request(
    substrate_of: dict[str, tuple[str, ...]],
    *changes: StepChange,
    **asked: object,
) -> JobRequest:
    details = Details(substrates=tuple(substrate_of.items()), changes=changes)
    told = {"panels": (("front_fender", 1),), "bare_metal": True, **asked}
    return JobRequest(START, details=details, **told)  # type: ignore[arg-type]


def steps(found: Plan) -> dict[str, Step]:
    return {each.step.key: each.step for each in found.timeline}


def notes(found: Plan) -> dict[str, str]:
    return {title: " ".join(told) for title, told in plan_notes(found)}


@pytest.mark.parametrize("key", NO_METAL)
def test_what_has_no_metal_is_not_etched(key: str) -> None:
    found = planned(request({"front_fender": (key,)}), demo_sheet())
    assert "etch_primer" not in steps(found)
    assert "etch_primer" not in {each.product.key for each in found.materials}
    forbidden = "etch_primer" in substrates()[key].forbids
    assert ("What must not go on" in notes(found)) == forbidden


def test_filler_and_primer_keep_off_the_panels_that_do_not_bear_them() -> None:
    both = (("hood", 1), ("front_bumper", 1))
    found = planned(
        request({"front_bumper": ("plastic",)}, panels=both, filler=True), demo_sheet()
    )
    share = AREAS["hood"] / (AREAS["hood"] + AREAS["front_bumper"])
    for key in ("filler", "etch_primer"):
        step = steps(found)[key]
        assert step.share == pytest.approx(share)
        assert step.title.endswith(": not on Front bumper cover")
    said = notes(found)["What must not go on"]
    assert "Fill and shape: not planned on Front bumper cover (plastic)" in said
    alone = planned(
        request({"front_fender": ("plastic",)}, filler=True, bare_metal=False),
        demo_sheet(),
    )
    assert "filler" not in steps(alone)


def test_a_step_of_the_shops_own_keeps_off_too() -> None:
    own = (StepChange("etch_primer"), StepChange("strip"))
    asked = request({"front_fender": ("glass_fibre",)}, *own, bare_metal=False)
    found = planned(asked, demo_sheet())
    assert "etch_primer" not in steps(found)
    # What strips paint may be made for it: that is said, and left to the shop.
    assert "strip" in steps(found)
    said = notes(found)["What must not go on"]
    assert "only with a product that is made for it" in said


def test_bumpers_and_mirror_caps_are_of_plastic_until_somebody_says() -> None:
    asked = request({}, panels=(("front_bumper", 1), ("mirror_cap", 2)), filler=True)
    found = planned(asked, demo_sheet())
    assert not {"etch_primer", "filler"} & set(steps(found))
    assert "adhesion_promoter" in steps(found)
    said = notes(found)["What the panels are made of"]
    assert "Mirror cap: taken to be plastic, because nobody said" in said
    steel = (("front_bumper", ("steel",)), ("mirror_cap", ("steel",)))
    told = replace(asked, details=Details(substrates=steel))
    assert {"etch_primer", "filler"} <= set(steps(planned(told, demo_sheet())))
    # Where the old paint stays on, what is under it does not matter.
    kept = replace(asked, bare_metal=False, filler=False)
    assert "adhesion_promoter" not in steps(planned(kept, demo_sheet()))


def test_on_a_panel_of_two_kinds_the_metal_is_etched() -> None:
    """Two fenders share one list: one of steel, one of plastic."""
    asked = request({"front_fender": ("steel", "plastic")}, bare_metal=False)
    found = planned(asked, demo_sheet())
    assert {"etch_primer", "adhesion_promoter"} <= set(steps(found))
    said = notes(found)["What must not go on"]
    assert "on Front fender (wing) (plastic) only where metal is" in said


def test_what_is_done_stays_in_the_job() -> None:
    """A job whose plastic was etched before anybody said what it is."""
    metal = planned(request({}), demo_sheet())
    done = []
    for each in metal.timeline:
        done.append((each.step.key, each.end + timedelta(minutes=1)))
        if each.step.key == "etch_primer":
            break
    told = request({"front_fender": ("glass_fibre",)}, done=tuple(done))
    assert steps(planned(told, demo_sheet()))["etch_primer"].share == pytest.approx(1.0)


def test_a_clear_coat_alone_asks_nothing_of_what_is_under_the_colour() -> None:
    both = (("front_fender", 1), ("front_bumper", 1))
    told = {"front_fender": ("steel",), "front_bumper": ("plastic",)}
    sets = [
        planned(request(each, kind="re_clear", panels=both, filler=True), demo_sheet())
        for each in ({}, told)
    ]
    plain, found = (list(steps(each)) for each in sets)
    assert found == plain
    assert [each.step.grits for each in sets[1].timeline if each.step.grits] == [
        (800,),
        (2000,),
    ]
    # What its heat and solvent may do to plastic still counts.
    said = notes(sets[1])["What the panels are made of"]
    assert "No bake hotter" in said
    assert "before the surfacer" not in said


def bears(under: tuple[str, ...], key: str) -> bool:
    found = [substrates()[each] for each in under]
    metal = any(each.primer for each in found)
    return metal or not any(key in each.forbids for each in found)


@SOME
@given(
    under=st.dictionaries(
        st.sampled_from(["hood", "front_door", "front_bumper", "mirror_cap"]),
        st.lists(st.sampled_from(list(substrates())), max_size=3, unique=True),
    ),
    bare=st.booleans(),
    filler=st.booleans(),
)
def test_no_step_covers_a_panel_that_forbids_it(
    under: dict[str, list[str]],
    bare: bool,  # noqa: FBT001 - drawn
    filler: bool,  # noqa: FBT001 - drawn
) -> None:
    four = ("hood", "front_door", "front_bumper", "mirror_cap")
    told = {panel: tuple(keys) for panel, keys in under.items()}
    found = planned(
        request(
            told,
            panels=tuple((panel, 1) for panel in four),
            bare_metal=bare,
            filler=filler,
        ),
        demo_sheet(),
    )
    for key, step in steps(found).items():
        borne = sum(AREAS[panel] for panel in four if bears(told.get(panel, ()), key))
        assert 0.0 < step.share * found.area_m2 <= borne + 1e-9
