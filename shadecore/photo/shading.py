"""How the light changes over a picture, read off the even surfaces marked on it."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.photo.area import AreaReading

USUAL_SLOPE: Final = 0.15
"""Rise of the light over a whole picture that is nothing unusual; this tool's own
assumption. [standard deviation of the logarithm]"""
SURFACE_SLOPE: Final = 0.01
"""What a surface itself may rise over its own width: print, dirt, bend. [the same]"""
CURVATURE: Final = 0.3
"""Part of a carried rise that may be wrong because light does not rise evenly; this
tool's own assumption."""
LEFT_OVER: Final = 0.01
"""Unevenness that no slope takes out; this tool's own assumption. [relative, standard
deviation]"""


@dataclass(frozen=True)
class Shading:
    """The light's slope.

    Attributes
    ----------
    slope : tuple of float
        Rise of the logarithm of light over the picture's width and its height.
    variance : tuple of float
        Of the two.
    """

    slope: tuple[float, float]
    variance: tuple[float, float]

    def between(self, apart: NDArray[np.float64]) -> tuple[float, float]:
        """Rise of the light between two places, and its variance.

        Parameters
        ----------
        apart : array, shape (2,)
            From the one to the other, as shares of the picture's width and height.

        Returns
        -------
        rise, variance : float
            Of the logarithm of light.
        """
        rise = float(apart @ np.array(self.slope))
        variance = float(apart**2 @ np.array(self.variance))
        return rise, variance + (CURVATURE * rise) ** 2 + LEFT_OVER**2


def shading_of(readings: tuple[AreaReading, ...]) -> Shading:
    """Slope of the light from the areas that were read.

    Each area is one even surface, so what rises on it is the light. The slopes are
    averaged by their errors, with the usual slope as one more reading of no slope.

    Parameters
    ----------
    readings : tuple of AreaReading
        All marked areas.

    Returns
    -------
    Shading
    """
    slope, variance = [], []
    for axis in range(2):
        weights = [USUAL_SLOPE**-2]
        rises = [0.0]
        for reading in readings:
            error = np.hypot(
                reading.slope_error[axis], SURFACE_SLOPE / reading.extent[axis]
            )
            weights.append(float(error**-2))
            rises.append(reading.slope[axis])
        slope.append(float(np.average(rises, weights=weights)))
        variance.append(1.0 / sum(weights))
    return Shading((slope[0], slope[1]), (variance[0], variance[1]))
