"""HEIC, the format in which many phones store pictures."""

import io
from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.errors import PhotoError
from shadecore.photo.light import DISPLAY_P3_PROFILE

MOST_PIXELS: Final = 50_000_000
"""A larger picture could fill the memory of a small computer. A larger JPEG is decoded
at half the size, or a quarter, and so on; any other file is refused."""
_BOX_AT: Final = slice(4, 8)
_BRAND_AT: Final = slice(8, 12)
_BRANDS: Final = (
    b"heic",
    b"heix",
    b"hevc",
    b"hevx",
    b"heim",
    b"heis",
    b"mif1",
    b"msf1",
)
"""File types of ISO/IEC 23008-12 that a phone's picture starts with."""
_DISPLAY_P3_PRIMARIES: Final = 12
_HIGH_DYNAMIC_RANGE: Final = (16, 18)
"""Codes of ITU-T H.273: colour primaries, and the transfer functions PQ and HLG."""


def too_large(name: str) -> str:
    """Message for a picture file that is too large."""
    return (
        f"{name} has more than {MOST_PIXELS // 1_000_000} megapixels; save it smaller."
    )


def is_heic(content: bytes) -> bool:
    """Whether a file's first bytes are those of HEIC."""
    return content[_BOX_AT] == b"ftyp" and content[_BRAND_AT] in _BRANDS


def open_heic(content: bytes, name: str) -> tuple[NDArray[np.uint8 | np.uint16], bytes]:
    """Open a HEIC file, upright.

    Parameters
    ----------
    content : bytes
        The file.
    name : str
        Its name, for messages.

    Returns
    -------
    levels : array of uint8 or uint16, shape (height, width, 3)
        As encoded.
    profile : bytes
        Its ICC profile; empty where it is sRGB.

    Raises
    ------
    PhotoError
        If it is too large, of high dynamic range or without colour. A damaged file
        raises whatever the decoder raises.
    """
    # Imported only when needed, because it loads a video decoder.
    import pillow_heif  # noqa: PLC0415

    file = pillow_heif.open_heif(
        io.BytesIO(content), convert_hdr_to_8bit=False, bgr_mode=False
    )
    width, height = file.size
    if width * height > MOST_PIXELS:
        raise PhotoError(too_large(name))
    nclx = file.info.get("nclx_profile") or {}
    if nclx.get("transfer_characteristics") in _HIGH_DYNAMIC_RANGE:
        message = (
            f"{name} is a picture of high dynamic range, whose colours are bent; "
            "switch that off in the camera or save it as JPEG."
        )
        raise PhotoError(message)
    levels = np.asarray(file)
    if not file.mode.startswith("RGB"):
        message = f"{name} is black and white; take the picture in colour."
        raise PhotoError(message)
    profile = file.info.get("icc_profile") or b""
    if not profile and nclx.get("color_primaries") == _DISPLAY_P3_PRIMARIES:
        profile = DISPLAY_P3_PROFILE
    return np.ascontiguousarray(levels[..., :3]), profile
