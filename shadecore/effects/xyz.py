"""L*, a*, b* to tristimulus values and back, above the white as well."""

import numpy as np
from numpy.typing import NDArray

from shadecore.colour.appearance import CUBE_ROOT_FROM, LINE_SLOPE, tristimulus_weights

Array = NDArray[np.float64]

_OFFSET = 4.0 / 29.0


def xyz_of_lab(lab: Array) -> Array:
    """X, Y, Z of L*, a*, b* under D65/10 degrees.

    Parameters
    ----------
    lab : array, shape (..., 3)
        L* may exceed 100.

    Returns
    -------
    array, shape (..., 3)
        Y of a perfect diffuser is 100.

    References
    ----------
    .. [1] ISO/CIE 11664-4.
    """
    height = (lab[..., 0] + 16.0) / 116.0
    f = np.stack(
        [height + lab[..., 1] / 500.0, height, height - lab[..., 2] / 200.0], axis=-1
    )
    share = np.where(f > np.cbrt(CUBE_ROOT_FROM), f**3, (f - _OFFSET) / LINE_SLOPE)
    return np.asarray(share * tristimulus_weights().sum(axis=0))


def lab_of_xyz(xyz: Array) -> Array:
    """L*, a*, b* of X, Y, Z under D65/10 degrees.

    Parameters
    ----------
    xyz : array, shape (..., 3)
        Y of a perfect diffuser is 100.

    Returns
    -------
    array, shape (..., 3)
    """
    share = xyz / tristimulus_weights().sum(axis=0)
    f = np.where(share > CUBE_ROOT_FROM, np.cbrt(share), LINE_SLOPE * share + _OFFSET)
    return np.stack(
        [
            116.0 * f[..., 1] - 16.0,
            500.0 * (f[..., 0] - f[..., 1]),
            200.0 * (f[..., 1] - f[..., 2]),
        ],
        axis=-1,
    )
