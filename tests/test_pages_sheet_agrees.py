"""The sheet agrees with itself: coats, cans and what the painter chose."""

import math
import re
from dataclasses import replace
from datetime import datetime

import pytest

from shadecore.job.plan import Plan
from shadecore.job.planned import planned
from shadecore.job.request import JobRequest
from shadecore.pages.blocks import Table, as_cell
from shadecore.pages.booth_sheet import booth_sheet, with_car
from shadecore.pages.html_drawn import BY_HAND_STYLE
from shadecore.pages.html_layout import document_html
from shadecore.pages.text_layout import document_text
from shadecore.products.sheet_file import demo_sheet
from shadecore.question.question import Question
from shadecore.screens.plan.pictures import STYLE, chosen_html
from shadecore.undercoats.shelf import undercoat

START = datetime(2026, 12, 1, 8)  # noqa: DTZ001 - the shop's own clock
RED = Question("45 60 35")


def plan(**asked: object) -> Plan:
    request: dict[str, object] = {"area_m2": 2.0, "question": RED, **asked}
    job = JobRequest(START, **request)  # type: ignore[arg-type]
    return planned(job, demo_sheet())


def said(found: Plan) -> str:
    """All of the sheet, its lines joined."""
    return " ".join(document_text(booth_sheet(found)).split())


@pytest.mark.parametrize("coats", [0, 2, 5])
def test_the_top_of_the_sheet_plans_the_coats_that_are_mixed(coats: int) -> None:
    found = plan(coats=coats)
    (base,) = (m for m in found.materials if m.product.kind == "base_coat")
    sheet = said(found)
    told = re.findall(r"(\d+) coats? planned", sheet)
    assert told == [f"{base.coats}"]
    assert "have paint for" not in sheet


def test_the_sheet_says_for_how_many_coats_the_cans_are_enough() -> None:
    """The scarcest component's cans, less what stays in the gun, coat by coat."""
    found = plan(area_m2=2.0)
    (base,) = (m for m in found.materials if m.product.kind == "base_coat")
    parts = sum(each.parts for each in base.product.components)
    held_l = min(
        sum(size * number for size, number in each.cans) * parts / each.component.parts
        for each in base.portions
    )
    loss = found.request.cup_loss_l
    coats = math.floor((held_l - loss) / ((base.ready_l - loss) / base.coats))
    assert coats > base.coats
    assert f"cans for {coats}" in said(found)


def test_the_large_number_of_the_page_is_the_planned_one() -> None:
    best = plan().answer.recommended.coats
    assert best is not None
    own = chosen_html(plan(coats=best + 2))
    assert f"<b>{best + 2}</b>coats planned" in own
    assert f"To hide: {best}." in own
    assert f"<b>{best}</b>coats to hide" in chosen_html(plan())


def test_what_the_book_knows_of_the_car_is_printed_and_not_asked() -> None:
    bare = booth_sheet(plan())
    told = {"Car": "Saloon, 2014", "Plate": "AB 12", "Paint code": "", "Painter": " "}
    words = " ".join(document_text(with_car(bare, told)).split())
    assert "Car: Saloon, 2014. Plate: AB 12." in words
    assert "Plate __" not in words
    assert "Paint code __" in words
    assert "Painter __" in words
    assert with_car(bare, dict.fromkeys(told, "")) == bare


def test_each_sprayed_step_of_the_schedule_names_its_coats() -> None:
    found = plan()
    schedule = next(e for e in booth_sheet(found).sections if e.title == "Schedule")
    (table,) = (each for each in schedule.blocks if isinstance(each, Table))
    for each, row in zip(found.timeline, table.rows, strict=True):
        coats = each.step.coats
        told = f"{each.step.title}, {coats} coat"
        assert (told in as_cell(row[1]).text) == bool(coats)


def test_the_sheet_pours_the_shops_own_can_by_its_name() -> None:
    own = (undercoat("My white", (90.0, 0.0, 2.0)), undercoat("My dark", (25.0, 0, 0)))
    found = plan(question=replace(RED, shelf=own))
    (sealer,) = (m for m in found.materials if m.product.kind == "sealer")
    picked = found.picked.undercoat
    assert picked in {each.name for each in own}
    assert picked in {each.component.name for each in sealer.portions}
    invented = next(m for m in plan().materials if m.product.kind == "sealer")
    poured = {each.component.name for each in invented.portions}
    assert poured == {each.name for each in demo_sheet().of_kind("sealer").components}


def test_lines_to_write_on_are_styled_on_the_page_as_in_print() -> None:
    assert BY_HAND_STYLE in document_html(booth_sheet(plan()))
    assert BY_HAND_STYLE in STYLE
