"""Colours in other notations, converted to the working condition by colour-science.

Every function takes arrays with the three coordinates last and returns L*, a*, b*
under D65/10 degrees, 45/0.
"""

from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shadecore.colour.colour_science import colour_science
from shadecore.colour.condition import WORKING, Condition
from shadecore.colour.surface import directional, sphere_specular_included
from shadecore.errors import ColourError
from shadecore.formats.echo import shown
from shadecore.units import percent

ADAPTATION = "CAT16"
"""Chromatic adaptation transform: Li et al., Color Res. Appl. 42 (2017) 703."""

_MIRROR_SLACK = 0.005
"""How far noise may bring a reading of a black below the mirror reflection; this tool's
own limit. [Y/Yn]"""


def without_mirror(share: ArrayLike, specular: str) -> NDArray[np.float64]:
    """Convert readings relative to a perfect diffuser to 45/0.

    A sphere instrument with the mirror reflection included reads
    ``k1 + g * R / (1 - k2 R)`` of a reflectance R inside the film. A 45/0 instrument
    reads the same without k1 and with its own factor g, so the conversion subtracts k1
    and multiplies by the ratio of the factors.

    Parameters
    ----------
    share : array
        Reflectances, or X, Y, Z over those of the white. 0..1.
    specular : str
        ``"included"`` or ``"excluded"``.

    Returns
    -------
    array, same shape

    Raises
    ------
    ColourError
        If a reading is darker than the mirror reflection alone.
    """
    reading = np.asarray(share, dtype=np.float64)
    if specular == "excluded":
        return reading
    sphere, wanted = sphere_specular_included(), directional()
    without = reading - sphere.mirror
    if np.any(without < -_MIRROR_SLACK):
        message = (
            "A colour is darker than a glossy surface can read with the specular "
            f"reflection included ({percent(sphere.mirror)}); check whether it was "
            "measured with the specular reflection excluded."
        )
        raise ColourError(message)
    return np.maximum(without, 0.0) * (wanted.through / sphere.through)


def lab_from_xyz(xyz: ArrayLike, condition: Condition = WORKING) -> NDArray[np.float64]:
    """Working L*, a*, b* of X, Y, Z on the scale where white has Y = 100.

    Parameters
    ----------
    xyz : array, shape (..., 3)
        Tristimulus values, Y of a perfect diffuser 100.
    condition : Condition
        How they were measured.

    Returns
    -------
    array, shape (..., 3)

    Raises
    ------
    ColourError
        If a value is negative or too dark for the geometry.
    """
    colour = colour_science()
    given = _finite(xyz)
    if np.any(given < 0.0):
        message = "X, Y and Z must be zero or more; check the sign of the values."
        raise ColourError(message)
    if np.any(given[..., 1] > MAX_LUMINANCE):
        message = "Y must not be above 100, the white; give X, Y, Z on that scale."
        raise ColourError(message)
    share = without_mirror(given / condition.white, condition.specular)
    adapted = share * condition.white
    if (condition.illuminant, condition.observer) != (
        WORKING.illuminant,
        WORKING.observer,
    ):
        adapted = colour.chromatic_adaptation(
            adapted / 100.0,
            condition.white / 100.0,
            WORKING.white / 100.0,
            method="Von Kries",
            transform=ADAPTATION,
        )
        adapted = np.maximum(adapted, 0.0) * 100.0
    white = colour.XYZ_to_xy(WORKING.white / 100.0)
    return np.asarray(colour.XYZ_to_Lab(adapted / 100.0, white))


def lab_from_lab(lab: ArrayLike, condition: Condition = WORKING) -> NDArray[np.float64]:
    """Working L*, a*, b* of L*, a*, b* measured under another condition.

    Parameters
    ----------
    lab : array, shape (..., 3)
        L* 0..100.
    condition : Condition
        How they were measured; under the working one they are returned unchanged.

    Returns
    -------
    array, shape (..., 3)

    Raises
    ------
    ColourError
        If L* is outside 0..100, or no surface can have the colour.
    """
    given = _finite(lab)
    if np.any((given[..., 0] < 0.0) | (given[..., 0] > MAX_LIGHTNESS)):
        message = "L* must lie between 0 (black) and 100 (white)."
        raise ColourError(message)
    if np.any(np.abs(given[..., 1:]) > MAX_OPPONENT):
        message = (
            f"a* and b* must lie between -{MAX_OPPONENT:.0f} and {MAX_OPPONENT:.0f}."
        )
        raise ColourError(message)
    height = (given[..., 0] + 16.0) / 116.0
    lowest = np.minimum(height + given[..., 1] / 500.0, height - given[..., 2] / 200.0)
    if np.any(lowest < LOWEST_CUBE_ROOT):
        message = (
            "No surface has this Lab value: it would reflect less than nothing; check "
            "a* and b*."
        )
        raise ColourError(message)
    if condition == WORKING:
        return given
    colour = colour_science()
    white = colour.XYZ_to_xy(condition.white / 100.0)
    xyz = np.asarray(colour.Lab_to_XYZ(given, white)) * 100.0
    return lab_from_xyz(np.maximum(xyz, 0.0), condition)


def _finite(values: ArrayLike) -> NDArray[np.float64]:
    given = np.asarray(values, dtype=np.float64)
    if given.shape[-1:] != (3,) or not np.all(np.isfinite(given)):
        message = "A colour has three coordinates, and they must be numbers."
        raise ColourError(message)
    return given


MAX_LIGHTNESS = 100.0
MAX_OPPONENT = 200.0
"""Beyond any surface colour, so that swapped columns and misplaced decimal points are
noticed; this tool's own limit."""
MAX_LUMINANCE = 101.0
"""Noise may bring a reading of a white a little above 100; this tool's own limit."""
LOWEST_CUBE_ROOT = -0.1
"""Least f(X/Xn) and f(Z/Zn) that is accepted. Black has 4/29 (ISO/CIE 11664-4), noise
brings dark colours below that, and what lies far below is a mistake in the input."""


