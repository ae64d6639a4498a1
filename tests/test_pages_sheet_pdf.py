"""The sheet as PDF: all of it, on two pages at most."""

import io
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from booth_sheets import (
    cells_of,
    changed,
    expected_texts,
    in_units,
    lines_of,
    pages,
    plan,
    read,
    section,
)
from pypdf import PdfReader

from shadecore.colour.angles import angle_readings
from shadecore.job.details import Details
from shadecore.job.job_file import parse_job
from shadecore.job.own_steps import StepChange
from shadecore.job.plan import Plan, plan_job
from shadecore.job.planned import planned
from shadecore.job.request import JobRequest
from shadecore.job.step_sets import step_sets
from shadecore.pages.blocks import Document, Section, Strokes, Swatch, Swatches, Table
from shadecore.pages.booth_sheet import booth_sheet
from shadecore.pages.cautions_sheet import cautions_sheet
from shadecore.pages.html_layout import document_html
from shadecore.pages.letterhead import Letterhead
from shadecore.pages.pdf_layout import document_pdf, fitting
from shadecore.prints import booth_pdf, cautions_pdf
from shadecore.products.product import Product
from shadecore.products.sheet_file import demo_sheet
from shadecore.question.answer import answer
from shadecore.question.question import Mixing, Question

EXAMPLES_IN = Path(__file__).resolve().parents[1] / "data"
EXAMPLES = ("demo-job", "job-panel-blend", "job-red-car", "job-three-stage")
A4_MM, LETTER_MM = (210.0, 297.0), (215.9, 279.4)
MM_PER_POINT = 25.4 / 72.0
PAPERS = ("A4", "Letter")


def with_own_steps(job: JobRequest, own: tuple[StepChange, ...]) -> Plan:
    job = replace(job, details=Details(changes=own))
    return plan_job(job, demo_sheet(), answer(job.question))


def font_sizes(reader: PdfReader) -> dict[str, float]:
    """Size that each first word of a text is set in. In points."""
    found: dict[str, float] = {}

    def visit(text: str, _: object, __: object, ___: object, size: float) -> None:
        if text.strip():
            found.setdefault(text.split(maxsplit=1)[0], size)

    for page in reader.pages:
        page.extract_text(visitor_text=visit)
    return found


@pytest.mark.parametrize(
    ("units", "paper", "size"),
    [("metric", "A4", A4_MM), ("us", "Letter", LETTER_MM), ("us", "A4", A4_MM)],
)
def test_the_pdf_of_the_demo_job(
    units: str, paper: str, size: tuple[float, float]
) -> None:
    pdf = document_pdf(in_units(units), paper)
    reader = PdfReader(io.BytesIO(pdf))
    assert 1 <= len(reader.pages) <= 2
    for page in reader.pages:
        box = page.mediabox
        found = (float(box.width) * MM_PER_POINT, float(box.height) * MM_PER_POINT)
        assert found == pytest.approx(size, abs=0.1)
    text = " ".join(pages(pdf))
    for wanted in expected_texts(plan()):
        assert wanted in text, wanted
    assert reader.metadata is not None
    assert reader.metadata.title == plan().request.name


SILVER = angle_readings(
    [(15.0, (108, 0, -1)), (45.0, (36, 0, -1)), (110.0, (13, 0, -2))]
)
"""Invented."""
JOBS = {
    "plain": (Question(), ""),
    "cold and dented": (Question(), ""),
    "three-stage": (Question(colour="92 0 2", kind="three-stage"), "whole_car"),
    "metallic": (Question(colour="", kind="metallic", angles=SILVER), "two_tone"),
}


@pytest.mark.parametrize(
    ("name", "units"), list(zip(JOBS, ("metric", "us") * 2, strict=True))
)
def test_two_pages_at_most_and_none_too_small(name: str, units: str) -> None:
    """Also with effect colours and steps of the shop's own, and 29 steps."""
    question, steps = JOBS[name]
    question = replace(question, units=units, mixing=Mixing(allowed=False))
    job = replace(
        plan().request,
        question=question,
        flattest=name != "plain",
        **({"air_c": 5.0, "panel_c": 4.0, "humidity": 0.95} if "cold" in name else {}),
    )
    own = step_sets()[steps].changes if steps else ()
    found = with_own_steps(job, own)
    reader = PdfReader(io.BytesIO(booth_pdf(found)))
    assert len(reader.pages) <= 2
    assert min(font_sizes(reader).values()) >= 10.0


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("name", EXAMPLES)
def test_each_example_fits_under_a_shops_name(name: str, units: str) -> None:
    file = EXAMPLES_IN / f"{name}.toml"
    job = parse_job(file.read_text("utf-8"), file.name)
    found = planned(
        replace(job, question=replace(job.question, units=units)), demo_sheet()
    )
    shop = Letterhead("Zebra Body Works")
    sheet, cautions = booth_pdf(found, None, shop), cautions_pdf(found, None, shop)
    for pdf in (sheet, cautions):
        reader = PdfReader(io.BytesIO(pdf))
        assert len(reader.pages) <= 2
        assert min(font_sizes(reader).values()) >= 10.0
        assert "Zebra Body Works" in pages(pdf)[0]
    both = " ".join([*pages(sheet), *pages(cautions)])
    for wanted in (*(each.step.check for each in found.timeline), *found.cautions):
        assert (wanted if isinstance(wanted, str) else wanted[1]) in both


