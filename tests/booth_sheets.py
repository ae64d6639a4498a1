"""The demo job's sheet, and what stands on a sheet, for tests."""

import io
from dataclasses import replace
from functools import cache
from html.parser import HTMLParser
from pathlib import Path

from pypdf import PdfReader

from shadecore.job.job_file import parse_job
from shadecore.job.plan import Plan, plan_job
from shadecore.job.planned import planned as plan_request
from shadecore.pages.blocks import (
    Document,
    Section,
    Swatch,
    Swatches,
    Table,
    Text,
    as_cell,
)
from shadecore.pages.booth_sheet import booth_sheet
from shadecore.products.sheet_file import demo_sheet
from shadecore.telling.colours import lab_words
from shadecore.telling.names import sealer_words

DEMO = Path(__file__).resolve().parents[1] / "data" / "demo-job.toml"


@cache
def plan() -> Plan:
    return plan_request(parse_job(DEMO.read_text("utf-8"), DEMO.name), demo_sheet())


def changed(**fields: object) -> Plan:
    """The demo job's plan with other fields in its request."""
    request = replace(plan().request, **fields)  # type: ignore[arg-type]
    return plan_job(request, demo_sheet(), plan().answer)


def in_units(units: str) -> Document:
    return booth_sheet(planned_in(units))


def planned_in(units: str) -> Plan:
    return changed(question=replace(plan().request.question, units=units))


def pages(pdf: bytes) -> list[str]:
    """Text of each page, its white space made single blanks."""
    return [
        " ".join(page.extract_text().split())
        for page in PdfReader(io.BytesIO(pdf)).pages
    ]


def section(sheet: Document, start: str) -> Section:
    return next(each for each in sheet.sections if each.title.startswith(start))


def tables_of(section: Section) -> list[Table]:
    return [each for each in section.blocks if isinstance(each, Table)]


def lines_of(section: Section) -> list[str]:
    return [each.text for each in section.blocks if isinstance(each, Text)]


def rows(sheet: Document, start: str) -> list[tuple[str, ...]]:
    """Texts of a section's table, row by row."""
    (table,) = tables_of(section(sheet, start))
    return [tuple(as_cell(field).text for field in row) for row in table.rows]


def cells_of(section: Section) -> list[str]:
    """What is read in the fields of a section's tables."""
    return [
        " ".join(
            part
            for cell in (as_cell(field),)
            for part in (cell.text, cell.plainly, cell.note)
            if part
        )
        for table in tables_of(section)
        for row in table.rows
        for field in row
    ]


def steps_of(sheet: Document) -> list[str]:
    """All that is said of each step, its time aside."""
    (table,) = tables_of(section(sheet, "Schedule"))
    cells = [as_cell(row[1]) for row in table.rows]
    return [f"{each.text} {each.plainly}".strip() for each in cells]


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
        plan.sheet.name.removesuffix(" (invented)"),
        *(each.step.title for each in plan.timeline),
        *(each.step.check for each in plan.timeline),
        *(each.product.name for each in plan.materials),
        *(part.component.name for each in plan.materials for part in each.portions),
        "data sheets",
        "local codes",
        lab_words(plan.answer.topcoat.lab),
        sealer_words(best),
    ]


def expected_cautions(plan: Plan) -> list[str]:
    """What has to be read on any layout of a plan's cautions sheet."""
    return [
        plan.request.name,
        *(text for _, text in plan.cautions),
        *(each.product.name for each in plan.materials),
        "rule of thumb",
        "data sheet",
        "check your local rule",
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