def lab_from_lch(lch: ArrayLike, condition: Condition = WORKING) -> NDArray[np.float64]:
    """Working L*, a*, b* of L*, C*, h.

    Parameters
    ----------
    lch : array, shape (..., 3)
        L* 0..100, C* zero or more, h in degrees.
    condition : Condition
        How they were measured.

    Returns
    -------
    array, shape (..., 3)

    Raises
    ------
    ColourError
        If the chroma is negative, or as :func:`lab_from_lab`.
    """
    given = _finite(lch)
    if np.any(given[..., 1] < 0.0):
        message = "Chroma C* must be zero or more."
        raise ColourError(message)
    return lab_from_lab(colour_science().LCHab_to_Lab(given), condition)


def lab_from_yxy(yxy: ArrayLike, condition: Condition = WORKING) -> NDArray[np.float64]:
    """Working L*, a*, b* of Y, x, y.

    Parameters
    ----------
    yxy : array, shape (..., 3)
        Y 0..100, then the chromaticity x, y, both between 0 and 1.
    condition : Condition
        How they were measured.

    Returns
    -------
    array, shape (..., 3)

    Raises
    ------
    ColourError
        If the chromaticity cannot exist.
    """
    given = _finite(yxy)
    x, y = given[..., 1], given[..., 2]
    if np.any((x <= 0.0) | (y <= 0.0) | (x + y >= 1.0)):
        message = (
            "Chromaticity x and y must be above 0 and add up to less than 1; the "
            "order is Y x y, with Y from 0 to 100."
        )
        raise ColourError(message)
    xyy = np.stack([x, y, given[..., 0] / 100.0], axis=-1)
    return lab_from_xyz(np.asarray(colour_science().xyY_to_XYZ(xyy)) * 100.0, condition)


def lab_from_srgb(srgb: ArrayLike) -> NDArray[np.float64]:
    """Working L*, a*, b* of sRGB (IEC 61966-2-1), with its white at L* = 100.

    Parameters
    ----------
    srgb : array, shape (..., 3)
        Encoded R, G, B, 0..1.

    Returns
    -------
    array, shape (..., 3)

    Raises
    ------
    ColourError
        If a channel is outside 0..1.
    """
    given = np.asarray(srgb, dtype=np.float64)
    if not np.all((given >= 0.0) & (given <= 1.0)):
        message = "sRGB channels must lie between 0 and 1 (or 0 and 255 as integers)."
        raise ColourError(message)
    return lab_from_linear_srgb(colour_science().models.eotf_sRGB(given))


def lab_from_linear_srgb(linear: ArrayLike) -> NDArray[np.float64]:
    """Working L*, a*, b* of linear light on sRGB primaries.

    Parameters
    ----------
    linear : array, shape (..., 3)
        R, G, B, 1 for the white; outside 0..1 where a gamut is wider.

    Returns
    -------
    array, shape (..., 3)
    """
    colour = colour_science()
    xyz = np.asarray(linear, dtype=np.float64) @ _working_xyz_from_linear_srgb().T
    return np.asarray(colour.XYZ_to_Lab(xyz, colour.XYZ_to_xy(WORKING.white / 100.0)))


def linear_srgb_from_lab(lab: ArrayLike) -> NDArray[np.float64]:
    """Linear light on sRGB primaries of working L*, a*, b*.

    Parameters
    ----------
    lab : array, shape (..., 3)
        L*, a*, b* under D65/10 degrees.

    Returns
    -------
    array, shape (..., 3)
        1 for the white; outside 0..1 for colours outside the gamut of sRGB.
    """
    colour = colour_science()
    white = colour.XYZ_to_xy(WORKING.white / 100.0)
    xyz = np.asarray(colour.Lab_to_XYZ(np.asarray(lab, dtype=np.float64), white))
    return np.asarray(xyz @ np.linalg.inv(_working_xyz_from_linear_srgb()).T)


@cache
def _working_xyz_from_linear_srgb() -> NDArray[np.float64]:
    """Matrix from linear sRGB to X, Y, Z, its white adapted to the working white."""
    colour = colour_science()
    primaries = colour.sRGB_to_XYZ(np.eye(3), apply_cctf_decoding=False)
    return np.asarray(
        colour.chromatic_adaptation(
            primaries,
            colour.sRGB_to_XYZ(np.ones(3)),
            WORKING.white / 100.0,
            method="Von Kries",
            transform=ADAPTATION,
        )
    ).T


def lab_from_munsell(notation: str) -> NDArray[np.float64]:
    """Working L*, a*, b* of a Munsell notation (illuminant C, 2 degrees).

    Parameters
    ----------
    notation : str
        Such as ``5R 4/14`` or ``N 5``.

    Returns
    -------
    array, shape (3,)

    Raises
    ------
    ColourError
        If the notation cannot be read or lies outside the renotation data.
    """
    colour = colour_science()
    text = notation.strip().upper()
    if text.startswith("N"):
        text = "N" + text[1:].strip(" /")
    try:
        xyy = np.asarray(colour.munsell_colour_to_xyY(text))
    except (ValueError, AssertionError) as error:
        message = (
            f"The Munsell notation {shown(notation)} is not one the renotation data "
            "cover; write it like 5R 4/14, or N 5 for a grey."
        )
        raise ColourError(message) from error
    condition = Condition(illuminant="C", observer=2)
    yxy = np.array([xyy[2] * 100.0, xyy[0], xyy[1]])
    return lab_from_yxy(yxy, condition)
