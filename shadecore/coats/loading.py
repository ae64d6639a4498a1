"""How heavily a paint is loaded with pigment, which its colour does not tell.

Film per coat is the painter's, loading the paint's. Counting coats tells only their
product, so both doubts are one number: the logarithm of the loading.
"""

import math
from dataclasses import dataclass
from functools import cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.errors import SettingError
from shadecore.formats.echo import choices, shown
from shadecore.recipes.families import family_ranges

Array = NDArray[np.floating]

_LARGEST_MEAN, _LARGEST_SPREAD = 5.0, 3.0
_STANDING_FOR_ALL: Final = 5
LINE_AND_GUN: Final = "line and gun"
LEARNED_OF: Final = (LINE_AND_GUN, "line", "gun")
"""Whose jobs a loading may be learned from."""


@dataclass(frozen=True)
class Loading:
    """Logarithm of a paint's loading over the one that recipes are drawn with.

    Attributes
    ----------
    mean : float
        Natural logarithm, -5 to 5; 0.7 is twice the recipes' loading.
    spread : float
        Its standard deviation, above 0 and up to 3.
    jobs : int
        Jobs that it was learned from; 0 for what holds of any paint.
    of : str
        Whose jobs they were, one of ``LEARNED_OF``.

    Raises
    ------
    SettingError
        If one of them is outside its range.
    """

    mean: float
    spread: float
    jobs: int = 0
    of: str = LINE_AND_GUN

    def __post_init__(self) -> None:
        if not (math.isfinite(self.mean) and abs(self.mean) <= _LARGEST_MEAN):
            message = (
                f"The mean of the log loading must lie within {_LARGEST_MEAN:g} of 0, "
                f"not {self.mean:g}."
            )
            raise SettingError(message)
        if not 0.0 < self.spread <= _LARGEST_SPREAD:
            message = (
                "The spread of the log loading must be above 0 and up to "
                f"{_LARGEST_SPREAD:g}, not {self.spread:g}."
            )
            raise SettingError(message)
        if self.jobs < 0:
            message = f"A loading cannot come from {self.jobs} jobs; give 0 or more."
            raise SettingError(message)
        if self.of not in LEARNED_OF:
            message = (
                f"A loading is learned of {choices(LEARNED_OF)}, not of "
                f"{shown(self.of)}."
            )
            raise SettingError(message)


MEASURED_ON_A_CARD: Final = Loading(0.0, 0.05)
"""Loading of paints fitted to a card, whose scale the card gives: what is left is how
alike one painter's coats are from day to day (from memory)."""

_SPREADS_IN_NINE_TENTHS: Final = 2.0 * 1.645
"""Standard deviations between the ends of the middle 90 percent of a normal."""


def white_scattering(pigment_share: float) -> float:
    """Scattering of a white film from its pigment by volume.

    A power law through two measured films: crowded particles scatter less each, so
    scattering rises more slowly than the pigment does.

    Parameters
    ----------
    pigment_share : float
        Titanium white in the dry film by volume, above 0 and below 1.

    Returns
    -------
    float
        Two-flux S at 550 nm. [1/um]

    References
    ----------
    .. [1] R. Levinson, P. Berdahl and H. Akbari, "Solar spectral optical properties
       of pigments", Sol. Energy Mater. Sol. Cells 89 (2005) 319 and 353: the films.

    Examples
    --------
    >>> white_scattering(0.02)
    0.12
    >>> white_scattering(0.228)
    0.60
    """
    films = family_ranges()["loading"]["white_films"]
    (thin, low), (full, high) = films
    steepness = math.log(high / low) / math.log(full / thin)
    return float(low * (pigment_share / thin) ** steepness)


@cache
def default_loading() -> Loading:
    """Loading of a base coat of which nothing but its colour is known.

    From the scattering of white films and the pigment that base coats hold, with the
    doubt of the film that a gun leaves and of how strong the same pigment is from one
    maker to the next; all in ``data/colorant-families.toml``.

    Returns
    -------
    Loading
    """
    ranges = family_ranges()
    unit = ranges["scale"]["white_scattering_per_um"]
    low, high = (
        math.log(white_scattering(share) / unit)
        for share in ranges["loading"]["pigment_by_volume"]
    )
    thin, thick = ranges["loading"]["dry_film_um"]
    by_pigment = (high - low) / 2.0
    by_film = math.log(thick / thin) / _SPREADS_IN_NINE_TENTHS
    by_grade = math.log(ranges["band_scatter"]["absorption_factor"])
    return Loading((low + high) / 2.0, math.hypot(by_pigment, by_film, by_grade))


def likely_loadings(mean: float, spread: float) -> tuple[Array, NDArray[np.float64]]:
    """A few loadings that stand for all that are likely.

    Parameters
    ----------
    mean, spread : float
        Mean and standard deviation of the logarithm of the loading.

    Returns
    -------
    ln_loading : array, shape (loadings,)
        Their logarithms.
    part : array, shape (loadings,)
        Their weights, which add up to 1.

    References
    ----------
    .. [1] Gauss-Hermite quadrature: M. Abramowitz, I. Stegun, Handbook of Mathematical
       Functions, 25.4.46.
    """
    place, part = np.polynomial.hermite_e.hermegauss(_STANDING_FOR_ALL)
    return mean + spread * place, part / part.sum()
