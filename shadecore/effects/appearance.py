"""Lab at each angle from the wavelengths that effect films are solved on."""

from functools import cache

import numpy as np
from numpy.typing import NDArray

from shadecore.colour.appearance import WAVELENGTHS_NM, tristimulus_weights
from shadecore.effects.recipes import WAVES_NM
from shadecore.effects.xyz import lab_of_xyz

Array = NDArray[np.float64]

_DARKEST = 1e-6


@cache
def _fill() -> Array:
    """Straight lines between the solved wavelengths, shape (waves, 31)."""
    unit = np.eye(WAVES_NM.size)
    return np.stack([np.interp(WAVELENGTHS_NM, WAVES_NM, row) for row in unit])


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
    weights = _fill() @ tristimulus_weights()
    return lab_of_xyz(np.maximum(reflectance, _DARKEST) @ weights)
