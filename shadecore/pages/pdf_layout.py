"""Documents as PDF, by reportlab, drawn together to the pages that they may take."""

import bisect
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

from shadecore.pages.blocks import Document, Section, Table
from shadecore.pages.pdf_blocks import block_flowables, plain
from shadecore.pages.pdf_styles import Styles, styles_at

PAGES: Final = {"metric": A4, "us": LETTER}
LARGE: Final = "a3"
"""Paper of a wall chart that is read from across a room: the sides of A4 by the square
root of 2 (ISO 216), and so are the letters."""
_LARGER: Final = 2**0.5
_SHEETS: Final = {**PAGES, LARGE: A3}
SMALLEST: Final = 0.8
"""How far a document may be drawn together: tables stay at 8 points and more."""
_STEP: Final = 0.04
_MARGIN: Final = 7 * mm
_FRAME_PADDING: Final = 6.0
"""What reportlab leaves free on both sides within the margins. [points]"""
_WRAPPED: Final = 0.95
"""Lines break elsewhere at another scale, which may spare one in twenty."""
_ENDLESS: Final = 1e6
"""Height of a page on which everything has room. [points]"""
_ROOM: Final = 26 * mm
"""A table does not start with less of the page left."""


def document_pdf(document: Document, units: str = "metric") -> bytes:
    """Lay a document out as PDF.

    Parameters
    ----------
    document : Document
        The content.
    units : str
        ``metric`` for A4 or ``us`` for letter paper; ``a3`` for a poster.

    Returns
    -------
    bytes
        As many pages as it may take, drawn together where that is enough for it; more
        where it would no longer be legible.
    """
    if units == LARGE:
        return _laid_out(document, units, _LARGER)[0]
    scale = fitting_scale(document.core, units)
    return _laid_out(fitting(document, scale, units), units, scale)[0]


@lru_cache(maxsize=16)
def fitting(document: Document, scale: float, units: str = "metric") -> Document:
    """What of a document is printed.

    Parameters
    ----------
    document : Document
        The content.
    scale : float
        How far it is drawn together.
    units : str
        ``metric`` for A4 or ``us`` for letter paper.

    Returns
    -------
    Document
        All of it where that stays on the pages it may take, else without what can be
        spared, the first of it left out first, and last what is spared as a last
        resort.
    """
    while not _fits(document, units, scale):
        spares = [each for each in document.sections if each.spare]
        spares += [each for each in document.sections if each.last_resort]
        if not spares:
            break
        spared = spares[0]
        kept = tuple(each for each in document.sections if each is not spared)
        document = replace(document, sections=kept)
    return document


@lru_cache(maxsize=16)
def fitting_scale(document: Document, units: str = "metric") -> float:
    """How far a document is drawn together to stay on the pages it may take.

    Parameters
    ----------
    document : Document
        The content.
    units : str
        ``metric`` for A4 or ``us`` for letter paper.

    Returns
    -------
    float
        1 for the usual size, down to ``SMALLEST``.
    """
    steps = round((1.0 - SMALLEST) / _STEP)
    # Most documents fit as they are; of the others the least step that fits is found.
    if _fits(document, units, 1.0):
        return 1.0
    step = bisect.bisect_left(
        range(1, steps),
        True,  # noqa: FBT003 - what the key is to come to
        key=lambda each: _fits(document, units, 1.0 - _STEP * each),
    )
    return 1.0 - _STEP * (step + 1)


def _fits(document: Document, units: str, scale: float) -> bool:
    if document.most_pages is None:
        return True
    room = document.most_pages * (PAGES[units][1] - 2 * (_MARGIN + _FRAME_PADDING))
    parts = (replace(document, sections=()), *document.sections)
    # Laying out takes long; what is too high by itself need not be laid out. Lines get
    # longer and lower together, so that no height falls faster than the scale squared.
    usual = sum(_height(each, units, 1.0) for each in parts)
    if _WRAPPED * usual * scale**2 > room:
        return False
    if sum(_height(each, units, scale) for each in parts) > room:
        return False
    return _laid_out(document, units, scale)[1] <= document.most_pages


@lru_cache(maxsize=256)
def _height(part: Document | Section, units: str, scale: float) -> float:
    """What a section, or what stands above the sections, takes at least. [points]."""
    width = page_width(units)
    styles = styles_at(scale)
    if isinstance(part, Section):
        flowables = _section(part, width, styles)
    else:
        flowables = _head(part, width, styles)
    total = after = 0.0
    for each in flowables:
        if not isinstance(each, CondPageBreak):
            total += each.wrap(width, _ENDLESS)[1]
            total += max(each.getSpaceBefore() - after, 0.0) if after else 0.0
            after = each.getSpaceAfter()
            total += after
    return total - after


def page_width(units: str) -> float:
    """Width of a page between its margins.

    Parameters
    ----------
    units : str
        ``metric`` for A4, ``us`` for letter paper, ``a3`` for a poster.

    Returns
    -------
    float
        [points]
    """
    return float(_SHEETS[units][0] - 2 * (_MARGIN + _FRAME_PADDING))


@lru_cache(maxsize=4)
def _laid_out(document: Document, units: str, scale: float) -> tuple[bytes, int]:
    """The document at a scale, and its pages."""
    out = io.BytesIO()
    template = SimpleDocTemplate(
        out,
        pagesize=_SHEETS[units],
        leftMargin=_MARGIN,
        rightMargin=_MARGIN,
        topMargin=_MARGIN,
        bottomMargin=_MARGIN,
        title=document.title,
        author="shadecore",
    )
    width, styles = page_width(units), styles_at(scale)
    parts = _head(document, width, styles)
    for section in document.sections:
        parts += _section(section, width, styles)
    template.build(parts)
    return out.getvalue(), template.page


def _head(document: Document, width: float, styles: Styles) -> list[Flowable]:
    """What stands above the sections."""
    parts: list[Flowable] = []
    if document.stop:
        parts.append(Paragraph(plain(document.stop), styles.stop))
    parts += [Paragraph(plain(each), styles.broken) for each in document.broken]
    parts.append(Paragraph(plain(document.title), styles.title))
    parts.append(Paragraph(plain(document.subtitle), styles.body))
    for block in document.blocks:
        parts += [*block_flowables(block, width, styles), Spacer(0, mm)]
    return parts


def _section(section: Section, width: float, styles: Styles) -> list[Flowable]:
    text = styles.small if section.small else styles.body
    styles = styles._replace(text=text)
    parts: list[Flowable] = []
    heading = Paragraph(plain(section.title), styles.heading)
    if any(isinstance(each, Table) for each in section.blocks):
        parts.append(CondPageBreak(_ROOM * styles.scale))
        # Else the heading would take the whole table along to the next page.
        heading.keepWithNext = False
    parts.append(heading)
    for block in section.blocks:
        parts += block_flowables(block, width, styles)
    return parts
