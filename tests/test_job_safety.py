"""Safety at its step: what is breathed through, what is open, when the air is clear."""

import math
from dataclasses import replace

import pytest

from shadecore.errors import JobError
from shadecore.job.material import Material
from shadecore.job.safety import (
    BREATHING_OF,
    WASTE,
    Booth,
    air_changes_per_h,
    clearing_min,
    open_solvent_kg,
    open_solvent_l,
    opened_cans_l,
    step_safety,
)
from shadecore.job.steps import job_steps
from shadecore.job.trade_steps import trade_steps
from shadecore.products.materials import mix_parts
from shadecore.products.product import HAZARDS
from shadecore.products.sheet_file import demo_sheet
from shadecore.telling.safety_words import BY_THE_SHEET, product_words

SHEET = demo_sheet()
STEPS = {
    step.key: step
    for step in job_steps(SHEET, 3, "", bare_metal=True, filler=True, flattest=True)
}


def test_each_hazard_has_its_mask_and_its_waste() -> None:
    assert set(BREATHING_OF) == set(WASTE) == set(HAZARDS)


def test_isocyanate_asks_for_supplied_air() -> None:
    """HSE guidance on two-pack spraying in vehicle repair."""
    for key in ("surfacer", "sealer", "clear_coat"):
        assert step_safety(STEPS[key]).breathing == ("supplied_air",)
    assert step_safety(STEPS["base_coat"]).breathing == ("vapour_cartridge",)
    assert step_safety(STEPS["block_sand"]).breathing == ("particle_filter",)
    # Filler smells and is sanded: both filters at once.
    filler = step_safety(STEPS["filler"])
    assert filler.breathing == ("vapour_cartridge", "particle_filter")
    assert filler.waste == ("solvent_and_rags", "sanding_dust", "peroxide_rests")
    assert step_safety(STEPS["wash"]).breathing == ()
    assert step_safety(STEPS["wash"]).cautions == ()
    assert {hazard for hazard, _ in step_safety(STEPS["sealer"]).cautions} == {
        "isocyanate",
        "solvent",
    }


def test_each_product_is_told_its_own_cautions() -> None:
    """No isocyanate where there is none; acid and peroxide also by the kind alone."""
    said = {each.key: product_words(each) for each in SHEET.products}
    for each in SHEET.products:
        isocyanate = "isocyanate" in each.hazards
        assert ("Supplied air" in said[each.key]) == isocyanate
        assert BY_THE_SHEET in said[each.key]
    assert "Acid" in said["etch_primer"]
    assert "Peroxide" in said["filler"]
    # A shop's older sheet does not list them.
    for key, word in (("etch_primer", "Acid"), ("filler", "Peroxide")):
        old = replace(SHEET.of_kind(key), hazards=("solvent",))
        assert word in product_words(old)
    assert "stripper" in trade_steps()["strip"].hazards


def test_what_is_open_with_solvent_in_it() -> None:
    base, clear = SHEET.of_kind("base_coat"), SHEET.of_kind("clear_coat")
    polish = SHEET.of_kind("polish")
    materials = [
        Material(product, 1, litres, (), "", "", ())
        for product, litres in ((base, 1.5), (clear, 0.5), (polish, 9.0))
    ]
    assert "solvent" not in polish.hazards
    assert open_solvent_l(materials) == pytest.approx(2.0)


def test_solvent_and_cans_that_are_open() -> None:
    """0.3 L of 1:1: 0.15 L at 447 + 63 g/L and 0.15 L at 344 + 474 g/L, by hand."""
    base = SHEET.of_kind("base_coat")
    mixed = Material(base, 1, 0.3, mix_parts(base, 0.3), "", "", ())
    assert open_solvent_kg([mixed]) == pytest.approx(0.15 * (0.510 + 0.818))
    # A can of 0.25 L and a litre of reducer.
    assert opened_cans_l([mixed]) == pytest.approx(1.25)


def test_a_sheet_may_ask_for_more_than_the_hazards_and_never_for_less() -> None:
    base, clear = SHEET.of_kind("base_coat"), SHEET.of_kind("clear_coat")
    found = step_safety(STEPS["base_coat"], base)
    assert found.breathing == ("vapour_cartridge", "particle_filter")
    assert found.cartridge == "A2-P3"
    less = replace(clear, breathing=("particle_filter",), cartridge="P2")
    found = step_safety(STEPS["clear_coat"], less)
    assert (found.breathing, found.cartridge) == (("supplied_air",), "")


def test_what_a_booth_is_known_by() -> None:
    booth = Booth(100.0, 6000.0, 12.0)
    assert booth.changes_per_h == pytest.approx(60.0)
    assert booth.purge_min == pytest.approx(math.log(100.0))
    for unknown in (Booth(), Booth(100.0), Booth(flow_m3_per_h=6000.0)):
        assert (unknown.changes_per_h, unknown.purge_min) == (None, None)
    with pytest.raises(JobError, match="The booth's clearance time must be from"):
        Booth(clearance_min=-1.0)


def test_when_the_air_is_clear() -> None:
    """Each change of well mixed air leaves 1/e of what was in it."""
    assert air_changes_per_h(100.0, 6000.0) == pytest.approx(60.0)
    assert clearing_min(100.0, 6000.0, math.exp(-1)) == pytest.approx(1.0)
    assert clearing_min(100.0, 6000.0, math.exp(-5)) == pytest.approx(5.0)
    assert clearing_min(200.0, 6000.0, 0.01) == pytest.approx(2.0 * math.log(100.0))


@pytest.mark.parametrize("wrong", [0.0, -1.0, float("nan"), float("inf"), 1e9])
def test_a_booth_that_cannot_be(wrong: float) -> None:
    with pytest.raises(JobError, match="The booth's volume must be from 1 to 10000 m3"):
        clearing_min(wrong, 6000.0, 0.01)
    with pytest.raises(JobError, match="The booth's flow of air must be from 1"):
        clearing_min(100.0, wrong, 0.01)
    with pytest.raises(JobError, match="must be above 0 and below 1"):
        clearing_min(100.0, 6000.0, wrong)
