"""The sheet as PDF, by reportlab."""

import io
from typing import Any, Final

from reportlab.lib.colors import HexColor, black, grey
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.styles import ParagraphStyle, getSampleStyleSheet
from reportlab.lib.units import mm
from reportlab.platypus import (
    CondPageBreak,
    Flowable,
    KeepTogether,
    Paragraph,
    SimpleDocTemplate,
    Spacer,
)
from reportlab.platypus import Table as PdfTable

from shadecore.colour.display import hex_from_lab
from shadecore.report.pdf_text import plain as _plain
from shadecore.report.sheet import Section, Sheet, Swatch
from shadecore.report.tables import Table

PAGES: Final = {"metric": A4, "us": LETTER}
_MARGIN: Final = 12 * mm
_ROOM: Final = 30 * mm
"""A table does not start with less of the page left."""
_SWATCH_HEIGHT, _STRIP_HEIGHT = 18 * mm, 9 * mm
_BODY: Final = ParagraphStyle(
    "body", getSampleStyleSheet()["BodyText"], fontSize=9.5, leading=11.5, spaceBefore=1
)
_TITLE: Final = ParagraphStyle(
    "title", _BODY, fontName="Helvetica-Bold", fontSize=20, leading=24
)
_HEADING: Final = ParagraphStyle(
    "heading", _BODY, fontName="Helvetica-Bold", fontSize=12, leading=15, spaceBefore=5
)
_RIGHT: Final = ParagraphStyle("right", _BODY, alignment=2)


def sheet_pdf(sheet: Sheet, units: str = "metric") -> bytes:
    """Lay a sheet out as PDF.

    Parameters
    ----------
    sheet : Sheet
        The content.
    units : str
        ``metric`` for A4 or ``us`` for letter paper.

    Returns
    -------
    bytes
    """
    out = io.BytesIO()
    document = SimpleDocTemplate(
        out,
        pagesize=PAGES[units],
        leftMargin=_MARGIN,
        rightMargin=_MARGIN,
        topMargin=_MARGIN,
        bottomMargin=_MARGIN,
        title=sheet.title,
        author="shadecore",
    )
    width = document.width
    parts: list[Flowable] = [
        Paragraph(_plain(sheet.title), _TITLE),
        Paragraph(_plain(sheet.subtitle), _BODY),
        _patches(sheet.swatches, width, _SWATCH_HEIGHT),
        Spacer(0, 2 * mm),
        _patches(sheet.strip, width, _STRIP_HEIGHT),
    ]
    for section in sheet.sections:
        parts += _section(section, width)
    document.build(parts)
    return out.getvalue()


def _patches(swatches: tuple[Swatch, ...], width: float, height: float) -> PdfTable:
    colours = hex_from_lab([each.lab for each in swatches])
    texts = [
        Paragraph(f"<b>{_plain(each.title)}</b><br/>{_plain(each.text)}", _BODY)
        for each in swatches
    ]
    style: list[tuple[Any, ...]] = [
        ("BACKGROUND", (i, 0), (i, 0), HexColor(colour))
        for i, colour in enumerate(colours)
    ]
    style += [("BOX", (i, 0), (i, 0), 0.7, black) for i in range(len(swatches))]
    style.append(("VALIGN", (0, 0), (-1, -1), "TOP"))
    return PdfTable(
        [[""] * len(swatches), texts],
        colWidths=[width / len(swatches)] * len(swatches),
        rowHeights=[height, None],
        style=style,
    )


def _section(section: Section, width: float) -> list[Flowable]:
    heading = Paragraph(_plain(section.title), _HEADING)
    lines = [Paragraph(_plain(line), _BODY) for line in section.lines]
    if section.table is None:
        return [KeepTogether([heading, *lines])]
    return [CondPageBreak(_ROOM), heading, _table(section.table, width), *lines]


def _table(table: Table, width: float) -> PdfTable:
    cells = [
        [
            Paragraph(_plain(cell), _RIGHT if i in table.numbers else _BODY)
            for i, cell in enumerate(row)
        ]
        for row in (table.headings, *table.rows)
    ]
    # Columns share the page by their longest word-wrapped text.
    lines = (table.headings, *table.rows)
    needs = [
        max(_NARROWEST, *(_need(row[i]) for row in lines))
        for i in range(len(table.headings))
    ]
    return PdfTable(
        cells,
        colWidths=[width * need / sum(needs) for need in needs],
        repeatRows=1,
        style=[
            ("LINEBELOW", (0, 0), (-1, 0), 1.0, black),
            ("LINEBELOW", (0, 1), (-1, -1), 0.3, grey),
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("TOPPADDING", (0, 0), (-1, -1), 0.5),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 1.0),
            ("LEFTPADDING", (0, 0), (-1, -1), 1.0),
            ("RIGHTPADDING", (0, 0), (-1, -1), 3.0),
        ],
    )


_NARROWEST: Final = 8


def _need(text: str) -> int:
    """Letters a cell needs: its longest word, and up to a line of its text."""
    longest_word = max((len(word) for word in text.split()), default=0)
    return max(longest_word, min(len(text), _WIDEST)) + 2


_WIDEST: Final = 44
"""Letters of a column before its text wraps."""
