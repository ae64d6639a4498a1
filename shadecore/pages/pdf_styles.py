"""How the text of a PDF is set."""

from functools import lru_cache
from typing import Any, Final, NamedTuple

from reportlab.lib.colors import black
from reportlab.lib.enums import TA_RIGHT
from reportlab.lib.styles import ParagraphStyle, getSampleStyleSheet

FONT: Final = "Helvetica"
_BOLD: Final = "Helvetica-Bold"
_LEADING: Final = 1.09
BODY_PT, _SMALL_PT, _TITLE_PT, _HEADING_PT, _STOP_PT = 10.0, 8.0, 20.0, 12.0, 15.0
_LARGE_PT: Final = 16.0
_LEAST_PT: Final = 7.5
"""Nothing is set smaller, however far a document is drawn together."""


class Styles(NamedTuple):
    """How text is set at one scale.

    Attributes
    ----------
    scale : float
        1 for the usual size.
    body, small, right, bold, large : ParagraphStyle
        Fields of tables: plain, notes, numbers, cells, cells read from afar.
    text : ParagraphStyle
        Paragraphs.
    title, heading, stop, broken : ParagraphStyle
        Above all, above a section, what forbids the work, and limits not kept.
    """

    scale: float
    body: ParagraphStyle
    small: ParagraphStyle
    right: ParagraphStyle
    bold: ParagraphStyle
    large: ParagraphStyle
    text: ParagraphStyle
    title: ParagraphStyle
    heading: ParagraphStyle
    stop: ParagraphStyle
    broken: ParagraphStyle


@lru_cache(maxsize=8)
def styles_at(scale: float) -> Styles:
    """Styles at a scale.

    Parameters
    ----------
    scale : float
        1 for the usual size.

    Returns
    -------
    Styles
    """
    sample = getSampleStyleSheet()["BodyText"]

    def style(name: str, points: float, **more: Any) -> ParagraphStyle:  # noqa: ANN401
        size = max(points * scale, _LEAST_PT)
        return ParagraphStyle(
            name, sample, fontSize=size, leading=size * _LEADING, spaceBefore=1, **more
        )

    body = style("body", BODY_PT)
    stop = style("stop", _STOP_PT, fontName=_BOLD, borderWidth=3, borderColor=black)
    stop.borderPadding, stop.spaceAfter = 5, 8
    broken = style("broken", BODY_PT, fontName=_BOLD, borderWidth=1.5)
    broken.borderColor, broken.borderPadding, broken.spaceAfter = black, 2, 5
    heading = style("heading", _HEADING_PT, fontName=_BOLD, keepWithNext=1)
    heading.spaceBefore = 5 * scale
    small = style("small", _SMALL_PT)
    small.leading = small.fontSize * 1.1
    return Styles(
        scale,
        body,
        small,
        style("right", BODY_PT, alignment=TA_RIGHT),
        style("bold", BODY_PT, fontName=_BOLD),
        style("large", _LARGE_PT, fontName=_BOLD),
        body,
        style("title", _TITLE_PT, fontName=_BOLD),
        heading,
        stop,
        broken,
    )
