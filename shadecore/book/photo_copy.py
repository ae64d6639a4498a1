"""A photo as the book keeps it: to look at, without where and when it was taken."""

import io
from typing import Final

import numpy as np
from PIL import Image

from shadecore.photo.picture import open_picture

LONGEST_SIDE: Final = 1600
"""Pixels; enough to look at on a screen, and a book of many stays small."""
_QUALITY: Final = 90
_TO_EIGHT_BITS: Final = 257
"""65535 by 255."""


def photo_copy(content: bytes, name: str) -> bytes:
    """A smaller JPEG copy of a picture with its colour profile and nothing else.

    Parameters
    ----------
    content : bytes
        The picture file.
    name : str
        What to call it in a message.

    Returns
    -------
    bytes

    Raises
    ------
    PhotoError
        If it is not a picture that can be opened.
    """
    picture = open_picture(content, name)
    levels = picture.levels
    if levels.dtype != np.uint8:
        levels = (levels // _TO_EIGHT_BITS).astype(np.uint8)
    image = Image.fromarray(levels)
    image.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    out = io.BytesIO()
    image.save(out, "JPEG", quality=_QUALITY, icc_profile=picture.profile)
    return out.getvalue()
