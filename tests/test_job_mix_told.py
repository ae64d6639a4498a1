"""What a job says of its mixes, cans, prices and VOC, against the numbers behind it."""

import re
from dataclasses import replace
from functools import cache

import pytest

from shadecore.datafiles import data_file
from shadecore.job.estimate import ShopRates
from shadecore.job.job_file import parse_job
from shadecore.job.plan import Plan
from shadecore.job.planned import planned
from shadecore.pages.blocks import Document
from shadecore.pages.booth_sheet import booth_sheet
from shadecore.pages.estimate_page import estimate_page
from shadecore.pages.sheet_voc import voc_section
from shadecore.pages.text_layout import block_text, document_text
from shadecore.products.product import ProductSheet
from shadecore.products.sheet_file import demo_sheet
from shadecore.telling.limit_words import broken_limits

BLEND, RED, STAGES = (
    f"job-{each}.toml" for each in ("panel-blend", "red-car", "three-stage")
)
SHEET = demo_sheet()
NO_MID = replace(
    SHEET, products=tuple(each for each in SHEET.products if each.kind != "mid_coat")
)


@cache
def plan(name: str) -> Plan:
    return planned_on(name, SHEET)


def planned_on(name: str, sheet: ProductSheet) -> Plan:
    return planned(parse_job(data_file(name).read_text("utf-8"), name), sheet)


def told(page: Document) -> str:
    return " ".join(document_text(page).split())


@pytest.mark.parametrize("name", [BLEND, RED, STAGES])
def test_the_can_that_takes_the_reducer_is_one_that_is_bought(name: str) -> None:
    page = told(booth_sheet(plan(name)))
    base = next(e for e in plan(name).materials if e.product.kind == "base_coat")
    sizes = [size for size, _ in base.portions[0].cans]
    first, reducer = base.product.components
    for size in sizes:
        share = 1000.0 * size * reducer.parts / first.parts
        assert f"a can of {size:g} L takes {share:.0f} ml" in page
    assert len(re.findall(r"a can of [\d.]+ L takes", page)) == len(sizes)


def test_the_estimate_names_what_has_no_price() -> None:
    page = told(estimate_page(plan(BLEND), ShopRates(60.0)))
    names = "Wax and grease remover, Polyester filler and Polishing compound"
    assert f"{names}: this product line has no price for them" in page
    assert "Polyester filler" not in told(estimate_page(plan(STAGES), ShopRates(60.0)))


def test_a_let_down_panel_takes_as_long_as_its_flashes() -> None:
    """Ground 2 x 10 + 20, mid-coats 3 x 10 + 20, clear 5, and an hour to spray."""
    (panel,) = (e.step for e in plan(STAGES).timeline if e.step.key == "let_down_panel")
    assert panel.work_min == pytest.approx(60.0 + 40.0 + 50.0 + 5.0)


@pytest.mark.parametrize("sheet", [SHEET, NO_MID])
def test_three_stages_are_judged_together_and_nowhere_else(
    sheet: ProductSheet,
) -> None:
    """40 CFR 59.104(a)(2): (base + mid-coat + 2 clear) / 4, at most 630 g/L."""
    found = planned_on(STAGES, sheet)
    by_kind = {
        (each.product.kind, each.use): answer.voc_g_per_l
        for each in found.materials
        for answer in each.voc
        if answer.rule == "us_national"
    }
    base, clear = by_kind["base_coat", ""], by_kind["clear_coat", ""]
    (mid,) = (voc for (_, use), voc in by_kind.items() if use)
    together = (base + mid + 2.0 * clear) / 4.0
    blocks = voc_section(found).blocks
    page = " ".join("\n".join(block_text(each) for each in blocks).split())
    assert f"Base, mid-coat and {together:.0f} of 630 g/L clear together" in page
    # Nothing in the table is over without the banner's saying so.
    over = " ".join(broken_limits(found))
    table = page.split("US national rule")[0]
    for figure in {word for word in table.split() if word.replace(".", "").isdigit()}:
        if f"{figure} OVER" in table:
            assert f"{figure} OVER" in over
    assert f"{mid:.0f} OVER 630" not in page
    assert "mid-coat and clear" not in " ".join(broken_limits(plan(BLEND)))


def test_a_system_over_the_limit_is_said_at_the_top() -> None:
    thin = replace(
        SHEET.of_kind("clear_coat"),
        components=tuple(
            replace(each, voc_g_per_l=800.0, density_g_per_l=1000.0)
            for each in SHEET.of_kind("clear_coat").components
        ),
    )
    sheet = replace(
        SHEET,
        products=tuple(
            thin if each.kind == "clear_coat" else each for each in SHEET.products
        ),
    )
    over = " ".join(broken_limits(planned_on(STAGES, sheet)))
    assert "base, mid-coat and clear together 7" in over
