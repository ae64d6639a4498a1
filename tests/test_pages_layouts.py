"""Whatever a document holds, each layout says all of it and nothing breaks."""

import io
from collections.abc import Callable

import pytest
from booth_sheets import read
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from shadecore.pages.blocks import (
    Block,
    Cell,
    Document,
    Section,
    Swatch,
    Swatches,
    Table,
    Text,
)
from shadecore.pages.html_layout import block_html, document_html
from shadecore.pages.letterhead import BARE, Letterhead
from shadecore.pages.pdf_layout import (
    PAPERS,
    document_pdf,
    fitting,
)
from shadecore.pages.text_layout import WIDTH, document_text

WORD = st.text("abcdefghijkl<>&'\"", min_size=1, max_size=9)
WORDS = st.lists(WORD, min_size=1, max_size=5).map(" ".join)
HEX = st.sampled_from(["#000000", "#c8321e", "#ffffff"])
CELLS = st.one_of(
    WORDS,
    st.builds(
        Cell,
        WORDS,
        st.lists(HEX, max_size=2).map(tuple),
        WORDS,
        st.booleans(),
        st.none() | st.booleans(),
    ),
)


@st.composite
def tables(draw: st.DrawFn) -> Table:
    """Tables of one to four columns."""
    columns = draw(st.integers(1, 4))
    line = st.lists(CELLS, min_size=columns, max_size=columns).map(tuple)
    numbers = draw(st.frozensets(st.integers(0, columns - 1)))
    rows = draw(st.lists(line, min_size=1, max_size=2))
    return Table(draw(line), tuple(rows), numbers, note=draw(WORDS))


SWATCHES = st.lists(
    st.builds(Swatch, st.just((50.0, 10.0, -5.0)), WORDS, WORDS), min_size=1, max_size=6
).map(lambda each: Swatches(tuple(each)))
BLOCKS = st.lists(
    st.one_of(tables(), SWATCHES, st.builds(Text, WORDS, st.just("") | WORDS)),
    min_size=1,
    max_size=3,
).map(tuple)
DOCUMENTS = st.builds(
    Document,
    WORDS,
    WORDS,
    BLOCKS,
    st.lists(st.builds(Section, WORDS, BLOCKS), max_size=2).map(tuple),
    st.just("") | WORDS,
)


def words_of_block(block: Block) -> list[str]:
    if isinstance(block, Text):
        return f"{block.label} {block.text}".split()
    if isinstance(block, Swatches):
        return [
            word for each in block.swatches for word in (*each.title.split(), each.text)
        ]
    fields = [field for row in (block.headings, *block.rows) for field in row]
    told = [each if isinstance(each, str) else each.text for each in fields]
    return " ".join([*told, block.note]).split()


def words_of(document: Document) -> set[str]:
    """Each word that a reader must find."""
    blocks = [*document.blocks, *(b for each in document.sections for b in each.blocks)]
    found = [word for block in blocks for word in words_of_block(block)]
    heads = [document.title, document.subtitle, *(s.title for s in document.sections)]
    return set(" ".join([*found, *heads]).split())


@settings(deadline=None, derandomize=True, max_examples=8)
@given(DOCUMENTS)
def test_html_says_every_word_and_closes_every_tag(document: Document) -> None:
    said = read(document_html(document)).said
    assert words_of(document) <= set(" ".join(said).split())


@settings(deadline=None, derandomize=True, max_examples=8)
@given(DOCUMENTS, st.sampled_from(sorted(PAPERS)))
def test_the_pdf_says_every_word(document: Document, paper: str) -> None:
    reader = PdfReader(io.BytesIO(document_pdf(document, paper)))
    text = "".join(page.extract_text() for page in reader.pages)
    # A word may be broken where its column is too narrow for it.
    run = "".join(text.split())
    assert [word for word in words_of(document) if word not in run] == []


