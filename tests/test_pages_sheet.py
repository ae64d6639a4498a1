"""The sheet: what stands on it, and that HTML and PDF show all of it."""

import io
import re
from dataclasses import replace
from functools import cache
from html import unescape
from html.parser import HTMLParser
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from shadecore.colour.angles import angle_readings
from shadecore.job.details import Details
from shadecore.job.job_file import parse_job
from shadecore.job.own_steps import StepChange
from shadecore.job.plan import Plan, plan_job
from shadecore.job.planned import planned as plan_request
from shadecore.job.request import JobRequest
from shadecore.job.step_sets import step_sets
from shadecore.pages.blocks import (
    Cell,
    Document,
    Section,
    Swatch,
    Swatches,
    Table,
    Text,
    as_cell,
)
from shadecore.pages.booth_sheet import booth_sheet
from shadecore.pages.calendar import to_icalendar
from shadecore.pages.html_layout import document_html
from shadecore.pages.pdf_layout import document_pdf, fitting, fitting_scale
from shadecore.products.product import Product
from shadecore.products.sheet_file import demo_sheet
from shadecore.question.answer import answer
from shadecore.question.question import Mixing, Question
from shadecore.telling.colours import lab_words
from shadecore.telling.counts import planned_words
from shadecore.telling.job_words import voc_in_brief
from shadecore.telling.names import sealer_words
from shadecore.telling.weather_words import plan_stops
from shadecore.telling.window_words import broken_words
from shadecore.units import UNITS

DEMO = Path(__file__).resolve().parents[1] / "data" / "demo-job.toml"
A4_MM, LETTER_MM = (210.0, 297.0), (215.9, 279.4)
MM_PER_POINT = 25.4 / 72.0
SECTIONS = (
    *("Weather", "Schedule", "What each step is for"),
    *("Mix for 1.5 m²", "VOC, ready to spray, and the limit", "Gun"),
    *("Viscosity, ready to spray", "Strokes on a panel 60 cm high"),
    *("Safety", "Cautions", "Measured and assumed"),
)


@cache
def plan() -> Plan:
    return plan_request(parse_job(DEMO.read_text("utf-8"), DEMO.name), demo_sheet())


def changed(**fields: object) -> Plan:
    """The demo job's plan with other fields in its request."""
    request = replace(plan().request, **fields)  # type: ignore[arg-type]
    return plan_job(request, demo_sheet(), plan().answer)


def with_own_steps(job: JobRequest, own: tuple[StepChange, ...]) -> Plan:
    job = replace(job, details=Details(changes=own))
    return plan_job(job, demo_sheet(), answer(job.question))


def in_units(units: str) -> Document:
    return booth_sheet(changed(question=replace(plan().request.question, units=units)))


def pages(pdf: bytes) -> list[str]:
    """Text of each page, its white space made single blanks."""
    return [
        " ".join(page.extract_text().split())
        for page in PdfReader(io.BytesIO(pdf)).pages
    ]


def section(sheet: Document, start: str) -> Section:
    return next(each for each in sheet.sections if each.title.startswith(start))


def font_sizes(reader: PdfReader) -> dict[str, float]:
    """Size that each first word of a text is set in. In points."""
    found: dict[str, float] = {}

    def visit(text: str, _: object, __: object, ___: object, size: float) -> None:
        if text.strip():
            found.setdefault(text.split(maxsplit=1)[0], size)

    for page in reader.pages:
        page.extract_text(visitor_text=visit)
    return found


def tables_of(section: Section) -> list[Table]:
    return [each for each in section.blocks if isinstance(each, Table)]


def lines_of(section: Section) -> list[str]:
    return [each.text for each in section.blocks if isinstance(each, Text)]


def rows(sheet: Document, start: str) -> list[tuple[str, ...]]:
    """Texts of a section's table, row by row."""
    (table,) = tables_of(section(sheet, start))
    return [tuple(as_cell(field).text for field in row) for row in table.rows]


def cells_of(section: Section) -> list[str]:
    return [
        as_cell(field).text
        for table in tables_of(section)
        for row in table.rows
        for field in row
    ]


