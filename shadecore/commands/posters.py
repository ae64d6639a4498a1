"""What ``handout`` and ``wallchart`` share: a poster goes into a file."""

from pathlib import Path

from shadecore.errors import SettingError
from shadecore.formats.whole import write_whole
from shadecore.pages.blocks import Document
from shadecore.pages.html_layout import document_html
from shadecore.pages.letterhead import Letterhead
from shadecore.pages.pdf_layout import document_pdf

_PDF, _HTML = ".pdf", ".html"


def check_name(name: str) -> Path:
    """The file to write, before anything is worked out.

    Parameters
    ----------
    name : str
        As given.

    Returns
    -------
    Path

    Raises
    ------
    SettingError
        If it is neither PDF nor HTML.
    """
    out = Path(name)
    if out.suffix.lower() not in {_PDF, _HTML}:
        message = f"{out} is neither .pdf nor .html; name it so."
        raise SettingError(message)
    return out


def write_poster(
    poster: Document, out: Path, letterhead: Letterhead, paper: str
) -> None:
    """Write a poster.

    Parameters
    ----------
    poster : Poster
        The content.
    out : Path
        The file, from :func:`check_name`.
    letterhead : Letterhead
        What the shop's prints carry.
    paper : str
        Of :data:`shadecore.pages.pdf_layout.PAPERS`.

    Raises
    ------
    TableError
        If it cannot be written.
    """
    poster = letterhead.on(poster)
    if out.suffix.lower() == _PDF:
        write_whole(out, document_pdf(poster, paper))
    else:
        write_whole(out, document_html(poster).encode())
