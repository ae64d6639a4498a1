"""Picture files: formats, depth, profile, orientation."""

from __future__ import annotations

import io
import struct
import zlib
from dataclasses import dataclass
from functools import cache

import numpy as np
import tifffile
from numpy.typing import NDArray
from PIL import Image, ImageCms

from .icc import matrix_profile
from .sensor import Pixels

ORIENTATION_TAG = 0x0112
_ICC_TAG = 34675

# What turns an upright picture into the stored one that a viewer turns back.
_STORED = {
    1: None,
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_90,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_270,
}
ORIENTATIONS = tuple(_STORED)


@dataclass(frozen=True)
class FileKind:
    """How a picture is stored.

    Attributes
    ----------
    suffix : str
        ``.jpg``, ``.png`` or ``.tif``.
    bits : int
        8, or 16 for the latter two.
    quality : int
        Of a JPEG.
    orientation : int
        EXIF orientation, 1 to 8; only with 8 bits.
    profile : bool
        Whether an sRGB picture carries its profile; others always do.
    """

    suffix: str = ".png"
    bits: int = 8
    quality: int = 90
    orientation: int = 1
    profile: bool = True


def draw_file_kind(rng: np.random.Generator) -> FileKind:
    """Draw a kind of file: three in four are JPEG, a third of those turned."""
    suffix = str(rng.choice([".jpg", ".png", ".tif"], p=[0.76, 0.14, 0.10]))
    profile = bool(rng.random() < 0.5)
    if suffix != ".jpg":
        bits = int(rng.choice([8, 16]))
        return FileKind(suffix, bits=bits, profile=profile)
    turned = rng.random() < 1.0 / 3.0
    return FileKind(
        suffix,
        quality=int(rng.integers(80, 96)),
        orientation=int(rng.choice(ORIENTATIONS)) if turned else 1,
        profile=profile,
    )


def stored(picture: Pixels, space: str, kind: FileKind) -> bytes:
    """File with an encoded picture.

    Parameters
    ----------
    picture : Pixels
        Encoded values, shape (height, width, 3), 0..1.
    space : str
        ``sRGB`` or ``Display P3``.
    kind : FileKind
        Format, depth, orientation.

    Returns
    -------
    bytes
    """
    steps = 2**kind.bits - 1
    values = np.rint(picture * np.float32(steps))
    icc = profile(space) if kind.profile or space != "sRGB" else None
    if kind.bits == 16:
        deep = values.astype(np.uint16)
        return _png_16(deep, icc) if kind.suffix == ".png" else _tiff_16(deep, icc)
    image = Image.fromarray(values.astype(np.uint8))
    turn = _STORED[kind.orientation]
    if turn is not None:
        image = image.transpose(turn)
    return _eight_bits(image, icc, kind)


@cache
def profile(space: str) -> bytes:
    """ICC profile of a space."""
    if space == "sRGB":
        return ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    return matrix_profile(space)


def _eight_bits(image: Image.Image, icc: bytes | None, kind: FileKind) -> bytes:
    out = io.BytesIO()
    exif = Image.Exif()
    if kind.orientation != 1:
        exif[ORIENTATION_TAG] = kind.orientation
    if kind.suffix == ".jpg":
        image.save(out, "JPEG", quality=kind.quality, icc_profile=icc, exif=exif)
    elif kind.suffix == ".png":
        image.save(out, "PNG", compress_level=1, icc_profile=icc, exif=exif)
    else:
        image.save(out, "TIFF", icc_profile=icc)
    return out.getvalue()


def _png_16(values: NDArray[np.uint16], icc: bytes | None) -> bytes:
    """PNG by ISO/IEC 15948 with 16 bits a channel and a profile, which Pillow lacks."""
    height, width, _ = values.shape
    rows = values.astype(">u2").reshape(height, -1).view(np.uint8)
    unfiltered = np.concatenate([np.zeros((height, 1), np.uint8), rows], axis=1)
    chunks = [_chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 16, 2, 0, 0, 0))]
    if icc is not None:
        chunks.append(_chunk(b"iCCP", b"profile\0\0" + zlib.compress(icc)))
    chunks.append(_chunk(b"IDAT", zlib.compress(unfiltered.tobytes(), 1)))
    return b"\x89PNG\r\n\x1a\n" + b"".join(chunks) + _chunk(b"IEND", b"")


def _chunk(name: bytes, data: bytes) -> bytes:
    check = zlib.crc32(name + data)
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", check)


def _tiff_16(values: NDArray[np.uint16], icc: bytes | None) -> bytes:
    out = io.BytesIO()
    tags = [] if icc is None else [(_ICC_TAG, "B", len(icc), icc, True)]
    tifffile.imwrite(out, values, photometric="rgb", metadata=None, extratags=tags)
    return out.getvalue()
