"""Errors of a photo's colour that the picture itself does not show, as covariances."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

BEYOND_LIMIT: Final = 1.6
"""Most light of a channel that is clipped all over, as a multiple of what was read: two
thirds of a stop more, since with a longer exposure the other channels would be clipped,
too. This tool's own assumption."""
ABOVE_FLOOR: Final = 0.004
"""Most linear light of a channel that is black all over: some twelve of 255 levels,
which noise and the limits of the encoding can hide. This tool's own assumption."""
DARKEST: Final = 1e-4
"""Smallest linear light used in the calculation, so that logarithms stay finite."""

_EXPOSURE_SD: Final = 0.65
_TINT_SD: Final = 0.05
"""Standard deviations of the logarithm of cone responses where no reference was marked:
of the exposure, which all three share, and of the light's tint, which moves long and
short waves against middle ones. Fitted to simulated cameras, as ``_CAMERA``."""


def unknown_light() -> NDArray[np.float64]:
    """Covariance of the logarithm of light where nothing neutral was marked.

    Returns
    -------
    array, shape (3, 3)
        Of the CAT16 cone responses of :func:`shadecore.photo.rendering.cone_matrix`:
        long, middle, short waves.
    """
    return _EXPOSURE_SD**2 * np.ones((3, 3)) + _TINT_SD**2 * np.diag([1.0, 0.0, 1.0])


_CAMERA: Final = {
    "unknown": ((0.3, 0.012), (2.0, 0.090), (1.9, 0.080)),
    "daylight": ((0.3, 0.012), (1.9, 0.020), (0.7, 0.060)),
    "bulb": ((0.3, 0.012), (3.6, 0.110), (3.8, 0.046)),
    "led": ((0.3, 0.012), (1.1, 0.130), (2.1, 0.058)),
}
"""Standard deviations in lightness, chroma and hue by light: at grey, and the increase
with each unit of C*. Fitted to the errors of ten simulated cameras (of
``tests/validation/camera``) on measured surfaces, so that the 95 percent intervals hold
95 percent of the truths. Figures are quoted for other cameras and pictures."""


def camera_covariance(lab: NDArray[np.float64], light: str) -> NDArray[np.float64]:
    """Covariance of the camera's colour error after the white has been corrected.

    Parameters
    ----------
    lab : array, shape (3,)
        The colour read.
    light : str
        One of :data:`shadecore.photo.rendering.LIGHTS`.

    Returns
    -------
    array, shape (3, 3)
        Of L*, a*, b*.
    """
    chroma = float(np.hypot(lab[1], lab[2]))
    lightness, along, across = (
        (base + rise * chroma) ** 2 for base, rise in _CAMERA[light]
    )
    hue = np.arctan2(lab[2], lab[1])
    turn = np.array([[np.cos(hue), -np.sin(hue)], [np.sin(hue), np.cos(hue)]])
    covariance = np.zeros((3, 3))
    covariance[0, 0] = lightness
    covariance[1:, 1:] = turn @ np.diag([along, across]) @ turn.T
    return covariance


_TONE: Final = (0.07, 0.08)
"""Error that a picture style may bring, one standard deviation: as a share of the
distance in L* from the nearest reference, and as a share of C*. Fitted to simulated
styles (``tests/validation/camera``, ``vendor_look``)."""


def tone_covariance(
    lab: NDArray[np.float64], references: tuple[float, ...]
) -> NDArray[np.float64]:
    """Covariance of what a picture style does to tones and to saturation.

    A style bends the grey scale; at the reference's own lightness that is corrected.

    Parameters
    ----------
    lab : array, shape (3,)
        The colour read.
    references : tuple of float
        L* of the references. Without one the result is zero, because
        :func:`unknown_light` then covers it.

    Returns
    -------
    array, shape (3, 3)
        Of L*, a*, b*.
    """
    if not references:
        return np.zeros((3, 3))
    way = min(abs(lab[0] - each) for each in references)
    covariance = np.zeros((3, 3))
    covariance[0, 0] = (_TONE[0] * way) ** 2
    covariance[1:, 1:] = _TONE[1] ** 2 * np.outer(lab[1:], lab[1:])
    return covariance
