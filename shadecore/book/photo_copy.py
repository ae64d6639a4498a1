"""A photo as the book keeps it: to look at, without where and when it was taken."""

import io
from typing import Final

import numpy as np
from PIL import Image

from shadecore.photo.picture import open_picture

LONGEST_SIDE: Final = 1600
"""Pixels; enough to look at on a screen, and a book of many stays small."""
_SHOWN_SIDE: Final = 480
"""Pixels in a list of several; a phone shows it at full width."""
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
    return _jpeg(Image.fromarray(levels), LONGEST_SIDE, picture.profile)


def small_copy(content: bytes) -> bytes:
    """A kept photo as small as it is shown in a list.

    Parameters
    ----------
    content : bytes
        As :func:`photo_copy` gives it.

    Returns
    -------
    bytes
        JPEG with its colour profile.
    """
    with Image.open(io.BytesIO(content)) as image:
        return _jpeg(image, _SHOWN_SIDE, image.info.get("icc_profile"))


def _jpeg(image: Image.Image, side: int, profile: bytes | None) -> bytes:
    image.thumbnail((side, side))
    out = io.BytesIO()
    image.save(out, "JPEG", quality=_QUALITY, icc_profile=profile)
    return out.getvalue()
