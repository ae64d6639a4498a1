"""Opening a picture file: its pixels, turned upright, and its colour profile."""

import io
import warnings
from dataclasses import dataclass
from typing import Final

import numpy as np
import tifffile
from numpy.typing import NDArray
from PIL import Image, UnidentifiedImageError

from shadecore.errors import PhotoError
from shadecore.photo.heic import MOST_PIXELS, is_heic, open_heic, too_large
from shadecore.photo.light import (
    SRGB_PROFILE,
    linear_from_levels,
    screen_from_levels,
)

Levels = NDArray[np.uint8 | np.uint16]

SMALLEST_SIDE: Final = 16
"""Shortest side of a picture that is opened. [pixels]"""
PREVIEW_SIDE: Final = 1200
"""Longest side of the picture that areas are marked on. [pixels]"""

_FORMATS: Final = ("JPEG", "PNG", "TIFF", "WEBP")
_JPEG: Final = ("JPEG", "MPO")
"""Pillow's names of JPEG files; MPO is a JPEG with a depth map or another view behind
the picture, as phones store it."""
_DEEP: Final = 16
_PNG_DEPTH_AT: Final = 24
"""Byte of the bit depth in a PNG file (ISO/IEC 15948, IHDR)."""
_TIFF_BITS: Final = 258
"""Tag of the bits of each channel (TIFF 6.0, BitsPerSample)."""
_ORIENTATION: Final = 0x0112
"""Exif tag that tells how the camera was held."""
_COLOURS: Final = 3
_WITHOUT_COLOUR: Final = ("1", "L", "LA", "La", "I", "F", "I;16", "I;16B", "I;16L")
_FOR_SCREENS: Final = ("RGB", "RGBA", "RGBa", "RGBX", "P", "PA")


@dataclass(frozen=True, eq=False)
class Picture:
    """A picture, upright.

    Attributes
    ----------
    name : str
        The file's name.
    levels : array of uint8 or uint16, shape (height, width, 3)
        As encoded in the file.
    profile : bytes
        Its ICC colour profile; that of sRGB where the file has none.
    """

    name: str
    levels: Levels
    profile: bytes = SRGB_PROFILE

    @property
    def size(self) -> tuple[int, int]:
        """Width and height in pixels."""
        height, width = self.levels.shape[:2]
        return width, height


def open_picture(content: bytes, name: str) -> Picture:
    """Open a picture file.

    Only its pixels and its colour profile are kept; the place and time at which it was
    taken are not.

    Parameters
    ----------
    content : bytes
        The file: JPEG, PNG, TIFF, WebP or HEIC, of 8 or 16 bits a channel.
    name : str
        The file's name, for messages.

    Raises
    ------
    PhotoError
        If it is not such a file, is damaged, too large, animated or without colour.
    """
    if not content:
        message = f"{name} is empty; send the picture again."
        raise PhotoError(message)
    try:
        levels, profile = _opened(content, name)
    except PhotoError:
        raise
    except UnidentifiedImageError as error:
        message = (
            f"{name} is not a picture this tool reads; save it as JPEG, PNG, TIFF, "
            "WebP or HEIC."
        )
        raise PhotoError(message) from error
    except Image.DecompressionBombError as error:
        raise PhotoError(too_large(name)) from error
    except Exception as error:
        # Decoders raise errors of any kind for damaged files.
        message = f"{name} is damaged and cannot be opened; send the picture again."
        raise PhotoError(message) from error
    if min(levels.shape[:2]) < SMALLEST_SIDE:
        message = (
            f"{name} is smaller than {SMALLEST_SIDE} pixels; take a larger picture."
        )
        raise PhotoError(message)
    picture = Picture(name, levels, profile or SRGB_PROFILE)
    try:
        # A damaged profile is noticed here, before areas are marked and read.
        screen_from_levels(picture.levels[:1, :1], picture.profile)
        linear_from_levels(picture.levels[:1, :1], picture.profile)
    except PhotoError as error:
        message = f"{name}: {error}"
        raise PhotoError(message) from error
    return picture


