"""Handout and wall chart: what is printed is what was worked out."""

import io
import re

import numpy as np
import pytest
from pypdf import PdfReader

from shadecore.coats.pick import pick
from shadecore.coats.pick_many import pick_many
from shadecore.coats.settings import Settings
from shadecore.colour.colour_table import ColourList, parse_colours
from shadecore.colour.topcoat import Topcoat
from shadecore.datafiles import data_file
from shadecore.lesson.colours import examples
from shadecore.lesson.contrast_card import contrast_card
from shadecore.lesson.panels import lesson
from shadecore.pages.blocks import Cell, Document, Table
from shadecore.pages.handout import handout
from shadecore.pages.html_layout import document_html
from shadecore.pages.letterhead import USUAL_PAPER
from shadecore.pages.pdf_layout import document_pdf
from shadecore.pages.wall_chart import MOST_SEALERS, wall_chart
from shadecore.undercoats.blends import shelf_blends
from shadecore.undercoats.shelf import Shelf, munsell_value, undercoat
from shadecore.undercoats.shelf_table import demo_shelf
from shadecore.units import UNITS

PAPER_POINTS = {"metric": (595, 842), "us": (612, 792)}
"""A4 of ISO 216 and letter of ANSI Y14.1 in points of 1/72 inch."""
SETTINGS = Settings()


def _handout(topcoat: Topcoat, shelf: Shelf | None = None) -> Document:
    found = lesson(topcoat, undercoats=shelf)
    return handout(found, contrast_card(found.answer))


def _wall(colours: ColourList, shelf: Shelf) -> Document:
    return wall_chart(colours, shelf, pick_many(colours.lab, shelf), SETTINGS)


def _tables(document: Document) -> list[Table]:
    return [
        block
        for section in document.sections
        for block in section.blocks
        if isinstance(block, Table)
    ]


def _grid(document: Document) -> tuple[tuple[Cell, ...], tuple[tuple[Cell, ...], ...]]:
    """Headings and rows of the first table, all of whose fields are cells."""
    table = _tables(document)[0]
    heads, *rows = (
        tuple(each for each in line if isinstance(each, Cell))
        for line in (table.headings, *table.rows)
    )
    assert all(len(row) == len(table.headings) for row in (heads, *rows))
    return heads, tuple(rows)


def _demo() -> ColourList:
    name = "demo-colours.csv"
    return parse_colours(data_file(name).read_text("utf-8"), name)


def _text(pdf: bytes) -> str:
    pages = PdfReader(io.BytesIO(pdf)).pages
    return " ".join(" ".join(each.extract_text().split()) for each in pages)


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("example", examples(), ids=lambda each: each.name)
def test_a_handout_is_one_page_of_its_paper(example: object, units: str) -> None:
    topcoat = getattr(example, "topcoat")  # noqa: B009 - pytest's parameters are objects
    reader = PdfReader(io.BytesIO(document_pdf(_handout(topcoat), USUAL_PAPER[units])))
    assert len(reader.pages) == 1
    box = reader.pages[0].mediabox
    assert (round(box.width), round(box.height)) == PAPER_POINTS[units]


def test_a_handout_says_what_the_lesson_shows() -> None:
    topcoat = examples()[0].topcoat
    found = lesson(topcoat)
    card = contrast_card(found.answer)
    poster = handout(found, card, UNITS["us"])
    text = _text(document_pdf(poster, "Letter"))
    for panel in found.panels:
        grey = panel.undercoat
        assert grey.name in text
        assert f"L* {grey.lightness:.1f}, N {munsell_value(grey.lightness):.1f}" in text
        for left in panel.difference[1:7]:
            assert f"{left:.1f}" in text
    assert f"{card.contrast_ratio[3]:.2f}" in text
    assert "0.39 mil" in text
    for wanted in (
        "hides",
        "not a paint chip",
        "isocyanates",
        "Modelled",
        "invented",
        "90 %",
    ):
        assert wanted in text


