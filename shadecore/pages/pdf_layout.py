"""Documents as PDF, by reportlab, in letters that are read at arm's length."""

import io
from dataclasses import replace
from functools import lru_cache
from typing import Final

from reportlab.lib.pagesizes import A3, A4, LETTER
from reportlab.lib.units import mm
from reportlab.platypus import (
    CondPageBreak,
    Flowable,
    Paragraph,
    SimpleDocTemplate,
    Spacer,
)

from shadecore.pages.blocks import Document, Section, Table, Text
from shadecore.pages.pdf_blocks import block_flowables, led_markup, plain, printable
from shadecore.pages.pdf_styles import BODY_PT, FONT, USUAL_LEADING, Styles, styles_at

LARGE: Final = "A3"
"""Paper of a wall chart that is read from across a room: the sides of A4 by the square
root of 2 (ISO 216), and so are the letters."""
PAPERS: Final = {"A4": A4, "Letter": LETTER, LARGE: A3}
_LARGER: Final = 2**0.5
_MARGIN: Final = 7 * mm
_FOOT: Final = 4 * mm
"""Beside the margin, where a page may need its number."""
_FRAME_PADDING: Final = 6.0
"""What reportlab leaves free on both sides within the margins. [points]"""
_LOOSE, _CLOSE = 1.2, 1.02
"""From line to line where there is room, and where a page more would be taken: letters
stay as large as they are."""
_SAVED: Final = 1
"""Pages that lines which stand closer may save."""
_ROOM: Final = 26 * mm
"""A table does not start with less of the page left."""


def document_pdf(document: Document, paper: str = "A4") -> bytes:
    """Lay a document out as PDF.

    Parameters
    ----------
    document : Document
        The content.
    paper : str
        Of ``PAPERS``; on ``A3`` all is larger.

    Returns
    -------
    bytes
        As many pages as it may take, without what is spare where that is enough for
        it; more where it is not: letters never get smaller.
    """
    printed, leading = _fitted(document, paper, 1.0)
    return _laid_out(printed, paper, leading, _pages(printed, paper, leading))[0]


def fitting(document: Document, paper: str = "A4", share: float = 1.0) -> Document:
    """What of a document is printed.

    Parameters
    ----------
    document : Document
        The content.
    paper : str
        Of ``PAPERS``.
    share : float
        Of a page's height that may be filled, 0..1; less than 1 for letters that may
        be wider than those of the PDF.

    Returns
    -------
    Document
        All of it where that stays on the pages it may take, or on more that it takes
        anyhow; else without what can be spared, the first of it left out first.
    """
    return _fitted(document, paper, share)[0]


@lru_cache(maxsize=16)
def _fitted(document: Document, paper: str, share: float) -> tuple[Document, float]:
    """What of a document is printed, and how far its lines stand apart."""
    if document.most_pages is None:
        return document, USUAL_LEADING
    core = document.core
    takes = _pages(core, paper, USUAL_LEADING)
    if takes > document.most_pages + _SAVED:
        return document, USUAL_LEADING
    if takes > document.most_pages >= _pages(core, paper, _CLOSE):
        return core, _CLOSE
    most = max(document.most_pages, takes)
    if _pages(document, paper, _LOOSE, share) <= most:
        return document, _LOOSE
    spares = [each for each in document.sections if each.spare]
    while spares and _pages(document, paper, USUAL_LEADING, share) > most:
        spared = spares.pop(0)
        kept = tuple(each for each in document.sections if each is not spared)
        document = replace(document, sections=kept)
    return document, USUAL_LEADING


def page_width(paper: str) -> float:
    """Width of a page between its margins.

    Parameters
    ----------
    paper : str
        Of ``PAPERS``.

    Returns
    -------
    float
        [points]
    """
    return float(PAPERS[paper][0] - 2 * (_MARGIN + _FRAME_PADDING))


@lru_cache(maxsize=32)
def _pages(document: Document, paper: str, leading: float, share: float = 1.0) -> int:
    """How many pages a document takes."""
    return _laid_out(document, paper, leading, 1, share)[1]


def _laid_out(
    document: Document, paper: str, leading: float, pages: int, share: float = 1.0
) -> tuple[bytes, int]:
    """The document with the number of its pages under each, and how many it takes."""
    out = io.BytesIO()
    foot = 0.0 if document.most_pages == 1 else _FOOT
    foot += (1.0 - share) * PAPERS[paper][1]
    template = _Numbered(
        out,
        pagesize=PAPERS[paper],
        leftMargin=_MARGIN,
        rightMargin=_MARGIN,
        topMargin=_MARGIN,
        bottomMargin=_MARGIN + foot,
        title=document.title,
        author=document.shop or "shadecore",
    )
    template.pages = pages
    styles = styles_at(_LARGER if paper == LARGE else 1.0, leading)
    width = page_width(paper)
    parts = _head(document, width, styles)
    for section in document.sections:
        parts += _section(section, width, styles)

    template.build(parts)
    return out.getvalue(), template.page


class _Numbered(SimpleDocTemplate):
    """A template that says under each of several pages whose and which one it is.

    Attributes
    ----------
    pages : int
        Of the document.
    """

    pages = 1

    def afterPage(self) -> None:  # noqa: N802 - reportlab's name
        """Write the foot, after all else, so that it is read last."""
        if self.pages == 1:
            return
        self.canv.setFont(FONT, BODY_PT)
        side = _MARGIN + _FRAME_PADDING
        self.canv.drawString(side, _MARGIN, printable(self.title or ""))
        number = f"Page {self.page} of {self.pages}"
        self.canv.drawRightString(self.pagesize[0] - side, _MARGIN, number)


def _head(document: Document, width: float, styles: Styles) -> list[Flowable]:
    """What stands above the sections."""
    parts: list[Flowable] = []
    if document.stop:
        parts.append(Paragraph(plain(document.stop), styles.stop))
    parts += [Paragraph(plain(each), styles.broken) for each in document.broken]
    parts.append(Paragraph(plain(document.title), styles.title))
    under = Text(document.subtitle, f"{document.shop}." if document.shop else "")
    parts += block_flowables(under, width, styles)
    for block in document.blocks:
        parts += [*block_flowables(block, width, styles), Spacer(0, mm)]
    return parts


def _section(section: Section, width: float, styles: Styles) -> list[Flowable]:
    parts: list[Flowable] = []
    if section.led is not None:
        parts.append(Paragraph(led_markup(section.led), styles.led))
        for block in section.blocks[1:]:
            parts += block_flowables(block, width, styles)
        return parts
    heading = Paragraph(plain(section.title), styles.heading)
    if any(isinstance(each, Table) for each in section.blocks):
        parts.append(CondPageBreak(_ROOM * styles.scale))
        # Else the heading would take the whole table along to the next page.
        heading.keepWithNext = False
    parts.append(heading)
    for block in section.blocks:
        parts += block_flowables(block, width, styles)
    return parts
