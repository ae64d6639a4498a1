"""The error of a colour read off a photo, as one line for a link or a job file."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.errors import PhotoError
from shadecore.photo.measure import PhotoColour

_UPPER: Final = np.triu_indices(3)
_PARTS: Final = 2
_LARGEST: Final = 1e4
"""Largest variance that is accepted; with more, nothing is known of the colour. [L*,
a*, b* squared]"""


def photo_colour_text(colour: PhotoColour) -> str:
    """Lab of a colour read off a photo, as it is written into the colour's box."""
    # Adding zero turns a rounded -0.0 into 0.0.
    return " ".join(f"{round(value, 1) + 0.0:.1f}" for value in colour.lab)


def write_photo_line(colour: PhotoColour) -> str:
    """Write the covariance of a colour's error.

    Parameters
    ----------
    colour : PhotoColour

    Returns
    -------
    str
        Its Lab as in the colour's box, a semicolon, and the six variances and
        covariances of L*, a*, b*, row by row.
    """
    spread = " ".join(f"{value:.4g}" for value in colour.covariance[_UPPER])
    return f"{photo_colour_text(colour)}; {spread}"


def read_photo_line(line: str, colour: str) -> NDArray[np.float64] | None:
    """Read the covariance of a colour's error.

    Parameters
    ----------
    line : str
        As :func:`write_photo_line` writes it; empty for none.
    colour : str
        The text in the colour's box.

    Returns
    -------
    array, shape (3, 3), or None
        Covariance of L*, a*, b*; None without a line, or where the box now holds
        another colour than the line.

    Raises
    ------
    PhotoError
        If the line cannot be read, or holds no possible covariance.
    """
    if not line:
        return None
    parts = line.split(";")
    try:
        values = [float(word) for word in parts[-1].split()]
    except ValueError:
        values = []
    covariance = np.zeros((3, 3))
    if len(parts) == _PARTS and len(values) == len(_UPPER[0]):
        covariance[_UPPER] = values
        covariance = covariance + np.triu(covariance, 1).T
    possible = np.all(np.isfinite(covariance)) and covariance.max() <= _LARGEST
    if not (possible and np.trace(covariance) > 0.0 and _is_spread(covariance)):
        message = (
            f"The photo's doubt {line!r} cannot be read; measure the photo again, or "
            "leave it out."
        )
        raise PhotoError(message)
    return covariance if parts[0].split() == colour.split() else None


def _is_spread(covariance: NDArray[np.float64]) -> bool:
    """Whether it is a covariance, but for rounding: no variance is negative."""
    values = np.linalg.eigvalsh(covariance)
    return bool(values[0] >= -1e-3 * values[-1])