def preview(picture: Picture, longest_px: int = PREVIEW_SIDE) -> NDArray[np.uint8]:
    """A smaller copy for a screen; colours are not measured on it.

    Parameters
    ----------
    picture : Picture
    longest_px : int
        Longest side. [pixels]

    Returns
    -------
    array of uint8, shape (height, width, 3)
        sRGB.
    """
    step = max(1, -(-max(picture.size) // (2 * longest_px)))
    small = screen_from_levels(
        np.ascontiguousarray(picture.levels[::step, ::step]), picture.profile
    )
    image = Image.fromarray(small)
    image.thumbnail((longest_px, longest_px), Image.Resampling.BOX)
    return np.asarray(image)


def _opened(content: bytes, name: str) -> tuple[Levels, bytes]:
    if is_heic(content):
        return open_heic(content, name)
    with warnings.catch_warnings():
        # Pillow warns of damaged tags, which do not matter here, and of large pictures,
        # whose size is checked below before they are decoded.
        warnings.simplefilter("ignore")
        with Image.open(io.BytesIO(content), formats=_FORMATS) as image:
            _check_kind(image, name)
            if image.format in _JPEG:
                image.draft(None, _halved(image.size))
            if image.width * image.height > MOST_PIXELS:
                raise PhotoError(too_large(name))
            levels = _levels(image, content)
            return (
                _upright(levels, image.getexif().get(_ORIENTATION, 1)),
                image.info.get("icc_profile") or b"",
            )


def _halved(size: tuple[int, int]) -> tuple[int, int]:
    """Size that the JPEG decoder is asked for, halved until it is not too large."""
    width, height = size
    while width * height > MOST_PIXELS:
        width, height = width // 2, height // 2
    return width, height


def _check_kind(image: Image.Image, name: str) -> None:
    several = getattr(image, "n_frames", 1) > 1
    if several and image.format not in _JPEG:
        message = (
            f"{name} holds several pictures or an animation; save the one with the "
            "swatch by itself."
        )
        raise PhotoError(message)
    if image.mode in _WITHOUT_COLOUR:
        message = f"{name} is black and white; take the picture in colour."
        raise PhotoError(message)
    if image.mode not in _FOR_SCREENS:
        message = (
            f"{name} is not in colours for a screen ({image.mode}); save it as an RGB "
            "picture."
        )
        raise PhotoError(message)


def _levels(image: Image.Image, content: bytes) -> Levels:
    """Pixels with all their bits; Pillow alone would keep eight of sixteen."""
    if image.format == "PNG" and content[_PNG_DEPTH_AT] == _DEEP:
        # Imported only when needed, because it is slow to load.
        import imagecodecs  # noqa: PLC0415

        return _three(imagecodecs.png_decode(content))
    if image.format == "TIFF" and max(image.tag_v2.get(_TIFF_BITS, (8,))) == _DEEP:  # type: ignore[attr-defined]
        with tifffile.TiffFile(io.BytesIO(content)) as file:
            page = file.pages[0]
            levels = np.asarray(page.asarray())
            # Stored plane by plane, the channels come first.
            return _three(np.moveaxis(levels, 0, -1) if page.axes[0] == "S" else levels)
    return np.asarray(image.convert("RGB"))


def _three(levels: NDArray[np.generic]) -> Levels:
    """Red, green and blue of 16-bit pixels that may have an opacity channel."""
    if levels.ndim != _COLOURS or levels.shape[-1] < _COLOURS:
        message = f"Pixels of shape {levels.shape} are not red, green and blue."
        raise ValueError(message)
    if levels.dtype != np.uint16:
        message = f"Pixels of type {levels.dtype} are not 16 bits a channel."
        raise ValueError(message)
    return np.ascontiguousarray(levels[..., :_COLOURS], dtype=np.uint16)


def _upright(levels: Levels, orientation: object) -> Levels:
    """Turn a picture upright by the orientation that the camera stored.

    The eight orientations are those of Exif 2.32 (CIPA DC-008), tag 274. Mirrored ones
    are mirrored first, then turned. An unknown orientation changes nothing.
    """
    mirrored = {2: 0, 4: 2, 5: 1, 7: 3}
    turned = {3: 2, 6: 3, 8: 1}
    if orientation in mirrored:
        flipped = levels[:, ::-1]
        return np.ascontiguousarray(np.rot90(flipped, mirrored[int(str(orientation))]))
    if orientation in turned:
        return np.ascontiguousarray(np.rot90(levels, turned[int(str(orientation))]))
    return levels
