"""Two-pack paint in an open shop or a booth: who breathes what, and until when.

That supplied air stays on for half an hour after spraying in an open workshop: HSE
guidance on two-pack spraying in vehicle repair.
"""

from datetime import datetime, timedelta
from functools import cache

import pytest

from shadecore.job.details import Details
from shadecore.job.own_steps import StepChange
from shadecore.job.plan import Plan
from shadecore.job.planned import planned
from shadecore.job.request import JobRequest
from shadecore.job.safety import Booth
from shadecore.job.schedule import Timed
from shadecore.pages.blocks import Document
from shadecore.pages.booth_sheet import booth_sheet
from shadecore.pages.cautions_sheet import cautions_sheet
from shadecore.pages.sheet_safety import step_section
from shadecore.pages.sheet_schedule import safety_of
from shadecore.pages.text_layout import document_text
from shadecore.products.sheet_file import demo_sheet
from shadecore.question.question import Question
from shadecore.telling.safety_words import mask_words, mind_words
from shadecore.telling.window_words import broken_words

START = datetime.fromisoformat("2026-03-02T08:00")
CLEARING = timedelta(minutes=30)


@cache
def plan(**asked: object) -> Plan:
    red = Question("45 60 35")
    request = JobRequest(START, **{"area_m2": 1.0, "question": red, **asked})  # type: ignore[arg-type]
    return planned(request, demo_sheet())


def keys(found: Plan) -> list[str]:
    return [each.step.key for each in found.timeline]


@pytest.mark.parametrize("panel_c", [11.0, 21.0, 36.0])
def test_supplied_air_stays_on_in_an_open_shop(panel_c: float) -> None:
    """Half an hour for an open workshop, in any weather: HSE guidance."""
    own = Details(changes=(StepChange("unmask"), StepChange("let_down_panel")))
    found = plan(place="open_shop", cure="lamp", details=own, panel_c=panel_c)
    until, supplied = found.timeline[0].start, ("supplied_air",)
    at_once = set()
    for each in found.timeline:
        worn = safety_of(found, each).breathing
        if each.start < until:
            assert worn == supplied, each.step.key
            assert each.air_until is not None
            assert each.air_until >= until
            at_once.add(each.step.key)
        if "isocyanate" in each.step.cautions and each.step.coats:
            assert worn == supplied
            until = each.end + CLEARING
    # What follows within its window, and the gun; nobody else goes in.
    assert {"base_coat", "clean_gun"} <= at_once
    assert at_once <= {"base_coat", *(k for k in keys(found) if k.startswith("clean"))}


def step(found: Plan, key: str) -> Timed:
    return next(each for each in found.timeline if each.step.key == key)


def test_supplied_air_stays_on_until_a_booth_has_cleared() -> None:
    """For its measured clearance time, or that of an open shop: HSE guidance."""
    base_masks = {}
    for minutes in (0.0, 3.0, 10.0, 25.0):
        found = plan(booth_clearance_min=minutes)
        sealer, base = step(found, "sealer"), step(found, "base_coat")
        clear_at = sealer.end + (timedelta(minutes=minutes) if minutes else CLEARING)
        assert sealer.air_until == clear_at
        # Nothing waits for it in a booth: the colour follows by the sealer's window.
        assert base.start < sealer.end + timedelta(minutes=16)
        inside = base.start < clear_at
        assert base.air_until == (clear_at if inside else None)
        base_masks[minutes] = mask_words(safety_of(found, base))
        told = mind_words(safety_of(found, base))
        assert (f"Supplied air till {clear_at:%H:%M}." in told) == inside
        said = document_text(Document("", "", (), (step_section(found, base),)))
        assert (f"Supplied air till {clear_at:%H:%M}" in said) == inside
    assert base_masks == {
        **dict.fromkeys((0.0, 25.0), "supplied air"),
        **dict.fromkeys((3.0, 10.0), "vapour and particle mask A2-P3"),
    }


def test_nobody_is_in_a_booth_that_bakes() -> None:
    for cure, kept in (("bake", False), ("air", False), ("lamp", True)):
        cured = step(plan(cure=cure), "cure")
        assert (cured.air_until is not None) == kept


def test_a_clearance_time_is_told_with_the_job_or_with_the_booth() -> None:
    for sheet, wanted in (
        (cautions_sheet, "Measured clearance time 25 min"),
        (booth_sheet, "Booth clears in, min: 25."),
    ):
        alone = document_text(sheet(plan(), Booth(clearance_min=25.0)))
        assert alone == document_text(sheet(plan(booth_clearance_min=25.0)))
        assert wanted in " ".join(alone.split())


def test_the_sheet_of_an_open_shop_asks_nothing_of_a_booth() -> None:
    shop, booth = (
        document_text(cautions_sheet(plan(place=place, cure="air")))
        for place in ("open_shop", "booth")
    )
    said = " ".join(shop.split())
    assert "30 min after the last coat" in said
    assert "Booth on" not in said
    assert "Booth, m3" not in said
    assert "HSE" in said
    assert "30 min after the last coat" not in " ".join(booth.split())


def test_air_that_somebody_went_into_too_early() -> None:
    found = plan(place="open_shop", cure="lamp")
    place = keys(found).index("surfacer")
    done = tuple((e.step.key, e.end) for e in found.timeline[: place + 2])
    end = found.timeline[place].end + timedelta(minutes=20)
    early = plan(place="open_shop", cure="lamp", done=(*done, ("block_sand", end)))
    sanded = next(each for each in early.timeline if each.step.key == "block_sand")
    assert "before the air was clear" in broken_words(sanded)
