"""Paints on a black-and-white contrast chart."""

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.paints import Paints, face
from shadecore.coats.thickness import FILMS_UM, last_crossing
from shadecore.colour.appearance import (
    WAVELENGTHS_NM,
    colour_difference,
    neutral_reflectance,
)
from shadecore.colour.surface import directional
from shadecore.film.drawdown import CHART_WHITE

Array = NDArray[np.floating]


def black_and_white(paints: Paints, tolerance: float) -> Array:
    """Film from which a black-and-white pattern under a paint is gone.

    Parameters
    ----------
    paints : Paints
        The paints.
    tolerance : float
        Difference between the film over black and over white that cannot be seen.
        [CIEDE2000]

    Returns
    -------
    array, shape (paints,)
        ln of um.
    """
    lab = paints.lab_over(chart_halves(), FILMS_UM)
    apart = colour_difference(lab[:, 0], lab[:, 1]).max(axis=-1)
    return last_crossing(apart, np.log(FILMS_UM), tolerance)


def chart_halves() -> NDArray[np.float32]:
    """Black and white of a contrast chart, seen from inside the film, shape (2, 31)."""
    halves = np.array([[0.0], directional().inside([CHART_WHITE])])
    return np.repeat(halves, WAVELENGTHS_NM.size, axis=1).astype(np.float32)


def luminances(paints: Paints, films_um: Array) -> Array:
    """Luminous reflectance over black and white, shape (paints, 2, films)."""
    lab = paints.lab_over(chart_halves(), films_um)
    return neutral_reflectance(lab[..., face(paints), 0])
