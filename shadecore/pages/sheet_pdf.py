"""The sheet as PDF, by reportlab."""

import bisect
import io
from functools import lru_cache
from typing import Any, Final, NamedTuple

from reportlab.lib.colors import HexColor, black, grey
from reportlab.lib.enums import TA_RIGHT
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.styles import ParagraphStyle, getSampleStyleSheet
from reportlab.lib.units import mm
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.platypus import (
    CondPageBreak,
    Flowable,
    Paragraph,
    SimpleDocTemplate,
    Spacer,
)
from reportlab.platypus import Table as PdfTable

from shadecore.colour.display import hex_from_lab
from shadecore.pages.pdf_text import plain as _plain
from shadecore.pages.sheet import Section, Sheet, Swatch
from shadecore.pages.tables import Table

PAGES: Final = {"metric": A4, "us": LETTER}
MOST_PAGES: Final = 2
SMALLEST: Final = 0.84
"""How far the sheet may be drawn together: its tables stay at 8 points and more."""
_STEP: Final = 0.04
_MARGIN: Final = 12 * mm
_ROOM: Final = 30 * mm
"""A table does not start with less of the page left."""
_SWATCH_HEIGHT, _STRIP_HEIGHT = 16 * mm, 8 * mm
_LEADING: Final = 1.2
_BODY_PT, _SMALL_PT, _TITLE_PT, _HEADING_PT, _STOP_PT = 9.6, 8.0, 20.0, 12.0, 15.0
_LEAST_PT: Final = 7.5
_NARROWEST: Final = 8.0
_PADDING: Final = 5.0
_FONT: Final = "Helvetica"
_WIDEST: Final = 64
"""Letters of a column before its text wraps."""


class _Styles(NamedTuple):
    """How text is set at one scale."""

    body: ParagraphStyle
    small: ParagraphStyle
    right: ParagraphStyle
    title: ParagraphStyle
    heading: ParagraphStyle
    stop: ParagraphStyle


