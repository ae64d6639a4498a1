"""How well a paint hides by itself: its contrast ratio over black and white."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.course import FilmModel
from shadecore.colour.appearance import tristimulus_weights
from shadecore.colour.surface import directional
from shadecore.film.drawdown import CHART_WHITE, COMPLETE_HIDING

FAIR_HIDING: Final = 0.95
"""Below this the card still shows through plainly; this tool's own limit."""
RATINGS: Final = ("good", "fair", "poor")


def contrast_ratios(
    absorption: NDArray[np.floating],
    scattering: NDArray[np.floating],
    dry_films_um: NDArray[np.floating],
    model: FilmModel,
) -> NDArray[np.floating]:
    """Luminous reflectance over black by that over white, for several films.

    Parameters
    ----------
    absorption, scattering : array, shape (paints, 31)
        K and S of the dry film. [1/um]
    dry_films_um : array, shape (films,)
        Dry films. [um]
    model : FilmModel
        The film's optics.

    Returns
    -------
    array, shape (paints, films)
        0..1, of Y under D65/10 degrees.

    References
    ----------
    .. [1] ISO 6504-3; ASTM D2805.
    """
    film = model.terms(absorption, scattering, dry_films_um)
    luminance = tristimulus_weights()[:, 1]
    black = film.over(0.0) @ luminance
    white = film.over(directional().inside(CHART_WHITE)) @ luminance
    return np.asarray(black / white)


def contrast_ratio(
    absorption: NDArray[np.floating],
    scattering: NDArray[np.floating],
    dry_film_um: float,
    model: FilmModel,
) -> NDArray[np.floating]:
    """Contrast ratio at one film; see :func:`contrast_ratios`.

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
    """
    films = np.array([dry_film_um], dtype=np.float32)
    return contrast_ratios(absorption, scattering, films, model)[:, 0]


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
