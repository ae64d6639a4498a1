"""How much darker an effect colour turns from face to flop, as one number."""

from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shadecore.colour.angles import AngleReadings

_FACTOR, _FALL_POWER, _MIDDLE_POWER = 2.69, 1.11, 0.86

SOLID_BELOW: Final = 1.0
"""Flop index of a colour without flakes, readings' noise allowed; no source."""
STRONG_FROM: Final = 15.0
"""Strong metallics reach 15 to 17: from memory of an abstract, title not noted."""
_FLOP_ANGLES = (15.0, 45.0, 110.0)


def flop_index(
    lightness_15: ArrayLike, lightness_45: ArrayLike, lightness_110: ArrayLike
) -> NDArray[np.float64]:
    """Flop index of L* at 15, 45 and 110 degrees from the mirror direction.

    Parameters
    ----------
    lightness_15, lightness_45, lightness_110 : array
        L* at the aspecular angles; the middle one above 0.

    Returns
    -------
    array, broadcast shape
        0 for a solid colour; a face darker than the flop counts as 0.

    References
    ----------
    .. [1] D. H. Alman, "Directional color measurement of metallic flake finishes",
       ISCC Williamsburg Conference (1987); equation from memory.

    Examples
    --------
    >>> float(flop_index(120.0, 60.0, 25.0))
    12.46853
    """
    fall = np.maximum(np.asarray(lightness_15) - np.asarray(lightness_110), 0.0)
    middle = np.asarray(lightness_45, dtype=np.float64)
    return np.asarray(_FACTOR * fall**_FALL_POWER / middle**_MIDDLE_POWER)


def readings_flop_index(readings: AngleReadings) -> float | None:
    """Flop index of readings that hold all its angles.

    Parameters
    ----------
    readings : AngleReadings
        The colour.

    Returns
    -------
    float or None
        None where an angle is missing, or the colour is black at 45 degrees.
    """
    if not set(_FLOP_ANGLES) <= set(readings.angles) or readings.at(45.0)[0] <= 0.0:
        return None
    return float(flop_index(*(readings.at(each)[0] for each in _FLOP_ANGLES)))
