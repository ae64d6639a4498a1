"""How far a photo's colour may be off, beyond what the picture itself shows."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

DARKEST: Final = 1e-4
"""Linear light below which nothing is told apart."""

_EXPOSURE_SD: Final = 0.40
_TINT_SD: Final = 0.10
"""Of the logarithm of light where no reference was marked: exposure, and each of red
and blue against green."""


def unknown_light() -> NDArray[np.float64]:
    """Covariance of the logarithm of light where nothing neutral was marked.

    Returns
    -------
    array, shape (3, 3)
        Red, green, blue.
    """
    return _EXPOSURE_SD**2 * np.ones((3, 3)) + _TINT_SD**2 * np.diag([1.0, 0.0, 1.0])


_CAMERA: Final = {
    "unknown": ((0.6, 0.02), (0.5, 0.06), (0.5, 0.06)),
    "daylight": ((0.6, 0.02), (0.5, 0.06), (0.5, 0.06)),
    "bulb": ((0.6, 0.02), (0.5, 0.06), (0.5, 0.06)),
    "led": ((0.6, 0.02), (0.5, 0.06), (0.5, 0.06)),
}
"""Standard deviations in lightness, chroma and hue: at grey, and a unit of C* more."""


def camera_covariance(lab: NDArray[np.float64], light: str) -> NDArray[np.float64]:
    """Covariance of what a camera gets wrong of a colour under a corrected white.

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
