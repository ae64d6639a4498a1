"""The sheet as HTML: all of it, whole whatever it says, and by itself."""

import re
from dataclasses import replace
from html import unescape

import pytest
from booth_sheets import (
    expected_cautions,
    expected_texts,
    plan,
    read,
    swatches_of,
    tables_of,
)
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.job.plan import plan_job
from shadecore.pages.blocks import (
    Cell,
    Document,
    Section,
    Swatch,
    Swatches,
    Table,
    Text,
)
from shadecore.pages.booth_sheet import booth_sheet
from shadecore.pages.cautions_sheet import cautions_sheet
from shadecore.pages.html_layout import document_html
from shadecore.products.sheet_file import demo_sheet


def test_the_html_of_the_demo_job() -> None:
    reader = read(document_html(booth_sheet(plan())))
    for wanted in expected_texts(plan()):
        assert wanted in reader.text, wanted
    for each in booth_sheet(plan()).core.sections:
        assert each.title in reader.text
    assert reader.text.startswith(plan().request.name)
    cautions = read(document_html(cautions_sheet(plan()))).text
    assert [each for each in expected_cautions(plan()) if each not in cautions] == []


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
    # Of any number of pages, so that nothing is left out of one of them.
    page, plain = (
        document_html(replace(booth_sheet(each), most_pages=None))
        for each in (named, plan())
    )
    reader = read(page)
    assert reader.tags == read(plain).tags
    assert reader.text.count(name) >= 4
    # Labels are bold; the name adds none.
    assert page.count("<b>") == plain.count("<b>")
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
