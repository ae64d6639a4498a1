"""How well a paint hides by itself: its contrast ratio over black and white."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.course import FilmModel
from shadecore.colour.appearance import tristimulus_weights
from shadecore.colour.surface import directional

COMPLETE_HIDING: Final = 0.98
"""Contrast ratio that counts as complete hiding: ISO 6504-3, ASTM D2805."""
FAIR_HIDING: Final = 0.95
"""Below this the card still shows through plainly; this tool's own limit."""
RATINGS: Final = ("good", "fair", "poor")

_CHART_WHITE: Final = 0.80
"""White area of the card; 0.80 is the conventional value of ASTM D2805."""


def contrast_ratio(
    absorption: NDArray[np.floating],
    scattering: NDArray[np.floating],
    dry_film_um: float,
    model: FilmModel,
) -> NDArray[np.floating]:
    """Luminous reflectance over black by that over white.

    Parameters
    ----------
    absorption, scattering : array, shape (paints, 31)
        K and S of the dry film. [1/um]
    dry_film_um : float
        Dry film. [um]
    model : FilmModel
        The film's optics.

    Returns
    -------
    array, shape (paints,)
        0..1, of Y under D65/10 degrees.

    References
    ----------
    .. [1] ISO 6504-3; ASTM D2805.
    """
    film = model.terms(absorption, scattering, np.array([dry_film_um]))
    luminance = tristimulus_weights()[:, 1]
    black = film.over(0.0)[:, 0, :] @ luminance
    white = film.over(directional().inside(_CHART_WHITE))[:, 0, :] @ luminance
    return np.asarray(black / white)


def rating(ratio: NDArray[np.floating]) -> NDArray[np.str_]:
    """Three-way rating of hiding.

    Parameters
    ----------
    ratio : array
        Contrast ratios, 0..1.

    Returns
    -------
    array of str
        ``good`` from 0.98, ``fair`` from 0.95, ``poor`` below.
    """
    steps = (ratio < COMPLETE_HIDING).astype(int) + (ratio < FAIR_HIDING)
    return np.asarray(np.array(RATINGS)[steps])
