"""How the light changes over a picture, estimated from the even areas marked on it."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.photo.area import AreaReading

USUAL_SLOPE: Final = 0.15
"""Usual change of the light over a whole picture; this tool's own assumption. [standard
deviation of the logarithm]"""
SURFACE_SLOPE: Final = 0.01
"""Change over its own width that a surface itself may show, from print, dirt or bend;
this tool's own assumption. [standard deviation of the logarithm]"""
CURVATURE: Final = 0.3
"""Error of an extrapolated change, as a share of it, because light does not change
evenly; this tool's own assumption. [standard deviation]"""
LEFT_OVER: Final = 0.01
"""Unevenness that a slope cannot describe; this tool's own assumption. [standard
deviation of the logarithm]"""


@dataclass(frozen=True)
class Shading:
    """Slope of the light over a picture.

    Attributes
    ----------
    slope : tuple of float
        Increase of the logarithm of light over the picture's width and its height.
    variance : tuple of float
        Variances of these two.
    """

    slope: tuple[float, float]
    variance: tuple[float, float]

    def between(self, apart: NDArray[np.float64]) -> tuple[float, float]:
        """Increase of the light between two places, and its variance.

        Parameters
        ----------
        apart : array, shape (2,)
            From the first to the second, as shares of the picture's width and height.

        Returns
        -------
        rise, variance : float
            Of the logarithm of light.
        """
        rise = float(apart @ np.array(self.slope))
        variance = float(apart**2 @ np.array(self.variance))
        return rise, variance + (CURVATURE * rise) ** 2 + LEFT_OVER**2


def shading_of(readings: tuple[AreaReading, ...]) -> Shading:
    """Slope of the light from all marked areas.

    Each area is one even surface, so a slope on it is one of the light. The slopes are
    averaged, weighted by the inverse of their variances. A slope of zero with the usual
    variance is averaged in as prior knowledge.
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
