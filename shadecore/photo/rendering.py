"""From a paint's colour in a photo, white balanced, to its colour under D65/10 degrees.

A white-balanced camera shows roughly what the 2 degree observer sees in the light of
the scene, adapted to its white. In the light of a bulb or an LED that differs from
daylight even after adaptation, and the 10 degree observer sees paints differently, too.
The correction is a regression over the recipes' films under CIE illuminants, because
films like these are photographed.
"""

from functools import cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.colour.appearance import WAVELENGTHS_NM, lab_from_reflectance
from shadecore.colour.colour_science import colour_science
from shadecore.colour.convert import ADAPTATION, linear_srgb_from_lab
from shadecore.errors import PhotoError
from shadecore.photo.light import LUMINANCE
from shadecore.recipes.library import recipe_library

Array = NDArray[np.float64]

UNKNOWN_LIGHT: Final = "unknown"
LIGHTS: Final = {
    UNKNOWN_LIGHT: ("D65", "D65", "A", "LED-B3", "LED-B5"),
    "daylight": ("D65",),
    "bulb": ("D65", "A"),
    "led": ("D65", "LED-B2", "LED-B3", "LED-B5", "LED-V1"),
}
"""Lights by what a painter calls them, with the CIE illuminants (CIE 015:2018) that
stand for each; one that is listed twice counts twice. Daylight is among all of them,
because cameras correct warm light part of the way towards it."""
_CELL: Final = 8.0
"""Side of a cube in CIELAB; the regression takes one recipe from each cube, so that all
colours count alike, common or rare."""
_DARKEST: Final = 0.01
"""Luminance below which the weight of errors grows no further."""
_WHITE_WEIGHT: Final = 1e3
"""Weight of white in the regression: so large that white stays white."""


def check_light(light: str) -> None:
    """Refuse a light that is not known.

    Parameters
    ----------
    light : str
        One of ``LIGHTS``.

    Raises
    ------
    PhotoError
        If it is not.
    """
    if light not in LIGHTS:
        message = f"The light {light!r} is not known; use one of {', '.join(LIGHTS)}."
        raise PhotoError(message)


def rendered(linear: Array, light: str) -> Array:
    """Linear light of surfaces under D65 and the 10 degree observer.

    Parameters
    ----------
    linear : array, shape (..., 3)
        As in the photo, white balanced, on sRGB primaries.
    light : str
        One of ``LIGHTS``.

    Returns
    -------
    array, shape (..., 3)
        On sRGB primaries; white stays white.
    """
    return np.asarray(_wide_terms(linear) @ _weights(light))


def _wide_terms(linear: Array) -> Array:
    """Root-polynomial terms on primaries on which no surface's light is negative."""
    return root_terms(linear @ _wide_from_srgb().T)


@cache
def _wide_from_srgb() -> Array:
    """Matrix from sRGB primaries to those of ITU-R BT.2020, of the same white."""
    spaces = colour_science().RGB_COLOURSPACES
    to_xyz = spaces["sRGB"].matrix_RGB_to_XYZ
    return np.asarray(spaces["ITU-R BT.2020"].matrix_XYZ_to_RGB @ to_xyz)


def root_terms(linear: Array) -> Array:
    """Root-polynomial terms of second degree, which are proportional to exposure.

    Parameters
    ----------
    linear : array, shape (..., 3)
        Linear light.

    Returns
    -------
    array, shape (..., 6)

    References
    ----------
    .. [1] G. D. Finlayson, M. Mackiewicz, A. Hurlbert, "Color correction using
       root-polynomial regression", IEEE Trans. Image Process. 24 (2015) 1460.
    """
    red, green, blue = np.moveaxis(np.maximum(linear, 0.0), -1, 0)
    pairs = np.sqrt([red * green, green * blue, red * blue])
    return np.concatenate([linear, np.moveaxis(pairs, 0, -1)], axis=-1)


@cache
def cone_matrix() -> Array:
    """Matrix from linear light on sRGB primaries to the cone responses of CAT16.

    Chromatic adaptation scales each of the three (long, middle, short waves) by itself.

    Returns
    -------
    array, shape (3, 3)

    References
    ----------
    .. [1] C. Li et al., "Comprehensive color solutions: CAM16, CAT16, and CAM16-UCS",
       Color Res. Appl. 42 (2017) 703.
    """
    colour = colour_science()
    transform = colour.adaptation.CHROMATIC_ADAPTATION_TRANSFORMS[ADAPTATION]
    primaries = colour.sRGB_to_XYZ(np.eye(3), apply_cctf_decoding=False)
    return np.asarray(transform @ primaries.T)


@cache
def _weights(light: str) -> Array:
    """Weights of the terms by least squares over paints and lights, shape (6, 3)."""
    library = recipe_library()
    _, chosen = np.unique(
        np.floor(library.lab / _CELL).astype(np.intp), axis=0, return_index=True
    )
    films = library.model.masstone(
        library.recipes.absorption[chosen], library.recipes.scattering[chosen]
    ).astype(np.float64)
    wanted = linear_srgb_from_lab(lab_from_reflectance(films))
    seen = [_wide_terms(_as_camera(films, name)) for name in LIGHTS[light]]
    # Errors are weighted by the slope of L* over luminance, as the eye sees them.
    count = np.maximum(wanted @ LUMINANCE, _DARKEST)[:, None] ** (-2.0 / 3.0)
    white = np.ones((1, 3))
    terms = [*(count * each for each in seen), _WHITE_WEIGHT * _wide_terms(white)]
    goals = [*(count * wanted for _ in seen), _WHITE_WEIGHT * white]
    weights, *_ = np.linalg.lstsq(np.vstack(terms), np.vstack(goals), rcond=None)
    return np.asarray(weights)


def _as_camera(reflectance: Array, illuminant: str) -> Array:
    """Linear light of reflectances under an illuminant, white balanced."""
    colour = colour_science()
    shape = colour.SpectralShape(
        WAVELENGTHS_NM[0], WAVELENGTHS_NM[-1], WAVELENGTHS_NM[1] - WAVELENGTHS_NM[0]
    )
    observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy()
    sensitivity = observer.align(shape).values
    power = colour.SDS_ILLUMINANTS[illuminant].copy().align(shape).values
    white = power @ sensitivity
    screen = colour.sRGB_to_XYZ(np.ones(3))
    adapted = colour.chromatic_adaptation(
        (reflectance * power) @ sensitivity / white[1],
        white / white[1],
        screen,
        method="Von Kries",
        transform=ADAPTATION,
    )
    return np.asarray(colour.XYZ_to_sRGB(adapted, apply_cctf_encoding=False))
