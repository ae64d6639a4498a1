"""Drawings of a document for reportlab: strokes of the gun, lines to write on."""

from typing import Any, Final

from reportlab.graphics.shapes import Drawing, Line, Rect, String
from reportlab.lib.colors import Color, black
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.platypus import Paragraph
from reportlab.platypus import Table as PdfTable

from shadecore.pages.blocks import Strokes
from shadecore.pages.pdf_styles import FONT

_PICTURE: Final = 46 * mm
"""Width of the drawing of strokes."""
_PER_CM: Final = 0.3 * mm
"""Of a drawing, for a centimetre of the panel: 60 cm with their fans are 25 mm high."""
_SIDE: Final = 5 * mm
"""What a stroke goes past the panel's edge."""
_BAND: Final = Color(0, 0, 0, alpha=0.14)
_NUMBER_PT: Final = 10.0
_ABREAST: Final = 3
"""Numbers of strokes stand so many columns apart, for strokes lie closer than lines."""
_COLUMN: Final = 14.0
_RULE: Final = 6 * mm
"""Height of a line to write on."""
_LABEL_SHARE: Final = 0.6
"""Of the width, at most, for labels."""
_LABEL_PADDING: Final = 2.0


def strokes_drawing(
    block: Strokes, words: Paragraph, width: float, scale: float
) -> PdfTable:
    """Strokes as a drawing beside its words.

    Parameters
    ----------
    block : Strokes
        The content.
    words : Paragraph
        Its words.
    width : float
        Of the page between its margins. [points]
    scale : float
        How far the page is drawn together.

    Returns
    -------
    reportlab.platypus.Table
    """
    per_cm = _PER_CM * scale
    fan, height = block.fan_cm * per_cm, block.height_cm * per_cm
    drawing = Drawing(_PICTURE, height + fan)
    for number, place in enumerate(block.places_cm, start=1):
        middle = height + fan / 2.0 - place * per_cm
        band = Rect(0, middle - fan / 2.0, _PICTURE, fan)
        band.fillColor, band.strokeColor = _BAND, None
        drawing.add(band)
        line = Line(0, middle, _PICTURE, middle, strokeDashArray=(3, 2))
        line.strokeWidth = 0.5
        drawing.add(line)
        place_x = 0.5 + (number - 1) % _ABREAST * _COLUMN
        low = middle - _NUMBER_PT / 3.0
        drawing.add(_number(place_x, low, number))
    panel = Rect(_SIDE, fan / 2.0, _PICTURE - 2 * _SIDE, height)
    panel.fillColor, panel.strokeColor, panel.strokeWidth = None, black, 1.0
    drawing.add(panel)
    gap = 3 * mm
    style: list[tuple[Any, ...]] = [
        ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
        *((side, (0, 0), (-1, -1), 0) for side in ("TOPPADDING", "LEFTPADDING")),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
    ]
    return PdfTable(
        [[drawing, words]],
        colWidths=[_PICTURE + gap, width - _PICTURE - gap],
        style=style,
    )


def _number(x: float, y: float, number: int) -> String:
    return String(x, y, str(number), fontSize=_NUMBER_PT, fontName=FONT)


def by_hand_table(labels: list[str], width: float, style: ParagraphStyle) -> PdfTable:
    """Lines to write on, beside each other.

    Parameters
    ----------
    labels : list of str
        What each is for, safe inside markup.
    width : float
        Of the page between its margins. [points]
    style : ParagraphStyle
        How the labels are set.

    Returns
    -------
    reportlab.platypus.Table
    """
    needed = [
        stringWidth(each, style.fontName, style.fontSize) + 3 * _LABEL_PADDING
        for each in labels
    ]
    # Labels that leave too little to write on are broken instead.
    label_widths = [min(each, _LABEL_SHARE * width / len(labels)) for each in needed]
    if sum(needed) <= _LABEL_SHARE * width:
        label_widths = needed
    line = (width - sum(label_widths)) / len(labels)
    columns = [part for each in label_widths for part in (each, line)]
    ruled: list[tuple[Any, ...]] = [
        ("VALIGN", (0, 0), (-1, -1), "BOTTOM"),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 1),
        ("LEFTPADDING", (0, 0), (-1, -1), _LABEL_PADDING),
        ("RIGHTPADDING", (0, 0), (-1, -1), 0),
        *(
            ("LINEBELOW", (2 * place + 1, 0), (2 * place + 1, 0), 0.7, black)
            for place in range(len(labels))
        ),
    ]
    fields = [part for each in labels for part in (Paragraph(each, style), "")]
    return PdfTable([fields], colWidths=columns, rowHeights=[_RULE], style=ruled)
