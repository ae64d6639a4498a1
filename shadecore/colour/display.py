"""Colours for a screen: sRGB of what the engine computed."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shadecore.colour.colour_science import colour_science
from shadecore.colour.convert import linear_srgb_from_lab

_LEVELS = 255
_GAMUT_SLACK = 0.5 / _LEVELS
"""Excess that rounding to eight bits hides."""


def srgb_from_lab(lab: ArrayLike) -> tuple[NDArray[np.float64], NDArray[np.bool_]]:
    """Encode working Lab as sRGB, with a perfect diffuser as the screen's white.

    Parameters
    ----------
    lab : array, shape (..., 3)
        L*, a*, b* under D65/10 degrees.

    Returns
    -------
    srgb : array, shape (..., 3)
        Encoded R, G, B, clipped to 0..1.
    outside : array of bool, shape (...)
        Whether the colour lies outside the gamut of sRGB.
    """
    srgb = np.asarray(
        colour_science().models.eotf_inverse_sRGB(linear_srgb_from_lab(lab))
    )
    outside = np.any((srgb < -_GAMUT_SLACK) | (srgb > 1.0 + _GAMUT_SLACK), axis=-1)
    return np.clip(srgb, 0.0, 1.0), outside


def hex_from_lab(lab: ArrayLike) -> list[str]:
    """Hex codes of colours, clipped to what a screen can show.

    Parameters
    ----------
    lab : array, shape (n, 3)
        L*, a*, b* under D65/10 degrees.

    Returns
    -------
    list of str
        Such as ``#b22234``.
    """
    return hex_from_srgb(srgb_from_lab(lab)[0])


def hex_from_srgb(srgb: ArrayLike) -> list[str]:
    """Hex codes of encoded colours.

    Parameters
    ----------
    srgb : array, shape (..., 3)
        Encoded R, G, B, 0..1.

    Returns
    -------
    list of str
        One for each colour, row by row.
    """
    levels = np.rint(np.asarray(srgb) * _LEVELS).astype(int)
    return ["#{:02x}{:02x}{:02x}".format(*row) for row in levels.reshape(-1, 3)]
