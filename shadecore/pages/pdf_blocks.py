"""Blocks of a document as reportlab's flowables."""

from html import escape
from typing import Any, Final

import numpy as np
from reportlab.graphics.shapes import Drawing, Line, Rect
from reportlab.lib.colors import HexColor, black, grey
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.platypus import Flowable, Paragraph
from reportlab.platypus import Table as PdfTable

from shadecore.colour.display import hex_from_lab
from shadecore.pages.blocks import (
    Block,
    ByHand,
    Cell,
    Strokes,
    Swatches,
    Table,
    Text,
    as_cell,
)
from shadecore.pages.column_widths import fewest_lines
from shadecore.pages.pdf_drawn import by_hand_table, strokes_drawing
from shadecore.pages.pdf_styles import BOLD, FONT, Styles

_TALL, _STRIP, _PATCH = 10 * mm, 6 * mm, 5.5 * mm
"""Heights of swatches to compare, of a strip and in a field of a table."""
_PATCH_SHARE: Final = 0.3
"""Of the width of a swatch and its words."""
_BESIDE: Final = 6.0
"""What reportlab leaves free beside the words in a field. [points]"""
_FRAME, _THIN = 2.5, 0.7
_PADDING, _GAP = 1.0, 3.0
_FIRST_COLUMN: Final = 1.6
"""The column that names rows with swatches, in widths of the others."""
_BY_HAND: Final = 13 * mm
"""Room to write a time of day with a pen."""
_NARROWEST: Final = 8.0
_AIR: Final = 5.0
"""Beside the text of a field. [points]"""


def plain(text: str) -> str:
    """Text in the characters that the built-in fonts have, safe inside markup.

    Parameters
    ----------
    text : str
        Any text.

    Returns
    -------
    str
    """
    return escape(printable(text))


def printable(text: str) -> str:
    """Text in the characters that the built-in fonts have.

    Parameters
    ----------
    text : str
        Any text.

    Returns
    -------
    str
        With a question mark for each of the others.
    """
    return text.encode("cp1252", errors="replace").decode("cp1252")


def block_flowables(block: Block, width: float, styles: Styles) -> list[Flowable]:
    """A block, ready to be laid on a page.

    Parameters
    ----------
    block : Block
        The content.
    width : float
        Of the page between its margins. [points]
    styles : Styles
        How its text is set.

    Returns
    -------
    list of Flowable
    """
    if isinstance(block, Text):
        return [Paragraph(led_markup(block), styles.body)]
    if isinstance(block, Swatches):
        return [_swatches(block, width, styles)] if block.swatches else []
    if isinstance(block, Strokes):
        words = Paragraph(plain(block.text), styles.body)
        return [strokes_drawing(block, words, width, styles.scale)]
    if isinstance(block, ByHand):
        labels = [plain(each) for each in block.labels]
        return [by_hand_table(labels, width, styles.body)]
    note = [Paragraph(plain(block.note), styles.body)] if block.note else []
    return [_table(block, width, styles), *note]


def _swatches(block: Swatches, width: float, styles: Styles) -> PdfTable:
    colours = hex_from_lab([each.lab for each in block.swatches])
    texts = [
        Paragraph(led_markup(Text(each.text, each.title)), styles.body)
        for each in block.swatches
    ]
    if block.tall:
        return _beside(colours, texts, width, styles)
    style: list[tuple[Any, ...]] = [
        ("BACKGROUND", (i, 0), (i, 0), HexColor(colour))
        for i, colour in enumerate(colours)
    ]
    style += [("BOX", (i, 0), (i, 0), _THIN, black) for i in range(len(colours))]
    style.append(("VALIGN", (0, 0), (-1, -1), "TOP"))
    height = _STRIP * styles.scale
    return PdfTable(
        [[""] * len(colours), texts],
        colWidths=[width / len(colours)] * len(colours),
        rowHeights=[height, None],
        style=style,
    )


def _beside(
    colours: list[str], texts: list[Paragraph], width: float, styles: Styles
) -> PdfTable:
    """Two or three swatches, each beside its words, which takes little height."""
    share = width / len(colours)
    patch = _PATCH_SHARE * share
    places = range(0, 2 * len(colours), 2)
    style: list[tuple[Any, ...]] = [("VALIGN", (0, 0), (-1, -1), "TOP")]
    for place, colour in zip(places, colours, strict=True):
        style.append(("BACKGROUND", (place, 0), (place, 0), HexColor(colour)))
        style.append(("BOX", (place, 0), (place, 0), _THIN, black))
    high = max(each.wrap(share - patch - 2 * _BESIDE, width)[1] for each in texts)
    return PdfTable(
        [[part for each in texts for part in ("", each)]],
        colWidths=[patch, share - patch] * len(colours),
        rowHeights=[max(_TALL * styles.scale, high + _BESIDE)],
        style=style,
    )


def _table(table: Table, width: float, styles: Styles) -> PdfTable:
    lines = (table.headings, *table.rows)
    shared = (
        _even(table, width)
        if table.pictured
        else widths_by_text(table, width, styles.body.fontSize)
    )
    cells = [
        [
            _inside(field, shared[column], _style(line, column, table, styles), styles)
            for column, field in enumerate(fields)
        ]
        for line, fields in enumerate(lines)
    ]
    return PdfTable(cells, colWidths=shared, repeatRows=1, style=_ruled(table))


