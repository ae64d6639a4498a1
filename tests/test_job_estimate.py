"""Cost and time of a job against sums worked out by hand."""

from datetime import datetime

import pytest

from shadecore.errors import JobError
from shadecore.job.estimate import Outcome, ShopRates, estimate
from shadecore.job.material import Material
from shadecore.job.schedule import schedule
from shadecore.job.steps import job_steps
from shadecore.products.materials import mix_parts
from shadecore.products.sheet_file import demo_sheet

SHEET = demo_sheet()
STEPS = job_steps(SHEET, 3, "", bare_metal=False, filler=False, flattest=False)
MORNING = datetime(2026, 3, 2, 8, 0)  # noqa: DTZ001 - the shop's own time
TIMED = schedule(STEPS, SHEET, MORNING, SHEET.reference_c)
CLEAR = SHEET.of_kind("clear_coat")
MATERIAL = Material(CLEAR, 2, 0.9, mix_parts(CLEAR, 0.9), "", "", ())


def test_hours_are_those_of_the_steps() -> None:
    """A base coat: 10 min to mix, 3 times 10 to spray, 2 flashes of 10."""
    found = estimate(TIMED, [], ShopRates(60.0))
    hours = dict(found.steps)
    flash = SHEET.of_kind("base_coat").windows.flash_min
    assert hours["base_coat"] * 60.0 == pytest.approx(40.0 + 2.0 * flash)
    assert hours["wash"] * 60.0 == pytest.approx(20.0)
    assert found.hours == pytest.approx(sum(hours.values()))
    assert found.labour == pytest.approx(60.0 * found.hours)
    assert (found.material, found.tax) == (0.0, 0.0)


def test_money() -> None:
    found = estimate(TIMED[:1], [MATERIAL], ShopRates(60.0, 20.0, 15.0, 10.0))
    cans = sum(each.cost for each in MATERIAL.portions)
    assert found.materials == (("clear_coat", cans),)
    assert found.net == pytest.approx(20.0 + 1.2 * cans + 15.0)
    assert found.total == pytest.approx(1.1 * found.net)


def test_what_it_took_in_the_end() -> None:
    found = estimate(TIMED[:1], [MATERIAL], ShopRates(60.0, 20.0))
    outcome = Outcome(found, hours=1.0, material=MATERIAL.cost + 5.0)
    assert outcome.hours_over == pytest.approx(40.0 / 60.0)
    assert outcome.cost_over == pytest.approx(40.0 + 5.0)


def test_curing_costs_nobody_an_hour() -> None:
    full = job_steps(SHEET, 3, "", bare_metal=False, filler=False, flattest=True)
    timed = schedule(full, SHEET, MORNING, SHEET.reference_c)
    hours = dict(estimate(timed, [], ShopRates(60.0)).steps)
    assert hours["cure"] == 0.0


@pytest.mark.parametrize("wrong", [-1.0, float("nan"), float("inf"), 1e9])
def test_numbers_that_cannot_be(wrong: float) -> None:
    for rates in ((wrong,), (1.0, wrong), (1.0, 1.0, wrong), (1.0, 1.0, 1.0, wrong)):
        with pytest.raises(JobError, match="must be from 0 to"):
            ShopRates(*rates)
    found = estimate(TIMED, [], ShopRates(60.0))
    with pytest.raises(JobError, match="The hours that it took must be"):
        Outcome(found, wrong, 1.0)
    with pytest.raises(JobError, match="What the materials cost must be"):
        Outcome(found, 1.0, wrong)
