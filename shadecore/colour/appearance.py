"""From reflectance to CIELAB and to colour difference, for the engine's inner loop.

Colours that users give are converted by colour-science. This module holds the one
conversion that runs millions of times for a chart, in single precision.
"""

from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shadecore.colour.ciede2000 import ciede2000
from shadecore.datafiles import data_file

WAVELENGTHS_NM = np.arange(400, 701, 10)
"""Every spectrum in the engine is on these wavelengths. [nm]"""

_DIFFERENCE_BLOCK = 16_000
"""Rows at a time, so that intermediate arrays stay in the processor's cache."""
CUBE_ROOT_FROM = (6 / 29) ** 3
LINE_SLOPE = (29 / 6) ** 2 / 3
_LINE_OFFSET = 4 / 29
"""Constants of CIELAB's f(t): the cube root above the first, below it the straight line
with this slope and offset (ISO/CIE 11664-4)."""


@cache
def tristimulus_weights() -> NDArray[np.float64]:
    """Weights that turn a reflectance spectrum into X, Y, Z under D65/10 degrees.

    Returns
    -------
    array, shape (31, 3)
        Columns X, Y, Z; those of a perfect diffuser sum to its white, Y = 100.

    References
    ----------
    .. [1] ASTM E308, "Computing the colors of objects by using the CIE system".
    """
    table = np.loadtxt(
        data_file("tristimulus-weights-d65-10deg-10nm.csv"),
        delimiter=",",
        comments=["#", "w"],
    )
    return np.asarray(table[:, 1:])


def lab_from_reflectance(reflectance: ArrayLike) -> NDArray[np.floating]:
    """CIELAB of reflectance spectra under the working condition.

    Parameters
    ----------
    reflectance : array, shape (..., 31)
        At ``WAVELENGTHS_NM``, 0..1. Single precision stays single.

    Returns
    -------
    array, shape (..., 3)
        L*, a*, b* under D65/10 degrees.

    References
    ----------
    .. [1] ISO/CIE 11664-4, CIE 1976 L*a*b* colour space.

    Examples
    --------
    >>> float(lab_from_reflectance(np.full(31, 0.184187))[0])
    50.000
    """
    spectra = np.asarray(reflectance)
    weights = tristimulus_weights()
    ratio = spectra @ (weights / weights.sum(axis=0)).astype(spectra.dtype)
    f = np.where(
        ratio > CUBE_ROOT_FROM, np.cbrt(ratio), LINE_SLOPE * ratio + _LINE_OFFSET
    )
    lab = np.empty_like(f)
    lab[..., 0] = 116 * f[..., 1] - 16
    lab[..., 1] = 500 * (f[..., 0] - f[..., 1])
    lab[..., 2] = 200 * (f[..., 1] - f[..., 2])
    return np.asarray(lab)


def colour_difference(first: ArrayLike, second: ArrayLike) -> NDArray[np.floating]:
    """CIEDE2000 colour difference.

    Parameters
    ----------
    first, second : array, shape (..., 3)
        L*, a*, b*; broadcast against each other. Single precision stays single.

    Returns
    -------
    array, shape (...)

    References
    ----------
    .. [1] ISO/CIE 11664-6, CIEDE2000 colour-difference formula.

    Examples
    --------
    >>> float(colour_difference([50.0, 2.6772, -79.7751], [50.0, 0.0, -82.7485]))
    2.0425
    """
    one, other = np.broadcast_arrays(np.asarray(first), np.asarray(second))
    shape = one.shape[:-1]
    one, other = one.reshape(-1, 3), other.reshape(-1, 3)
    kind = np.result_type(one, other, np.float32)
    one, other = one.astype(kind, copy=False), other.astype(kind, copy=False)
    difference = np.empty(one.shape[0], dtype=kind)
    for start in range(0, one.shape[0], _DIFFERENCE_BLOCK):
        rows = slice(start, start + _DIFFERENCE_BLOCK)
        difference[rows] = ciede2000(one[rows], other[rows])
    return difference.reshape(shape)


def neutral_reflectance(lightness: ArrayLike) -> NDArray[np.float64]:
    """Reflectance of a flat grey of a given lightness.

    Parameters
    ----------
    lightness : array
        L*, 0..100.

    Returns
    -------
    array, same shape
        Reflectance, 0..1, the same at every wavelength.
    """
    f = (np.asarray(lightness, dtype=np.float64) + 16) / 116
    return np.where(f > np.cbrt(CUBE_ROOT_FROM), f**3, (f - _LINE_OFFSET) / LINE_SLOPE)
