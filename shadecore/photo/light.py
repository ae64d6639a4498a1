"""From encoded levels to linear light, by the picture's own colour profile.

Pixels are decoded before they are averaged, because only averages of linear light are
those of the surface. The profile is used because a wide-gamut picture read as sRGB is
some 3 CIEDE2000 off. The result is on sRGB primaries, without clipping.
"""

from typing import Final

import imagecodecs
import numpy as np
from numpy.typing import NDArray

from shadecore.errors import PhotoError

_D65_XY: Final = (0.3127, 0.3290, 1.0)
_SRGB_XY: Final = (0.64, 0.33, 1.0, 0.30, 0.60, 1.0, 0.15, 0.06, 1.0)
"""White and primaries of IEC 61966-2-1."""
_DISPLAY_P3_XY: Final = (0.680, 0.320, 1.0, 0.265, 0.690, 1.0, 0.150, 0.060, 1.0)
"""Primaries of SMPTE EG 432-1, with the white of D65."""
_BRIGHTEST: Final = 4.0
"""Far more light than the primaries of any gamut have; a profile that gives more is
damaged."""
_DAMAGED_PROFILE: Final = (
    "The picture's colour profile is damaged; save the picture again as sRGB."
)
_CURVE_POINTS: Final = 4096
_SRGB_LINE_BELOW: Final = 0.04045
LUMINANCE: Final = np.array([0.2126, 0.7152, 0.0722])
"""Y of linear light on sRGB primaries, IEC 61966-2-1."""


def _srgb_curve() -> NDArray[np.float32]:
    """Linear light of evenly spaced encoded values, IEC 61966-2-1."""
    encoded = np.linspace(0.0, 1.0, _CURVE_POINTS)
    linear = np.where(
        encoded <= _SRGB_LINE_BELOW, encoded / 12.92, ((encoded + 0.055) / 1.055) ** 2.4
    )
    return linear.astype(np.float32)


SRGB_PROFILE: Final[bytes] = bytes(imagecodecs.cms_profile("srgb"))
_LINEAR_PROFILE: Final[bytes] = bytes(
    imagecodecs.cms_profile("rgb", whitepoint=_D65_XY, primaries=_SRGB_XY, gamma=1.0)
)
DISPLAY_P3_PROFILE: Final[bytes] = bytes(
    imagecodecs.cms_profile(
        "rgb",
        whitepoint=_D65_XY,
        primaries=_DISPLAY_P3_XY,
        transferfunction=_srgb_curve(),
    )
)
"""Display P3: those primaries with the curve of sRGB."""


def linear_from_levels(
    levels: NDArray[np.unsignedinteger], profile: bytes
) -> NDArray[np.float32]:
    """Linear light of encoded pixels.

    Parameters
    ----------
    levels : array of uint8 or uint16, shape (height, width, 3)
        Encoded pixels.
    profile : bytes
        Their ICC profile.

    Returns
    -------
    array of float32, shape (height, width, 3)
        On sRGB primaries, 1 for the white; below 0 or above 1 where the picture's
        gamut is wider.

    Raises
    ------
    PhotoError
        If the profile cannot be used.
    """
    linear = np.asarray(_transformed(levels, profile, _LINEAR_PROFILE, "float32"))
    if not np.all(np.abs(linear) <= _BRIGHTEST):
        raise PhotoError(_DAMAGED_PROFILE)
    return linear


def screen_from_levels(
    levels: NDArray[np.unsignedinteger], profile: bytes
) -> NDArray[np.uint8]:
    """Encoded pixels converted to sRGB, for a screen.

    Parameters
    ----------
    levels : array of uint8 or uint16, shape (height, width, 3)
        Encoded pixels.
    profile : bytes
        Their ICC profile.

    Returns
    -------
    array of uint8, shape (height, width, 3)
        sRGB.

    Raises
    ------
    PhotoError
        If the profile cannot be used.
    """
    if profile == SRGB_PROFILE and levels.dtype == np.uint8:
        return np.asarray(levels, dtype=np.uint8)
    return np.asarray(_transformed(levels, profile, SRGB_PROFILE, "uint8"))


def _transformed(
    levels: NDArray[np.unsignedinteger], profile: bytes, wanted: bytes, dtype: str
) -> NDArray[np.generic]:
    try:
        return np.asarray(
            imagecodecs.cms_transform(
                levels,
                profile,
                wanted,
                colorspace="rgb",
                outcolorspace="rgb",
                outdtype=dtype,
            )
        )
    except RuntimeError as error:
        raise PhotoError(_DAMAGED_PROFILE) from error