@pytest.mark.parametrize("name", ["n" * 300, "Abc" * 1000, "two words " * 60])
def test_long_names_leave_the_pdf_whole(name: str) -> None:
    best = plan().answer.recommended
    answer = replace(
        plan().answer,
        recommended=replace(best, undercoat=replace(best.undercoat, name=name)),
    )
    products = tuple(
        replace(
            each,
            name=name,
            components=tuple(replace(part, name=name) for part in each.components),
            reducers=tuple(replace(grade, name=name) for grade in each.reducers),
        )
        for each in demo_sheet().products
    )
    request = replace(plan().request, name=name, panel_c=3.0, air_c=3.0)
    long = plan_job(
        request, replace(demo_sheet(), name=name, products=products), answer
    )
    sheet = booth_sheet(long)
    found = pages(document_pdf(sheet))
    # Letters stay as large as they are, so that names without a blank take a page more.
    assert len(found) <= 3
    for each in long.timeline:
        assert each.start.strftime("%H:%M") in " ".join(found)
    assert name not in document_html(sheet)


def test_times_are_never_broken() -> None:
    found = changed(flattest=True)
    text = " ".join(pages(document_pdf(booth_sheet(found))))
    for each in found.timeline:
        assert f"{each.start:%H:%M}\N{EN DASH}" in text


def test_every_cell_of_every_table_is_on_the_pdf() -> None:
    sheet = booth_sheet(plan())
    text = " ".join(pages(document_pdf(sheet)))
    assert fitting(sheet).core == sheet.core
    for each in fitting(sheet).sections:
        assert each.title in text
        for cell in cells_of(each):
            assert " ".join(cell.split()) in text, cell
        for line in lines_of(each):
            assert line in text, line


def test_the_pdf_takes_all_names() -> None:
    name = "<b>Door</b> & <para> \"x\" 100 % 'ü' 中"
    text = " ".join(pages(document_pdf(booth_sheet(changed(name=name)))))
    # The built-in fonts have no Chinese; a question mark stands for it.
    assert name.replace("中", "?") in text


@pytest.mark.parametrize("lightness", [0.0, 100.0])
def test_swatches_at_the_ends(lightness: float) -> None:
    swatch = Swatches((Swatch((lightness, 0.0, 0.0), "One", "two"),))
    sheet = Document("T", "s", (swatch,), (Section("Only"),))
    assert "One two" in pages(document_pdf(sheet))[0]
    colour = "#000000" if lightness == 0.0 else "#ffffff"
    assert f"background:{colour}" in document_html(sheet)


def test_a_long_table_goes_on_with_its_heading() -> None:
    table = Table(("Step", "Time"), tuple((f"row {n}", str(n)) for n in range(120)))
    sheet = Document("T", "s", (), (Section("Long", (table,)),))
    found = pages(document_pdf(sheet))
    assert len(found) > 1
    assert all("Step Time" in page for page in found if "row" in page)
    assert sum("row" in page for page in found) > 1
    assert all(f"row {n}" in " ".join(found) for n in range(120))


def test_the_same_plan_gives_the_same_content() -> None:
    assert booth_sheet(plan()) == booth_sheet(changed())
    assert document_html(booth_sheet(plan())) == document_html(booth_sheet(changed()))
    assert pages(document_pdf(booth_sheet(plan()))) == pages(
        document_pdf(booth_sheet(changed()))
    )


def bare_products() -> tuple[Product, ...]:
    """Those of a sheet from before there were cups, categories and cartridges."""
    return tuple(
        replace(each, viscosity=None, voc_categories={}, breathing=(), cartridge="")
        for each in demo_sheet().products
    )


@cache
def plain_job() -> Plan:
    """A short job, of a sheet from before there were cups and cartridges."""
    own = step_sets()["re_clear"].changes
    job = replace(
        plan().request,
        filler=False,
        bare_metal=False,
        details=Details(changes=own),
    )
    sheet = replace(demo_sheet(), products=bare_products())
    return plan_job(job, sheet, plan().answer)


def purposes(plan: Plan) -> list[str]:
    return [each.step.purpose for each in plan.timeline]


def test_what_each_step_is_for_is_printed_where_there_is_room() -> None:
    sheet = replace(cautions_sheet(plain_job()), most_pages=2)
    for paper in PAPERS:
        text = " ".join(pages(document_pdf(sheet, paper)))
        assert [each for each in purposes(plain_job()) if each not in text] == []
    said = read(document_html(sheet)).text
    assert [each for each in purposes(plain_job()) if each not in said] == []


def test_what_can_be_spared_is_left_out_before_the_print_grows() -> None:
    kept = set()
    for sheet in (cautions_sheet(plan()), cautions_sheet(plain_job())):
        found = fitting(sheet)
        assert found.core == sheet.core
        kept.add(found == sheet)
        assert len(pages(document_pdf(sheet))) == 1
    assert kept == {True, False}


def test_pages_that_come_apart_say_whose_they_are() -> None:
    found = pages(document_pdf(booth_sheet(plan())))
    assert [f"Page {n} of {len(found)}" in each for n, each in enumerate(found, 1)]
    assert all(plan().request.name in each for each in found)
    (only,) = pages(document_pdf(cautions_sheet(plain_job())))
    assert "Page 1" not in only


def test_the_strokes_are_drawn_with_numbers_that_are_read() -> None:
    """A panel of 60 cm takes six strokes at 50 % of a fan of 25 cm, nine at 70 %."""
    pdf = document_pdf(booth_sheet(plan()))
    text = " ".join(pages(pdf))
    assert "6 strokes" in text
    assert "9 strokes" in text
    drawn = section(booth_sheet(plan()), "Strokes").blocks
    numbers = max(len(each.places_cm) for each in drawn if isinstance(each, Strokes))
    assert f" {numbers} " in text
