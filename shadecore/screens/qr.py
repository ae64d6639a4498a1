"""An address as a picture for a phone's camera."""

from html import escape
from typing import Final

import segno

_QUIET: Final = 4
"""Modules of white around a QR code that ISO/IEC 18004 asks for."""


def qr_html(address: str, size: str = "16rem") -> str:
    """A QR code, black on white in every theme.

    Parameters
    ----------
    address : str
        What it leads to.
    size : str
        Width and height, in CSS.

    Returns
    -------
    str
        HTML of a picture.
    """
    picture = segno.make(address, error="m", micro=False).svg_data_uri(
        border=_QUIET, dark="#000", light="#fff"
    )
    return (
        f'<img class="sc-qr" src="{escape(picture)}" alt="QR code of '
        f'{escape(address)}" style="width:{size};height:{size};'
        'image-rendering:pixelated">'
    )