@settings(deadline=None, derandomize=True, max_examples=10)
@given(DOCUMENTS)
def test_a_terminal_shows_no_line_too_wide(document: Document) -> None:
    text = document_text(document)
    assert max(map(len, text.splitlines())) <= WIDTH
    shown = "".join(text.split())
    for block in document.blocks:
        if isinstance(block, Text):
            assert "".join(block.text.split()) in shown


@pytest.mark.parametrize("ticked", [False, True])
def test_a_box_is_drawn_and_told(*, ticked: bool) -> None:
    table = Table(("Done", "Step"), ((Cell(ticked=ticked), "Seal"),))
    assert f'aria-label="{"done" if ticked else "to do"}"' in block_html(table)
    document = Document("Door", blocks=(table,))
    assert ("[x]" if ticked else "[ ]") in document_text(document)
    (page,) = PdfReader(io.BytesIO(document_pdf(document))).pages
    drawn = page.get_contents()
    assert drawn is not None
    # Two strokes cross the box that is ticked: PDF 32000-1, 8.5.3, operator S.
    plain = Table(("Done", "Step"), (("", "Seal"),))
    (empty,) = PdfReader(
        io.BytesIO(document_pdf(Document("Door", blocks=(plain,))))
    ).pages
    nothing = empty.get_contents()
    assert nothing is not None
    more = drawn.get_data().count(b" S") - nothing.get_data().count(b" S")
    assert more == (3 if ticked else 1)


def long_document(rows: int, most_pages: int | None) -> Document:
    table = Table(("Step", "Time"), tuple((f"row {n}", f"{n}") for n in range(rows)))
    spare = Section("Spare", (Text("word " * 400),), spare=True)
    return Document("Door", "s", (), (spare, Section("Long", (table,))), "", most_pages)


def test_what_is_spare_goes_before_a_page_is_added() -> None:
    document = long_document(45, 1)
    assert fitting(document) == document.core
    assert "Spare" not in document_html(document)
    assert "Spare" in document_html(long_document(45, None))


def test_what_is_spare_stays_on_pages_that_are_taken_anyhow() -> None:
    document = long_document(80, 1)
    assert fitting(document) == document
    assert len(PdfReader(io.BytesIO(document_pdf(document))).pages) == 2


@pytest.mark.parametrize("layout", [document_html, document_text])
def test_a_title_that_runs_in_begins_its_paragraph(
    layout: Callable[[Document], str],
) -> None:
    section = Section("Weather", (Text("dry."), Text("warm.")), run_in=True)
    document = Document("Door", sections=(section,))
    shown = layout(document)
    assert shown.index("Weather") < shown.index("dry.") < shown.index("warm.")
    if layout is document_text:
        assert "Weather. dry.\nwarm." in shown
    text = PdfReader(io.BytesIO(document_pdf(document))).pages[0].extract_text()
    assert "Weather. dry." in text


def test_what_goes_on_after_a_bold_text_is_said_by_each_layout() -> None:
    cell = Cell("4. Seal.", told=(Text("P400."), Text("No sparks.", "Mask on.")))
    document = Document("Door", blocks=(Table(("Step",), ((cell,),)),))
    told = "4. Seal. P400. Mask on. No sparks."
    assert told in " ".join(document_text(document).split())
    assert told in read(document_html(document)).text
    text = PdfReader(io.BytesIO(document_pdf(document))).pages[0].extract_text()
    assert told in text


def test_a_shops_name_stands_on_each_layout() -> None:
    document = Letterhead(" Zebra & Sons ").on(Document("Door", "of a car."))
    for shown in (
        document_text(document),
        read(document_html(document)).text,
        PdfReader(io.BytesIO(document_pdf(document))).pages[0].extract_text(),
    ):
        assert "Zebra & Sons. of a car." in " ".join(shown.split())


def test_paper_follows_the_units_only_where_nobody_said() -> None:
    assert BARE.paper_for("metric") == "A4"
    assert BARE.paper_for("us") == "Letter"
    assert Letterhead(paper="Letter").paper_for("metric") == "Letter"
    assert Letterhead(paper="A4").paper_for("us") == "A4"