def boxes(sheet: Document) -> list[bool | None]:
    """Whether the box of each step is ticked; None where there is none."""
    (table,) = tables_of(section(sheet, "Schedule"))
    return [as_cell(row[0]).ticked for row in table.rows]


def swatches_of(sheet: Document) -> tuple[tuple[Swatch, ...], ...]:
    found = (each for each in sheet.blocks if isinstance(each, Swatches))
    return tuple(each.swatches for each in found)


def expected_texts(plan: Plan) -> list[str]:
    """What has to be read on any layout of a plan's sheet."""
    best = plan.answer.recommended.undercoat
    return [
        plan.request.name,
        plan.sheet.name,
        *(each.step.title for each in plan.timeline),
        *(each.step.check for each in plan.timeline),
        *(each.product.name for each in plan.materials),
        *(part.component.name for each in plan.materials for part in each.portions),
        *(text for _, text in plan.cautions),
        "rule of thumb",
        "data sheet",
        "check your local rule",
        lab_words(plan.answer.topcoat.lab),
        sealer_words(best),
    ]


class Reader(HTMLParser):
    """Tags, attributes and text of a page; complains where tags do not match."""

    VOID = frozenset({"meta", "br", "col"})

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: set[str] = set()
        self.attributes: list[tuple[str, str | None]] = []
        self.said: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Keep a tag and its attributes."""
        self.tags.add(tag)
        self.attributes += attrs
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        """Close the tag that was opened last, or complain."""
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        """Keep what is read, which a style is not."""
        if self.open and self.open[-1] != "style":
            self.said.append(data)

    @property
    def text(self) -> str:
        """All that is read, its white space made single blanks."""
        return " ".join(" ".join(self.said).split())


def read(page: str) -> Reader:
    reader = Reader()
    reader.feed(page)
    reader.close()
    assert reader.open == []
    return reader


def test_sections() -> None:
    assert tuple(each.title for each in booth_sheet(plan()).sections) == SECTIONS


def test_the_schedule_has_a_row_to_tick_for_each_step() -> None:
    found = rows(booth_sheet(plan()), "Schedule")
    titles = [re.sub(r" \(P.*|, \d+ coats?$", "", row[1]) for row in found]
    assert titles == [
        f"{number}. {each.step.title}" for number, each in enumerate(plan().timeline, 1)
    ]
    grits = {row[1].partition(" (")[2] for row in found}
    assert grits == {"", "P80, P180, P320)", "P400)", "P400, P600)", "P2000)"}
    assert set(boxes(booth_sheet(plan()))) == {False}
    first, second = found[0], found[1]
    assert first[2] == "Tue 01 Dec 08:00\N{EN DASH}08:20"
    assert second[2] == "08:20\N{EN DASH}08:30"


def test_the_day_is_named_where_it_changes() -> None:
    days = {
        row[1]: row[2]
        for row, before, each in zip(
            rows(booth_sheet(plan()), "Schedule")[1:],
            plan().timeline,
            plan().timeline[1:],
            strict=False,
        )
        if each.start.date() != before.start.date()
    }
    assert days
    assert all(
        re.fullmatch(r"\w{3} \d\d \w{3} \d\d:\d\d\W\d\d:\d\d", day)
        for day in days.values()
    )


def test_a_step_that_is_done_is_ticked() -> None:
    done = (("wash", plan().timeline[0].end),)
    sheet = booth_sheet(changed(done=done))
    first, *others = boxes(sheet)
    assert first is True
    assert set(others) == {False}
    times = [row[4] for row in rows(sheet, "Schedule")]
    assert times[0] == done[0][1].strftime("%H:%M")
    # What is still to do leaves room for a pen.
    assert set(times[1:]) == {""}


def test_a_missed_window_is_told_under_the_schedule() -> None:
    """A week off after the etch primer leaves its window behind."""
    night = plan().request.breaks[0]
    etched = next(each for each in plan().timeline if each.step.key == "etch_primer")
    week = replace(night, start=etched.end, end=etched.end.replace(day=9))
    before = [each for each in plan().timeline if each.end <= etched.end]
    done = tuple((each.step.key, each.end) for each in before)
    found = changed(breaks=(week,), done=done)
    late = [each for each in found.timeline if each.broken]
    assert late
    lines = lines_of(section(booth_sheet(found), "Schedule"))
    assert lines == [broken_words(each) for each in late]
    assert lines_of(section(booth_sheet(plan()), "Schedule")) == []


def test_the_mix_by_product_and_component() -> None:
    found = rows(booth_sheet(plan()), "Mix")
    assert len(found) == sum(len(each.portions) for each in plan().materials)
    by_name = {row[1]: row for row in found}
    for each in plan().materials:
        place = next(
            n for n, row in enumerate(found) if row[0].startswith(each.product.name)
        )
        assert f", {each.coats} coat" in found[place][0]
        assert found[place + 1][0].startswith(f"{1000 * each.ready_l:.0f} ml")
        grams = 0.0
        for part in each.portions:
            row = by_name[part.component.name]
            assert row[2] == f"{part.component.parts:g}"
            assert row[3] == f"{1000 * part.volume_l:.0f} ml"
            grams += part.volume_l * part.component.density_g_per_l
            assert row[4] == f"{grams:.1f} g"
            assert row[6] == f"{part.cost:.2f}"
    assert f"{plan().cost:.2f} USD" in lines_of(section(booth_sheet(plan()), "Mix"))[0]


def test_cans_that_are_to_be_boxed_are_marked() -> None:
    large = changed(area_m2=40.0)
    boxed = {p.component.name for m in large.materials for p in m.portions if p.boxed}
    marked = {row[1] for row in rows(booth_sheet(large), "Mix") if "boxed" in row[5]}
    assert marked == boxed
    assert boxed


def test_gun_settings_of_what_is_sprayed() -> None:
    found = rows(booth_sheet(plan()), "Gun")
    sprayed = [each.step for each in plan().timeline if each.step.gun is not None]
    assert [row[0] for row in found] == [step.title for step in sprayed]
    factor = plan().climate.factor
    flashes = [f"{factor * each.flash_min:.0f} min" for each in sprayed]
    assert [row[8] for row in found] == flashes
    cold = rows(booth_sheet(changed(panel_c=11.0)), "Gun")
    # Ten degrees colder a film takes twice as long; common practice.
    base = next(n for n, each in enumerate(sprayed) if each.product == "base_coat")
    assert int(cold[base][8].split()[0]) == round(2 * factor * sprayed[base].flash_min)
    assert found[0][1:5] == ("HVLP", "1.3 mm", "2.0 bar", "0.60 bar")
    assert found[0][5:8] == ("18 cm", "50 %", "1")


def test_voc_with_its_limit_and_verdict() -> None:
    found = {row[0]: row[1:] for row in rows(booth_sheet(plan()), "VOC")}
    names = {each.product.name for each in plan().materials if each.voc}
    assert set(found) == {*names, "Base and clear together"}
    for each in plan().materials:
        for held, cell in zip(each.voc, found[each.product.name], strict=True):
            assert cell == voc_in_brief(held, UNITS["metric"])
            numbers = [float(each) for each in re.findall(r"\d+", cell)]
            assert numbers == [round(held.voc_g_per_l), held.limit_g_per_l]
            assert ("OVER" in cell) == (not held.within)
    cells = [cell for row in found.values() for cell in row]
    assert any("OVER" in cell for cell in cells)
    assert any(" of " in cell for cell in cells)


def test_base_and_clear_are_judged_together_where_the_rule_does() -> None:
    """(base + 2 clear) / 3, 40 CFR 59.104(a)(2): (599 + 2 x 410) / 3 g/L here."""
    (row,) = (r for r in rows(booth_sheet(plan()), "VOC") if "together" in r[0])
    assert row[1] == "473 of 600 g/L"
    assert row[2:] == ("", "")
    named = {"california_scm": "clear_coating"}
    products = tuple(
        replace(each, voc_categories=named) if each.kind == "clear_coat" else each
        for each in demo_sheet().products
    )
    sheet = replace(demo_sheet(), products=products)
    apart = booth_sheet(plan_job(plan().request, sheet, plan().answer))
    assert not any("together" in row[0] for row in rows(apart, "VOC"))


def test_weather_that_stops_is_told() -> None:
    wet = changed(panel_c=12.0, humidity=0.6)
    assert wet.weather.stops
    assert all(each in booth_sheet(wet).stop for each in plan_stops(wet))
    assert booth_sheet(plan()).stop == ""


def test_a_panel_colder_than_the_dew_point_lies_below_it() -> None:
    cold = changed(air_c=20.0, panel_c=10.0, humidity=0.7)
    (line, *_) = lines_of(section(booth_sheet(cold), "Weather"))
    assert line.endswith(f"{-cold.weather.margin_k:.1f} K above the panel.")


def test_a_stop_stands_first_and_on_each_step_that_is_sprayed() -> None:
    wet = changed(panel_c=12.0, humidity=0.6)
    sheet = booth_sheet(wet)
    for stop in plan_stops(wet):
        assert stop in sheet.stop
    (first, *_) = pages(document_pdf(sheet))
    assert first.startswith("DO NOT SPRAY.")
    page = read(document_html(sheet))
    assert page.text.startswith(f"{sheet.title} DO NOT SPRAY.")
    assert {("class", "stop"), ("role", "alert")} <= set(page.attributes)
    for timed, row in zip(wet.timeline, rows(sheet, "Schedule"), strict=True):
        assert ("DO NOT SPRAY" in row[1]) == bool(timed.step.coats)
        assert (row[0] == "STOP") == bool(timed.step.coats)
    assert [each is None for each in boxes(sheet)] == [
        bool(each.step.coats) for each in wet.timeline
    ]
    assert "DO NOT SPRAY" in section(sheet, "Schedule").title
    assert "DO NOT SPRAY" not in document_html(booth_sheet(plan()))


def test_what_is_sprayed_already_is_not_stopped() -> None:
    done = tuple((each.step.key, each.end) for each in plan().timeline[:-1])
    sheet = booth_sheet(changed(panel_c=12.0, humidity=0.6, done=done))
    assert not sheet.stop
    assert not any("SPRAY" in cell for cell in cells_of(section(sheet, "Schedule")))


def test_swatches_can_be_read_without_their_colour() -> None:
    """In black and white L* and N beside a swatch say what it was."""
    sheet, best = booth_sheet(plan()), plan().answer.recommended
    (topcoat, sealer), strip = swatches_of(sheet)
    assert topcoat.text == "L* 45.0, a* 60.0, b* 35.0"
    assert "L* 90.2, N 9.0" in sealer.text
    assert best.undercoat.name in sealer.text
    held = plan().coats_held
    assert planned_words(best.count, best.coats, held) in sealer.text
    assert [each.text for each in strip] == [
        f"{left:.1f} left" for left in best.difference[:6]
    ]
    hiding = [each.title for each in strip if "hides" in each.title]
    assert hiding == [f"coat {best.coats}, hides"]


def test_us_units_show_the_film_in_mil() -> None:
    assert "0.39 mil" in lines_of(section(in_units("us"), "Mix"))[0]
    assert "10 µm" in lines_of(section(in_units("metric"), "Mix"))[0]


def test_us_units_of_the_booth() -> None:
    """20 °C are 68 °F, 1.5 m2 16.1 ft2, 2 bar 29 psi, 18 cm 7 in, by hand."""
    sheet = in_units("us")
    assert lines_of(section(sheet, "Weather"))[0].startswith("Air 68 °F, panel 70 °F")
    assert section(sheet, "Mix").title == "Mix for 16.1 ft²"
    # 0.6 bar are 8.7 psi.
    assert rows(sheet, "Gun")[0][2:6] == ("1.3 mm", "29 psi", "8.7 psi", "7 in")
    base = next(m for m in plan().materials if m.product.kind == "base_coat")
    row = next(r for r in rows(sheet, "Mix") if r[1] == "Base reducer")
    assert row[0].startswith(f"{1000 * base.ready_l / 29.5735:.1f} fl oz")
    # 600 g/L, the US limit of a topcoat, are 5.01 lb/gal.
    voc = next(r for r in rows(sheet, "VOC") if r[0] == base.product.name)
    assert voc[1].endswith("5.01 lb/gal")


def test_no_can_of_a_us_sheet_is_told_in_litres() -> None:
    cells = [row[5] for row in rows(in_units("us"), "Mix") if row[5]]
    assert cells
    assert not any(cell.endswith(" L") for cell in cells)


def test_no_metric_unit_is_left_on_a_us_sheet() -> None:
    request = replace(plan().request.question, units="us")
    for weather in ({}, {"panel_c": 11.0}, {"air_c": 5.0, "humidity": 0.9}):
        sheet = booth_sheet(changed(question=request, **weather))
        said = " ".join(
            [line for each in sheet.sections for line in lines_of(each)]
            + [cell for each in sheet.sections for cell in cells_of(each)]
        )
        # Grits, tips in mm and the condition of the colour have no other unit.
        assert not re.search(r"°C|\d ?(ml|L|cm|bar|m²|g/L|µm|K)\b", said)


def test_the_margin_in_fahrenheit_is_a_difference() -> None:
    margin = plan().weather.margin_k * 1.8
    line = lines_of(section(in_units("us"), "Weather"))[0]
    assert line.endswith(f"{margin:.1f} °F below the panel.")


def test_an_invented_line_is_marked() -> None:
    assert "do not spray by it" in booth_sheet(plan()).subtitle
    own = plan_job(plan().request, replace(demo_sheet(), invented=False), plan().answer)
    assert "do not spray by it" not in booth_sheet(own).subtitle


@pytest.mark.parametrize(("units", "size"), [("metric", A4_MM), ("us", LETTER_MM)])
def test_the_pdf_of_the_demo_job(units: str, size: tuple[float, float]) -> None:
    pdf = document_pdf(in_units(units), units)
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
    """Also with effect colours and steps of the shop's own, and 29 steps.

    Tables from 8 points on, all else from 7.5.
    """
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
    reader = PdfReader(io.BytesIO(document_pdf(booth_sheet(found), units)))
    assert len(reader.pages) <= 2
    sizes = font_sizes(reader)
    assert min(sizes.values()) >= 7.5
    assert all(
        sizes[each.step.check.split(" ", 1)[0]] >= 8.0 for each in found.timeline
    )


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
    planned = plan_job(
        request, replace(demo_sheet(), name=name, products=products), answer
    )
    sheet = booth_sheet(planned)
    found = pages(document_pdf(sheet))
    assert len(found) <= 2
    for each in planned.timeline:
        assert each.start.strftime("%H:%M") in " ".join(found)
    assert name not in document_html(sheet)


def test_times_are_never_broken() -> None:
    text = " ".join(pages(document_pdf(booth_sheet(changed(flattest=True)))))
    for row in rows(booth_sheet(changed(flattest=True)), "Schedule"):
        for cell in row[2:4]:
            assert cell in text


def test_every_cell_of_every_table_is_on_the_pdf() -> None:
    sheet = booth_sheet(plan())
    text = " ".join(pages(document_pdf(sheet)))
    printed = fitting(sheet, fitting_scale(sheet.core))
    assert printed.core == sheet.core
    for each in printed.sections:
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


def test_the_html_of_the_demo_job() -> None:
    reader = read(document_html(booth_sheet(plan())))
    for wanted in expected_texts(plan()):
        assert wanted in reader.text, wanted
    for each in booth_sheet(plan()).core.sections:
        assert each.title in reader.text
    assert reader.text.startswith(plan().request.name)


def test_the_html_loads_nothing() -> None:
    page = document_html(booth_sheet(plan()))
    reader = read(page)
    assert not re.search(r"https?:|url\(|@import|//", page)
    assert not reader.tags & {"script", "link", "img", "iframe", "object", "base"}
    names = {name for name, _ in reader.attributes}
    assert not names & {"src", "href", "srcset", "action"}
    assert not any(name.startswith("on") for name in names)


@pytest.mark.parametrize(
    "name", ["<b>", "<script>alert(1)</script>", "a & b \"c\" 'd'"]
)
def test_the_html_escapes_names(name: str) -> None:
    best = plan().answer.recommended
    shelf_name = replace(best, undercoat=replace(best.undercoat, name=name))
    answer = replace(plan().answer, recommended=shelf_name)
    named = plan_job(replace(plan().request, name=name), demo_sheet(), answer)
    page = document_html(booth_sheet(named))
    reader = read(page)
    assert reader.tags == read(document_html(booth_sheet(plan()))).tags
    assert reader.text.count(name) >= 4
    # Labels are bold; the name adds none.
    assert page.count("<b>") == document_html(booth_sheet(plan())).count("<b>")
    assert "<script" not in page
    assert f"<title>{name}</title>" in unescape(page)


@settings(deadline=None, derandomize=True, max_examples=30)
@given(st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1))
def test_any_text_leaves_the_html_whole(text: str) -> None:
    swatch = Swatches((Swatch((50.0, 10.0, -10.0), text, text),))
    cell = Cell(text, note=text)
    table = Table((text, cell), ((text, cell),), frozenset({1}), note=text)
    blocks = (table, Text(text, text))
    sheet = Document(text, text, (swatch,), (Section(text, blocks),), text)
    reader = read(document_html(sheet))
    assert reader.tags.isdisjoint({"script", "a", "img"})
    assert "".join(reader.said).count(text) >= 15


def test_swatches_are_named_for_those_who_do_not_see_them() -> None:
    sheet = booth_sheet(plan())
    labels = [v for k, v in read(document_html(sheet)).attributes if k == "aria-label"]
    shown = [each.title for block in swatches_of(sheet) for each in block]
    assert [each for each in labels if each in shown] == shown
    assert labels.count("to do") == len(plan().timeline)


def test_numbers_stand_to_the_right_in_the_html() -> None:
    attributes = read(document_html(booth_sheet(plan()))).attributes
    wanted = sum(
        (1 + len(table.rows)) * len(table.numbers)
        for each in booth_sheet(plan()).sections
        for table in tables_of(each)
    )
    assert attributes.count(("class", "num")) == wanted


def test_the_same_plan_gives_the_same_content() -> None:
    assert booth_sheet(plan()) == booth_sheet(changed())
    assert document_html(booth_sheet(plan())) == document_html(booth_sheet(changed()))
    assert pages(document_pdf(booth_sheet(plan()))) == pages(
        document_pdf(booth_sheet(changed()))
    )


def test_sheet_and_calendar_name_the_same_steps() -> None:
    calendar = to_icalendar(plan().timeline, "x", plan().request.start)
    assert calendar.count("BEGIN:VEVENT") == len(rows(booth_sheet(plan()), "Schedule"))


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


def test_a_plain_job_prints_what_each_step_is_for() -> None:
    job = plain_job()
    for units in ("metric", "us"):
        text = " ".join(pages(document_pdf(booth_sheet(job), units)))
        assert [each for each in purposes(job) if each not in text] == []
    said = read(document_html(booth_sheet(job))).text
    assert [each for each in purposes(job) if each not in said] == []


def test_what_each_step_is_for_is_left_out_before_the_print_grows_or_shrinks() -> None:
    """Jobs with purposes are on two pages at the size without them."""
    kept = set()
    for sheet in (booth_sheet(plan()), booth_sheet(plain_job())):
        scale = fitting_scale(sheet.core)
        found = fitting(sheet, scale)
        assert found.core == sheet.core
        kept.add(found == sheet)
        assert len(pages(document_pdf(sheet))) <= 2
    assert kept == {True, False}


def test_scratches_stand_under_the_schedule() -> None:
    products = replace(demo_sheet(), grits={"block_sand": (320, 600)})
    sheet = booth_sheet(plan_job(plan().request, products, plan().answer))
    (line,) = lines_of(section(sheet, "Schedule"))
    assert line.startswith("From P320 to P600 the old scratch still shows")
