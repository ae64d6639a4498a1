"""Contrast ratios: paints over the black and the white of a chart."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.chart import chart_halves, luminances
from shadecore.coats.film_model import FilmModel
from shadecore.coats.paints import Paints
from shadecore.colour.appearance import tristimulus_weights
from shadecore.film.ladder import ladder_um

Array = NDArray[np.floating]

_FIRST_UM: Final = 1.0
LN_FILMS: Final = np.log(ladder_um(_FIRST_UM, 49))
"""Films of 1 to 776 um for which contrast ratios are solved; in between they are
nearly straight."""
_PAINTS_AT_ONCE: Final = 128


def contrast_ratios(paints: Paints, dry_films_um: Array) -> Array:
    """Luminous reflectance over black by that over white, for several films.

    Parameters
    ----------
    paints : Paints
        The paints.
    dry_films_um : array, shape (films,)
        Dry films. [um]

    Returns
    -------
    array, shape (paints, films)
        0..1, of Y under D65/10 degrees.

    References
    ----------
    .. [1] ISO 6504-3; ASTM D2805.
    """
    over_black, over_white = np.moveaxis(luminances(paints, dry_films_um), 1, 0)
    return np.asarray(over_black / over_white)


def contrast_of_solids(
    absorption: Array, scattering: Array, model: FilmModel
) -> NDArray[np.float32]:
    """The same on ``LN_FILMS``, for many solid paints.

    Parameters
    ----------
    absorption, scattering : array, shape (paints, 31)
        K and S of the dry film. [1/um]
    model : FilmModel
        The film's optics.

    Returns
    -------
    array, shape (paints, 49)
        0..1.
    """
    luminance = tristimulus_weights()[:, 1].astype(np.float32)
    black, white = chart_halves()
    ratios = np.empty((len(absorption), LN_FILMS.size), dtype=np.float32)
    for start in range(0, len(absorption), _PAINTS_AT_ONCE):
        rows = slice(start, start + _PAINTS_AT_ONCE)
        film = model.ladder(
            absorption[rows], scattering[rows], _FIRST_UM, LN_FILMS.size
        )
        ratios[rows] = (film.over(black) @ luminance) / (film.over(white) @ luminance)
    return ratios


def ratios_at(ratios: Array, ln_film: Array) -> Array:
    """Contrast ratios at any film, from those on ``LN_FILMS``.

    Parameters
    ----------
    ratios : array, shape (paints, 49)
        Contrast ratios on ``LN_FILMS``.
    ln_film : array, shape (films,)
        Logarithms of the films; beyond the ends the end is taken. [ln of um]

    Returns
    -------
    array, shape (paints, films)
    """
    step = LN_FILMS[1] - LN_FILMS[0]
    place = np.clip((ln_film - LN_FILMS[0]) / step, 0.0, LN_FILMS.size - 1)
    low = np.minimum(place.astype(np.intp), LN_FILMS.size - 2)
    part = (place - low).astype(ratios.dtype)
    return np.asarray(ratios[:, low] * (1 - part) + ratios[:, low + 1] * part)
