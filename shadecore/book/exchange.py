"""Colours in and out by open standards: CGATS text (ISO 28178) and CxF3 (ISO 17972)."""

from datetime import datetime
from typing import Final

from shadecore.book.cgats import is_cgats
from shadecore.book.cgats_colours import read_cgats, write_cgats
from shadecore.book.cxf import read_cxf
from shadecore.book.cxf_write import write_cxf
from shadecore.book.errors import BookError
from shadecore.book.records import BookColour
from shadecore.book.samples import MOST_BYTES, Found
from shadecore.book.told import NOTHING_TOLD, Told
from shadecore.errors import TableError
from shadecore.formats.echo import shown
from shadecore.formats.table import decode

FORMATS: Final = ("cgats", "cxf")
"""In which colours can be written."""
_BEFORE_TEXT: Final = b"\xef\xbb\xbf\xff\xfe \t\r\n"
"""Byte order marks and blanks."""
_A_START: Final = 200
"""Bytes in which XML gives itself away."""


def read_colours(content: bytes, name: str, given: Told = NOTHING_TOLD) -> Found:
    """Colours in a file of either kind.

    Parameters
    ----------
    content : bytes
        The file.
    name : str
        Its name, for messages and for samples that have none.
    given : Told
        How its colours were measured, where the file does not say it.

    Returns
    -------
    Found
        The colours for :meth:`shadecore.book.book.Book.plan_import`, and what could
        not be used.

    Raises
    ------
    BookError
        If it is neither, damaged or too large, none of its colours can be used, or it
        says otherwise how they were measured.
    """
    if len(content) > MOST_BYTES:
        message = (
            f"{name} has {len(content) / 1e6:.0f} MB; {MOST_BYTES / 1e6:.0f} MB are "
            "the most, so split it."
        )
        raise BookError(message)
    if not content.strip(b"\0 \t\r\n"):
        message = f"{name} is empty; export it anew."
        raise BookError(message)
    start = content[:_A_START].replace(b"\0", b"").lstrip(_BEFORE_TEXT)
    if start.startswith(b"<"):
        return read_cxf(content, name, given)
    try:
        text = decode(content, name)
    except TableError:
        text = ""
    if not is_cgats(text):
        message = (
            f"{name} is neither CGATS text nor CxF3; export the colours as one of them."
        )
        raise BookError(message)
    return read_cgats(text, name, given)


def write_colours(colours: tuple[BookColour, ...], kind: str, at: datetime) -> bytes:
    """Colours as a file.

    Parameters
    ----------
    colours : tuple of BookColour
        The colours; at least one.
    kind : str
        ``cgats`` or ``cxf``.
    at : datetime
        When it is written, with its time zone.

    Returns
    -------
    bytes
        What :func:`read_colours` reads back.

    Raises
    ------
    BookError
        If there are no colours, or the kind is not known.
    """
    if not colours:
        message = "There are no colours to write; choose some."
        raise BookError(message)
    if kind == "cgats":
        return write_cgats(colours).encode("utf-8")
    if kind == "cxf":
        return write_cxf(colours, at)
    message = f"Colours are written as {' or '.join(FORMATS)}, not {shown(kind)}."
    raise BookError(message)
