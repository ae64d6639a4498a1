"""Lab at each angle from the wavelengths that effect films are solved on."""

from functools import cache

import numpy as np
from numpy.typing import NDArray

from shadecore.colour.appearance import WAVELENGTHS_NM, lab_from_reflectance
from shadecore.effects.recipes import WAVES_NM

Array = NDArray[np.float64]

_DARKEST = 1e-6


@cache
def _fill() -> Array:
    """Straight lines between the solved wavelengths, shape (waves, 31)."""
    unit = np.eye(WAVES_NM.size)
    return np.stack([np.interp(WAVELENGTHS_NM, WAVES_NM, row) for row in unit])


def full_spectrum(reflectance: Array) -> Array:
    """Spectra on every wavelength of the engine.

    Parameters
    ----------
    reflectance : array, shape (..., waves)
        On ``WAVES_NM``.

    Returns
    -------
    array, shape (..., 31)
    """
    return np.maximum(reflectance, _DARKEST) @ _fill()


def angle_lab(reflectance: Array) -> Array:
    """L*, a*, b* of reflectance factors on the solved wavelengths.

    Parameters
    ----------
    reflectance : array, shape (..., waves)
        On ``WAVES_NM``; above 1 where flakes shine.

    Returns
    -------
    array, shape (..., 3)
    """
    return np.asarray(lab_from_reflectance(full_spectrum(reflectance)))
