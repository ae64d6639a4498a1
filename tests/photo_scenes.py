"""Pictures drawn for tests of the photo reader, by colour-science and Pillow alone."""

import io
from functools import cache

import colour
import numpy as np
from numpy.typing import NDArray
from PIL import Image

Array = NDArray[np.float64]

BENCH = (40.0, 2.0, 4.0)
SIZE = (900, 700)
SWATCH = (60, 60, 290, 240)
CARD = (330, 60, 510, 240)
"""Left, top, right, bottom. [pixels]"""
PITCH, SIDE, FIRST = 80, 64, (200, 320)
"""Of the chart: from patch to patch, side of one, corner of the first. [pixels]"""

_SCREEN = colour.RGB_COLOURSPACES["sRGB"]
_WHITE = np.array([94.811, 100.0, 107.305]) / 100.0
"""D65, 10 degrees, ASTM E308."""


@cache
def chart_lab() -> Array:
    """The 24 patches of ISO 17321-1 under D65/10 degrees, shape (24, 3).

    Reflectances carried by colour-science, summed by colour-science.
    """
    shape = colour.SpectralShape(380, 780, 5)
    observer = colour.MSDS_CMFS["CIE 1964 10 Degree Standard Observer"]
    daylight = colour.SDS_ILLUMINANTS["D65"].copy().align(shape)
    observer = observer.copy().align(shape)
    spectra = colour.SDS_COLOURCHECKERS["ISO 17321-1"]
    xyz = [
        colour.sd_to_XYZ(each, observer, daylight, method="Integration") / 100.0
        for each in spectra.values()
    ]
    return np.asarray(colour.XYZ_to_Lab(np.array(xyz), colour.XYZ_to_xy(_WHITE)))


def linear_of(lab: Array) -> Array:
    """Linear sRGB of D65/10 degree colours, white carried to white by CAT16."""
    xyz = colour.Lab_to_XYZ(lab, colour.XYZ_to_xy(_WHITE))
    adapted = colour.chromatic_adaptation(
        xyz,
        _WHITE,
        colour.xy_to_XYZ(_SCREEN.whitepoint),
        method="Von Kries",
        transform="CAT16",
    )
    return np.asarray(adapted @ np.linalg.inv(_SCREEN.matrix_RGB_to_XYZ).T)


def scene(
    swatch: tuple[float, float, float],
    *,
    cast: tuple[float, float, float] = (1.0, 1.0, 1.0),
    slope: float = 0.0,
    gamma: float = 1.0,
) -> Array:
    """A swatch, a grey card of L* 49.5 and a chart on a bench, in linear light.

    Parameters
    ----------
    swatch : tuple of float
        L*, a*, b*.
    cast : tuple of float
        Factors on red, green and blue.
    slope : float
        Rise of the logarithm of light from left to right.
    gamma : float
        Power that the camera puts on light.

    Returns
    -------
    array, shape (700, 900, 3)
    """
    width, height = SIZE
    colours = np.vstack([BENCH, swatch, (49.5, 0.0, 0.0), chart_lab()])
    which = np.zeros((height, width), dtype=np.intp)
    for number, (left, top, right, bottom) in enumerate((SWATCH, CARD), start=1):
        which[top:bottom, left:right] = number
    for place in range(24):
        row, column = divmod(place, 6)
        left, top = FIRST[0] + column * PITCH, FIRST[1] + row * PITCH
        which[top : top + SIDE, left : left + SIDE] = 3 + place
    linear = linear_of(colours)[which]
    rise = np.exp(slope * (np.arange(width) / width - 0.5))[None, :, None]
    return np.asarray((np.clip(linear * cast * rise, 0.0, 1.0)) ** gamma)


def encoded(linear: Array) -> NDArray[np.uint8]:
    """Eight bits of sRGB (IEC 61966-2-1, by colour-science)."""
    srgb = colour.models.eotf_inverse_sRGB(np.clip(linear, 0.0, 1.0))
    return np.rint(255.0 * srgb).astype(np.uint8)


def stored(levels: NDArray[np.uint8], kind: str = "PNG", **options: object) -> bytes:
    """A picture file."""
    out = io.BytesIO()
    Image.fromarray(levels).save(out, kind, **options)
    return out.getvalue()


def share(box: tuple[int, int, int, int]) -> tuple[float, float, float, float]:
    """A box in pixels as shares of the picture, 20 pixels in from its edges."""
    left, top, right, bottom = box
    width, height = SIZE
    return (
        (left + 20) / width,
        (top + 20) / height,
        (right - 20) / width,
        (bottom - 20) / height,
    )


def chart_corners() -> tuple[tuple[float, float], ...]:
    """Middles of patches 1, 6, 24 and 19 as shares of the picture."""
    return tuple(
        (
            (FIRST[0] + column * PITCH + SIDE / 2) / SIZE[0],
            (FIRST[1] + row * PITCH + SIDE / 2) / SIZE[1],
        )
        for column, row in ((0, 0), (5, 0), (5, 3), (0, 3))
    )
