"""A poster as PDF, by reportlab."""

import io
from typing import Any, Final

from reportlab.graphics.shapes import Drawing, Rect
from reportlab.lib.colors import HexColor, black, grey
from reportlab.lib.styles import ParagraphStyle, getSampleStyleSheet
from reportlab.lib.units import mm
from reportlab.platypus import Flowable, Paragraph, SimpleDocTemplate, Spacer
from reportlab.platypus import Table as PdfTable

from shadecore.pages.pdf_text import plain
from shadecore.pages.poster import Cell, Grid, Poster
from shadecore.pages.sheet_pdf import PAGES

_MARGIN: Final = 11 * mm
_PATCH_HEIGHT: Final = 5.5 * mm
_GAP: Final = 1 * mm
_FRAME, _THIN = 2.5, 0.7
_PADDING: Final = 2.0
_FIRST_COLUMN: Final = 1.6
"""The column that names the rows, in widths of the others."""
_BODY: Final = ParagraphStyle(
    "body", getSampleStyleSheet()["BodyText"], fontSize=8.5, leading=10, spaceBefore=1
)
_NOTE: Final = ParagraphStyle("note", _BODY, fontSize=7.5, leading=8.5, spaceBefore=0)
_TEXT: Final = ParagraphStyle(
    "text", _BODY, fontName="Helvetica-Bold", fontSize=9, leading=10.5, spaceBefore=0
)
_LARGE: Final = ParagraphStyle("large", _TEXT, fontSize=16, leading=18)
_TITLE: Final = ParagraphStyle("title", _TEXT, fontSize=19, leading=23)
_HEADING: Final = ParagraphStyle(
    "heading", _TEXT, fontSize=11.5, leading=14, spaceBefore=5
)


def poster_pdf(poster: Poster, units: str = "metric") -> bytes:
    """Lay a poster out as PDF.

    Parameters
    ----------
    poster : Poster
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
        title=poster.title,
        author="shadecore",
    )
    parts: list[Flowable] = [
        Paragraph(plain(poster.title), _TITLE),
        Paragraph(plain(poster.subtitle), _BODY),
    ]
    for grid in poster.grids:
        parts += [
            Paragraph(plain(grid.title), _HEADING),
            *(Paragraph(plain(each), _BODY) for each in grid.lines),
            Spacer(0, _GAP),
            _grid(grid, document.width),
        ]
    for section in poster.sections:
        parts.append(Paragraph(plain(section.title), _HEADING))
        parts += [Paragraph(plain(each), _BODY) for each in section.lines]
    document.build(parts)
    return out.getvalue()


def _grid(grid: Grid, width: float) -> PdfTable:
    share = width / (_FIRST_COLUMN + len(grid.headings) - 1)
    widths = [_FIRST_COLUMN * share] + [share] * (len(grid.headings) - 1)
    style: list[tuple[Any, ...]] = [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LINEBELOW", (0, 0), (-1, 0), 1.2, black),
        ("LINEBELOW", (0, 1), (-1, -1), 0.3, grey),
        ("TOPPADDING", (0, 0), (-1, -1), _PADDING),
        ("BOTTOMPADDING", (0, 0), (-1, -1), _PADDING),
        ("LEFTPADDING", (0, 0), (-1, -1), _PADDING),
        ("RIGHTPADDING", (0, 0), (-1, -1), _PADDING),
    ]
    style += [
        ("BOX", (column, row), (column, row), _FRAME, black)
        for row, cells in enumerate(grid.rows, start=1)
        for column, cell in enumerate(cells)
        if cell.marked
    ]
    heads = [
        _inside(each, w, _TEXT) for each, w in zip(grid.headings, widths, strict=True)
    ]
    text = _LARGE if grid.large else _TEXT
    rows = [
        [
            _inside(each, w, _TEXT if column == 0 else text)
            for column, (each, w) in enumerate(zip(cells, widths, strict=True))
        ]
        for cells in grid.rows
    ]
    return PdfTable([heads, *rows], colWidths=widths, repeatRows=1, style=style)


def _inside(cell: Cell, width: float, style: ParagraphStyle) -> list[Flowable]:
    parts: list[Flowable] = []
    if cell.colours:
        parts.append(_patch(cell.colours, width - 2 * _PADDING))
    if cell.text:
        parts.append(Paragraph(plain(cell.text), style))
    if cell.note:
        parts.append(Paragraph(plain(cell.note), _NOTE))
    return parts


def _patch(colours: tuple[str, ...], width: float) -> Drawing:
    drawing = Drawing(width, _PATCH_HEIGHT + 1)
    each = width / len(colours)
    for place, colour in enumerate(colours):
        field = Rect(place * each, 1, each, _PATCH_HEIGHT)
        field.fillColor, field.strokeColor = HexColor(colour), None
        drawing.add(field)
    frame = Rect(0, 1, width, _PATCH_HEIGHT)
    frame.fillColor, frame.strokeColor, frame.strokeWidth = None, black, _THIN
    drawing.add(frame)
    return drawing
