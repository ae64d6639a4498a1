"""What an instrument reports of a reflectance, and how that moves with it.

Values are in units of their own noise, so that misfits of different kinds of readings
can be added.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shadecore.card.reading import LAB, LUMINANCE, Reading
from shadecore.colour.appearance import (
    CUBE_ROOT_FROM,
    LINE_SLOPE,
    lab_from_reflectance,
    tristimulus_weights,
)

Array = NDArray[np.float64]

READING_NOISE = 0.24
"""Standard deviation of each of three Lab axes: readings that lie 0.3 CIEDE2000 apart
on average (common practice, no source), and 0.15 that the film model leaves open."""
_SPECTRAL_NOISE, _SPECTRAL_SHARE = 0.002, 0.01
"""Noise of a reflectance, fixed and in parts of it; common practice, no source."""
_CHROMA_STEP, _HUE_STEP = 0.045, 0.015


class Observed(NamedTuple):
    """Values of a reading and how they move with the reflectance.

    Attributes
    ----------
    value : array, shape (..., n)
        In units of their noise.
    slope : array, shape (..., n, 31)
        Change of each with the reflectance at each wavelength.
    """

    value: Array
    slope: Array


def reading_values(reading: Reading) -> Array:
    """A reading in units of its noise.

    Parameters
    ----------
    reading : tuple of float
        Y, Lab or a spectrum.

    Returns
    -------
    array, shape (n,)
    """
    given = np.array(reading)
    if given.size == LUMINANCE:
        return given / _luminance_noise(given)
    if given.size == LAB:
        return np.asarray(_axes(given) @ given)
    return np.asarray(given / _spectral_noise(given))


def observe(reflectance: Array, reading: Reading) -> Observed:
    """What the instrument behind a reading would report of reflectances.

    Parameters
    ----------
    reflectance : array, shape (..., 31)
        In air, 0..1.
    reading : tuple of float
        The reading they are compared with; its kind and its noise are taken over.

    Returns
    -------
    Observed
    """
    given = np.array(reading)
    if given.size == LUMINANCE:
        weights = tristimulus_weights()[:, 1:2] / _luminance_noise(given)
        slope = np.broadcast_to(weights.T, (*reflectance.shape[:-1], *weights.T.shape))
        return Observed(reflectance @ weights, slope)
    if given.size == LAB:
        axes = _axes(given)
        lab = lab_from_reflectance(reflectance)
        return Observed(lab @ axes.T, axes @ _lab_slope(reflectance))
    noise = _spectral_noise(given)
    slope = np.broadcast_to(
        np.diag(1.0 / noise), (*reflectance.shape[:-1], noise.size, noise.size)
    )
    return Observed(reflectance / noise, slope)


def _axes(lab: Array) -> Array:
    """Axes of lightness, chroma and hue in units of noise.

    Lightness counts less in whites and blacks as in CIEDE2000, chroma and hue less in
    strong colours as in CIE94 (CIE 116): close enough over the width of the noise.
    """
    far = (lab[0] - 50.0) ** 2
    weight = 1.0 + 0.015 * far / np.sqrt(20.0 + far)
    chroma, hue = np.hypot(lab[1], lab[2]), np.arctan2(lab[2], lab[1])
    along, across = 1 + _CHROMA_STEP * chroma, 1 + _HUE_STEP * chroma
    rotated = np.array(
        [
            [1.0 / weight, 0.0, 0.0],
            [0.0, np.cos(hue) / along, np.sin(hue) / along],
            [0.0, -np.sin(hue) / across, np.cos(hue) / across],
        ]
    )
    return rotated / READING_NOISE


def _lab_slope(reflectance: Array) -> Array:
    """How L*, a*, b* move with the reflectance, shape (..., 3, 31)."""
    weights = tristimulus_weights()
    share = weights / weights.sum(axis=0)
    ratio = reflectance @ share
    rise = np.where(
        ratio > CUBE_ROOT_FROM,
        np.maximum(ratio, CUBE_ROOT_FROM) ** (-2 / 3) / 3,
        LINE_SLOPE,
    )
    x, y, z = np.moveaxis(rise[..., None, :] * share, -1, 0)
    return np.stack([116 * y, 500 * (x - y), 200 * (y - z)], axis=-2)


def _luminance_noise(luminance: Array) -> Array:
    """Noise of Y that matches the noise of L*, at least a twentieth of a percent."""
    cube_root = np.cbrt(np.maximum(luminance, 1.0) / 100.0)
    return np.asarray(READING_NOISE * 3.0 * cube_root**2 * 100.0 / 116.0)


def _spectral_noise(spectrum: Array) -> Array:
    return np.asarray(_SPECTRAL_NOISE + _SPECTRAL_SHARE * spectrum)