def test_marks_stand_where_the_film_hides() -> None:
    found = lesson(examples()[0].topcoat)
    _, rows = _grid(_handout(found.topcoat))
    for panel, row in zip(found.panels, rows, strict=True):
        marked = [cell.marked for cell in row[2:-1]]
        assert marked == [panel.hides(n) for n in range(1, 7)]
        assert [cell.note == "hides" for cell in row[2:-1]] == marked


def test_a_long_shelf_leaves_the_best_on_the_page() -> None:
    shelf = tuple(
        undercoat(f"grey {lightness}", (lightness, 0, 0))
        for lightness in range(20, 95, 8)
    )
    poster = _handout(examples()[2].topcoat, shelf)
    answer = pick(examples()[2].topcoat, shelf)
    names = [row[0].text for row in _grid(poster)[1]]
    assert names == [each.undercoat.name for each in answer.outlooks[:6]]
    assert len(PdfReader(io.BytesIO(document_pdf(poster))).pages) == 1


def test_the_wall_chart_marks_what_the_pick_recommends() -> None:
    colours, shelf = _demo(), demo_shelf()
    headings, rows = _grid(_wall(colours, shelf))
    heads = [each.text for each in headings[1:]]
    for code, lab, row in zip(colours.codes, colours.lab, rows, strict=True):
        answer = pick(Topcoat(tuple(map(float, lab)), code), shelf)
        counts = {each.undercoat.name: each.coats for each in answer.outlooks}
        assert row[0].text == code
        assert f"L* {lab[0]:.1f}, N {munsell_value(float(lab[0])):.1f}" in row[0].note
        for name, cell in zip(heads, row[1:], strict=True):
            best = name == answer.recommended.undercoat.name
            assert cell.marked == best
            # Never by the frame alone.
            assert ("BEST" in cell.note) == best
            closest = name == answer.closest.undercoat.name
            assert ("closest L*" in cell.note) == closest
            assert cell.text == (f"{counts[name]}" if counts[name] else "over 12")


def test_undercoats_go_from_light_to_dark_with_their_l_and_n() -> None:
    shelf = demo_shelf()[::-1]
    heads = _grid(_wall(_demo(), shelf))[0][1:]
    assert [each.text for each in heads] == [each.name for each in demo_shelf()]
    for head, each in zip(heads, demo_shelf(), strict=True):
        assert f"L* {each.lightness:.1f}, N " in head.note


def test_of_many_candidates_the_recommended_stay() -> None:
    shelf = demo_shelf() + shelf_blends(demo_shelf())
    colours = _demo()
    picks = pick_many(colours.lab, shelf)
    heads, rows = _grid(wall_chart(colours, shelf, picks, SETTINGS))
    assert len(heads) == MOST_SEALERS + 1
    for row in rows:
        assert sum(cell.marked for cell in row) == 1


def test_a_large_palette_goes_over_pages_under_repeated_headings() -> None:
    random = np.random.default_rng(5)
    rows = "\n".join(
        f"c{i},{random.uniform(30, 90):.1f},{random.uniform(-20, 20):.1f},0"
        for i in range(200)
    )
    colours = parse_colours(f"code,L,a,b\n{rows}", "palette")
    pages = PdfReader(io.BytesIO(document_pdf(_wall(colours, demo_shelf())))).pages
    assert len(pages) > 1
    for each in pages[:-1]:
        assert "White N 9" in each.extract_text()
    assert "c199" in _text(document_pdf(_wall(colours, demo_shelf())))


def test_html_loads_nothing_and_escapes_what_it_is_given() -> None:
    colours = parse_colours("code,L,a,b\n<script>x</script>,50,0,0\n", "palette")
    page = document_html(_wall(colours, demo_shelf()))
    assert "<script" not in page
    assert "&lt;script&gt;" in page
    assert not re.findall(r"(?:src|href)=|url\(|@import|https?:", page)


def test_html_and_pdf_say_the_same() -> None:
    poster = _handout(examples()[2].topcoat)
    text = _text(document_pdf(poster))
    page = document_html(poster)
    for section in poster.sections:
        assert f"<h2>{section.title}</h2>" in page
        assert section.title in text
    for table in _tables(poster):
        for row in table.rows:
            first = row[0]
            assert isinstance(first, Cell)
            assert f"<b>{first.text}</b>" in page
            assert first.text in text
