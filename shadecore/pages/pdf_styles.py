"""How the text of a PDF is set."""

from functools import lru_cache
from typing import Any, Final, NamedTuple

from reportlab.lib.colors import black
from reportlab.lib.enums import TA_RIGHT
from reportlab.lib.styles import ParagraphStyle, getSampleStyleSheet

FONT: Final = "Helvetica"
BOLD: Final = "Helvetica-Bold"
USUAL_LEADING: Final = 1.09
"""From line to line, in heights of a letter."""
BODY_PT, _TITLE_PT, _HEADING_PT, _STOP_PT = 10.0, 18.0, 12.0, 15.0
"""Nothing is set smaller than the body: it is read at arm's length, with gloves on."""
_LARGE_PT: Final = 16.0


class Styles(NamedTuple):
    """How text is set at one scale.

    Attributes
    ----------
    scale : float
        1 for the usual size.
    body, right, bold, large : ParagraphStyle
        Paragraphs and fields of tables: plain, numbers, cells, cells read from afar.
    led : ParagraphStyle
        Paragraphs that begin with the title of their section.
    title, heading, stop, broken : ParagraphStyle
        Above all, above a section, what forbids the work, and limits not kept.
    """

    scale: float
    body: ParagraphStyle
    right: ParagraphStyle
    bold: ParagraphStyle
    large: ParagraphStyle
    led: ParagraphStyle
    title: ParagraphStyle
    heading: ParagraphStyle
    stop: ParagraphStyle
    broken: ParagraphStyle


@lru_cache(maxsize=8)
def styles_at(scale: float, leading: float = USUAL_LEADING) -> Styles:
    """Styles at a scale.

    Parameters
    ----------
    scale : float
        1 for the usual size.
    leading : float
        From line to line, in heights of a letter.

    Returns
    -------
    Styles
    """
    sample = getSampleStyleSheet()["BodyText"]

    def style(name: str, points: float, **more: Any) -> ParagraphStyle:  # noqa: ANN401
        size = points * scale
        return ParagraphStyle(
            name, sample, fontSize=size, leading=size * leading, spaceBefore=1, **more
        )

    body = style("body", BODY_PT)
    stop = style("stop", _STOP_PT, fontName=BOLD, borderWidth=3, borderColor=black)
    stop.borderPadding, stop.spaceAfter = 5, 8
    broken = style("broken", BODY_PT, fontName=BOLD, borderWidth=1.5)
    broken.borderColor, broken.borderPadding, broken.spaceAfter = black, 2, 5
    heading = style("heading", _HEADING_PT, fontName=BOLD, keepWithNext=1)
    heading.spaceBefore, heading.spaceAfter = 5 * scale, 2 * scale
    led = style("led", BODY_PT)
    led.spaceBefore = 3 * scale
    return Styles(
        scale,
        body,
        style("right", BODY_PT, alignment=TA_RIGHT),
        style("bold", BODY_PT, fontName=BOLD),
        style("large", _LARGE_PT, fontName=BOLD),
        led,
        style("title", _TITLE_PT, fontName=BOLD),
        heading,
        stop,
        broken,
    )