def _styles(scale: float) -> _Styles:
    sample = getSampleStyleSheet()["BodyText"]

    def style(name: str, points: float, **more: Any) -> ParagraphStyle:  # noqa: ANN401
        size = max(points * scale, _LEAST_PT)
        return ParagraphStyle(
            name, sample, fontSize=size, leading=size * _LEADING, spaceBefore=1, **more
        )

    bold = "Helvetica-Bold"
    stop = style("stop", _STOP_PT, fontName=bold, borderWidth=3, borderColor=black)
    stop.borderPadding, stop.spaceAfter = 5, 8
    heading = style("heading", _HEADING_PT, fontName=bold, keepWithNext=1)
    heading.spaceBefore = 5 * scale
    return _Styles(
        style("body", _BODY_PT),
        style("small", _SMALL_PT),
        style("right", _BODY_PT, alignment=TA_RIGHT),
        style("title", _TITLE_PT, fontName=bold),
        heading,
        stop,
    )


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
        One or two pages, drawn together where that is enough for it; more where it
        would no longer be legible.
    """
    scale = fitting_scale(sheet.core, units)
    return _laid_out(fitting(sheet, scale, units), units, scale)[0]


@lru_cache(maxsize=16)
def fitting(sheet: Sheet, scale: float, units: str = "metric") -> Sheet:
    """What of a sheet is printed.

    Parameters
    ----------
    sheet : Sheet
        The content.
    scale : float
        How far it is drawn together.
    units : str
        ``metric`` for A4 or ``us`` for letter paper.

    Returns
    -------
    Sheet
        All of it where that takes two pages, else without what can be spared.
    """
    return sheet if _laid_out(sheet, units, scale)[1] <= MOST_PAGES else sheet.core


@lru_cache(maxsize=16)
def fitting_scale(sheet: Sheet, units: str = "metric") -> float:
    """How far a sheet is drawn together to stay on two pages.

    Parameters
    ----------
    sheet : Sheet
        The content.
    units : str
        ``metric`` for A4 or ``us`` for letter paper.

    Returns
    -------
    float
        1 for the usual size, down to ``SMALLEST``.
    """
    steps = round((1.0 - SMALLEST) / _STEP)
    # Most sheets fit as they are; of the others the least step that fits is found.
    if _laid_out(sheet, units, 1.0)[1] <= MOST_PAGES:
        return 1.0
    step = bisect.bisect_left(
        range(1, steps),
        True,  # noqa: FBT003 - what the key is to come to
        key=lambda each: _laid_out(sheet, units, 1.0 - _STEP * each)[1] <= MOST_PAGES,
    )
    return 1.0 - _STEP * (step + 1)


def _laid_out(sheet: Sheet, units: str, scale: float) -> tuple[bytes, int]:
    """The document at a scale, and its pages."""
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
    width, styles = document.width, _styles(scale)
    stop = [Paragraph(_plain(sheet.stop), styles.stop)] if sheet.stop else []
    parts: list[Flowable] = [
        *stop,
        Paragraph(_plain(sheet.title), styles.title),
        Paragraph(_plain(sheet.subtitle), styles.body),
        _patches(sheet.swatches, width, _SWATCH_HEIGHT * scale, styles),
        Spacer(0, 2 * mm),
        _patches(sheet.strip, width, _STRIP_HEIGHT * scale, styles),
    ]
    for section in sheet.sections:
        parts += _section(section, width, styles)
    document.build(parts)
    return out.getvalue(), document.page


def _patches(
    swatches: tuple[Swatch, ...], width: float, height: float, styles: _Styles
) -> PdfTable:
    colours = hex_from_lab([each.lab for each in swatches])
    texts = [
        Paragraph(f"<b>{_plain(each.title)}</b><br/>{_plain(each.text)}", styles.body)
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


def _section(section: Section, width: float, styles: _Styles) -> list[Flowable]:
    heading = Paragraph(_plain(section.title), styles.heading)
    text = styles.small if section.small else styles.body
    lines = [Paragraph(_plain(line), text) for line in section.lines]
    if section.table is None:
        return [heading, *lines]
    table = _table(section.table, width, styles)
    return [CondPageBreak(_ROOM), heading, table, *lines]


def _table(table: Table, width: float, styles: _Styles) -> PdfTable:
    cells = [
        [
            Paragraph(_plain(cell), styles.right if i in table.numbers else styles.body)
            for i, cell in enumerate(row)
        ]
        for row in (table.headings, *table.rows)
    ]
    columns = list(zip(table.headings, *table.rows, strict=True))
    return PdfTable(
        cells,
        colWidths=_widths(columns, width, styles.body),
        repeatRows=1,
        style=[
            ("LINEBELOW", (0, 0), (-1, 0), 1.0, black),
            ("LINEBELOW", (0, 1), (-1, -1), 0.3, grey),
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("TOPPADDING", (0, 0), (-1, -1), 0.5),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 1.0),
            ("LEFTPADDING", (0, 0), (-1, -1), 1.0),
            ("RIGHTPADDING", (0, 0), (-1, -1), _PADDING - 2.0),
        ],
    )


def _widths(
    columns: list[tuple[str, ...]], width: float, style: ParagraphStyle
) -> list[float]:
    """Widths that break no word of usual length; the rest goes by the text."""
    words = [[word for cell in column for word in cell.split()] for column in columns]
    least = [
        max([_NARROWEST, *(stringWidth(word, _FONT, style.fontSize) for word in each)])
        for each in words
    ]
    least = [min(each, width / len(columns)) + _PADDING for each in least]
    needs = [max(min(len(cell), _WIDEST) for cell in column) + 1 for column in columns]
    rest = max(width - sum(least), 0.0)
    wide = [
        each + rest * need / sum(needs) for each, need in zip(least, needs, strict=True)
    ]
    return [each * width / sum(wide) for each in wide]