def _style(line: int, column: int, table: Table, styles: Styles) -> ParagraphStyle:
    """How a field's plain text is set."""
    if column in table.numbers:
        return styles.right
    return styles.large if table.large and line and column else styles.body


def _ruled(table: Table) -> list[tuple[Any, ...]]:
    sides = 2 * _PADDING if table.pictured else _PADDING
    begun = sorted(table.begins)
    style: list[tuple[Any, ...]] = [
        ("LINEBELOW", (0, 0), (-1, 0), 1.0, black),
        ("LINEBELOW", (0, 1), (-1, -1), 0.3, grey),
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("TOPPADDING", (0, 0), (-1, -1), _PADDING / 2.0),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 0.6 * _PADDING),
        ("LEFTPADDING", (0, 0), (-1, -1), sides),
        ("RIGHTPADDING", (0, 0), (-1, -1), sides if table.pictured else _GAP),
    ]
    style += [("LINEABOVE", (0, row + 1), (-1, row + 1), 1.5, black) for row in begun]
    style += [
        ("LINEBEFORE", (column, 1), (column, -1), 0.3, grey) for column in table.by_hand
    ]
    style += [
        ("BOX", (column, row), (column, row), _FRAME, black)
        for row, fields in enumerate(table.rows, start=1)
        for column, field in enumerate(fields)
        if as_cell(field).marked
    ]
    return style


def _inside(
    field: Cell | str, width: float, text: ParagraphStyle, styles: Styles
) -> list[Flowable]:
    """What a field holds, from top to bottom."""
    if isinstance(field, str):
        return [Paragraph(plain(field), text)]
    parts: list[Flowable] = []
    if field.colours:
        parts.append(_patch(field.colours, width - 4 * _PADDING, styles.scale))
    if field.ticked is not None:
        parts.append(_box(text.fontSize, ticked=field.ticked))
    if field.text and text is styles.large:
        parts.append(Paragraph(plain(field.text), text))
    elif field.text or field.told:
        parts.append(Paragraph(led_markup(Text("", field.text), *field.told), text))
    if field.note:
        parts.append(Paragraph(plain(field.note), styles.body))
    return parts


def led_markup(*told: Text) -> str:
    """Sentences as one paragraph, their labels bold.

    Parameters
    ----------
    *told : Text
        In the order they are read.

    Returns
    -------
    str
        In reportlab's markup.
    """
    pieces = [
        piece
        for each in told
        for piece in (
            f"<b>{plain(each.label)}</b>" if each.label else "",
            plain(each.text),
        )
    ]
    return " ".join(piece for piece in pieces if piece)


def _patch(colours: tuple[str, ...], width: float, scale: float) -> Drawing:
    height = _PATCH * scale
    drawing = Drawing(width, height + 1)
    each = width / len(colours)
    for place, colour in enumerate(colours):
        field = Rect(place * each, 1, each, height)
        field.fillColor, field.strokeColor = HexColor(colour), None
        drawing.add(field)
    drawing.add(_frame(0, 1, width, height))
    return drawing


def _box(size: float, *, ticked: bool) -> Drawing:
    """A box to tick, with a cross in it where that is done."""
    drawing = Drawing(size, size + 1)
    drawing.add(_frame(0, 0, size, size))
    if ticked:
        drawing.add(Line(0, 0, size, size))
        drawing.add(Line(0, size, size, 0))
    return drawing


def _frame(x: float, y: float, width: float, height: float) -> Rect:
    frame = Rect(x, y, width, height)
    frame.fillColor, frame.strokeColor, frame.strokeWidth = None, black, _THIN
    return frame


def _even(table: Table, width: float) -> list[float]:
    """Columns of the same width beside the one that names the rows."""
    others = len(table.headings) - 1
    share = width / (_FIRST_COLUMN + others)
    return [_FIRST_COLUMN * share] + [share] * others


def widths_by_text(table: Table, width: float, size: float) -> list[float]:
    """Widths that break no word of usual length and leave as few lines as they can.

    Parameters
    ----------
    table : Table
        Without swatches.
    width : float
        Of the page between its margins. [points]
    size : float
        Of its letters. [points]

    Returns
    -------
    list of float
        One for each column. [points]
    """
    columns = [
        [as_cell(field) for field in column]
        for column in zip(table.headings, *table.rows, strict=True)
    ]
    least = [
        min(_longest_word(cells, size), width / len(columns)) + _AIR
        for cells in columns
    ]
    least = [
        max(each, _BY_HAND) if column in table.by_hand else each
        for column, each in enumerate(least)
    ]
    texts = np.array([[_on_one_line(e, size) for e in cells] for cells in columns])
    return fewest_lines(least, texts, width)


def _longest_word(cells: list[Cell], size: float) -> float:
    """Width of the longest word of a column, or of its box."""
    boxes = [size for cell in cells if cell.ticked is not None]
    words = [
        width
        for cell in cells
        for width in (
            *(stringWidth(word, BOLD, size) for word in cell.text.split()),
            *(stringWidth(word, FONT, size) for word in _unled(cell).split()),
        )
    ]
    return max([_NARROWEST, *boxes, *words])


def _unled(cell: Cell) -> str:
    return f"{cell.plainly} {cell.note}"


def _on_one_line(cell: Cell, size: float) -> tuple[float, float]:
    """Width of a field's paragraph and of the line under it, were there room."""
    led = stringWidth(cell.text, BOLD, size)
    led += stringWidth(f" {cell.plainly}".rstrip(), FONT, size)
    return float(led), float(stringWidth(cell.note, FONT, size))
