"""How far a photo's colour may be off, beyond what the picture itself shows."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

BEYOND_LIMIT: Final = 1.6
"""Light that a clipped channel may have had over what was read, two thirds of a stop:
more would have shown in the other channels; this tool's own assumption."""
ABOVE_FLOOR: Final = 0.004
"""Linear light that a channel which is black may have had: some twelve of 255 levels,
what noise and an encoding's cut hide; this tool's own assumption."""
DARKEST: Final = 1e-4
"""Linear light below which nothing is told apart."""

_EXPOSURE_SD: Final = 0.65
_TINT_SD: Final = 0.05
"""Of the logarithm of light where no reference was marked: exposure, and each of red
and blue against green; fitted to simulated cameras, as below."""


def unknown_light() -> NDArray[np.float64]:
    """Covariance of the logarithm of light where nothing neutral was marked.

    Returns
    -------
    array, shape (3, 3)
        Red, green, blue.
    """
    return _EXPOSURE_SD**2 * np.ones((3, 3)) + _TINT_SD**2 * np.diag([1.0, 0.0, 1.0])


_CAMERA: Final = {
    "unknown": ((0.3, 0.012), (2.0, 0.090), (1.9, 0.080)),
    "daylight": ((0.3, 0.012), (1.9, 0.020), (0.7, 0.060)),
    "bulb": ((0.3, 0.012), (3.6, 0.110), (3.8, 0.046)),
    "led": ((0.3, 0.012), (1.1, 0.130), (2.1, 0.058)),
}
"""Standard deviations in lightness, chroma and hue: at grey, and a unit of C* more.
Fitted to what ten simulated cameras got wrong of measured surfaces, so that 95 percent
lie within (``tests/validation/camera``, other pictures than figures are quoted for)."""


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


_TONE: Final = (0.07, 0.08)
"""Part of the way in L* from the reference, and of C*, that a picture style may bend:
fitted to simulated styles (``tests/validation/camera``, ``vendor_look``)."""


def tone_covariance(
    lab: NDArray[np.float64], references: tuple[float, ...]
) -> NDArray[np.float64]:
    """Covariance of what a picture style does away from the reference's lightness.

    Parameters
    ----------
    lab : array, shape (3,)
        The colour read.
    references : tuple of float
        L* of the references; without one nothing holds the tones.

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
