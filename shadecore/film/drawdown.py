"""Closed forms for a paint drawn down over black and white.

Reflectances here are inside the film; :mod:`shadecore.colour.surface` carries readings
there. They serve where a reading gives reflectances; the fit of
:mod:`shadecore.card.fit` serves everywhere.
"""

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.optimize import brentq

from shadecore.errors import CardError
from shadecore.film.two_flux import film_reflectance

Array = NDArray[np.float64]

COMPLETE_HIDING: Final = 0.98
CHART_WHITE: Final = 0.80
"""Contrast ratio and white of the hiding equation, conventions of ASTM D2805."""
_THICKEST: Final = 1e5
_NEVER_HIDES: Final = 1.0 - 1e-9


class Drawdown(NamedTuple):
    """What two readings of one film give.

    Attributes
    ----------
    masstone : array
        Reflectance of the film thick enough to hide.
    scattering : array
        Scattering power S X of the film.
    absorption : array
        Absorption power K X of the film.
    """

    masstone: Array
    scattering: Array
    absorption: Array


def from_black_and_white(
    over_black: ArrayLike, over_white: ArrayLike, black: ArrayLike, white: ArrayLike
) -> Drawdown:
    """K X and S X of a film from its reflectance over two backings.

    Parameters
    ----------
    over_black, over_white : array
        Reflectance over the backings, 0..1.
    black, white : array
        Reflectance of the backings, 0..1.

    Returns
    -------
    Drawdown

    Raises
    ------
    CardError
        If no film gives the two readings.

    References
    ----------
    .. [1] P. Kubelka, J. Opt. Soc. Am. 38 (1948) 448; D. B. Judd and G. Wyszecki,
       "Color in Business, Science and Industry" (from memory), for a black of 0.

    Examples
    --------
    >>> float(from_black_and_white(0.46103362, 0.71234729, 0.0, 0.8).masstone)
    0.641742
    """
    r0, r1, g0, g1 = (
        np.asarray(each, dtype=np.float64)
        for each in (over_black, over_white, black, white)
    )
    # b coth(b S X) = (1 + R Rg - a (R + Rg)) / (R - Rg) holds over both backings;
    # setting the two equal leaves one linear equation for a. It is multiplied out by
    # (R0 - G0) (R1 - G1), which may vanish where a film matches its backing.
    if np.any(np.abs(r1 - r0) < _HIDDEN):
        message = (
            "The film reads the same over black and white, so it hides and its "
            "scattering cannot be told; read a thinner film."
        )
        raise CardError(message)
    d0, d1 = r0 - g0, r1 - g1
    top = (1.0 + r0 * g0) * d1 - (1.0 + r1 * g1) * d0
    bottom = (r0 + g0) * d1 - (r1 + g1) * d0
    with np.errstate(divide="ignore", invalid="ignore"):
        a = top / bottom
        # Without absorption a is 1, which rounding may put a hair below.
        a = np.where(np.abs(a - 1.0) < _ROUND_OFF, 1.0, a)
        b = np.sqrt(np.maximum(a**2 - 1.0, 0.0))
        far = np.abs(d0) > np.abs(d1)
        r, g = np.where(far, r0, r1), np.where(far, g0, g1)
        u = (1.0 + r * g - a * (r + g)) / (r - g)
        # Without absorption b vanishes and b coth(b S X) becomes 1 / (S X).
        scattering = np.where(
            b > _SMALLEST_B,
            np.arctanh(np.minimum(b / u, 1.0)) / np.maximum(b, _SMALLEST_B),
            1.0 / u,
        )
    if not np.all(np.isfinite(scattering) & (scattering >= 0.0) & (a >= 1.0)):
        message = (
            "No film gives these readings over black and white; check that they are "
            "not swapped and that both belong to the same film."
        )
        raise CardError(message)
    return Drawdown(a - b, scattering, scattering * (a - 1.0))


_SMALLEST_B = 1e-6
_ROUND_OFF = 1e-9
_HIDDEN = 1e-9


def hiding_scattering_power(masstone: float, ratio: float = COMPLETE_HIDING) -> float:
    """S X at which a paint reaches a contrast ratio over black and 0.80 white.

    Parameters
    ----------
    masstone : float
        Reflectance where it hides, above 0 and below 1.
    ratio : float
        Contrast ratio, above 0 and below 1.

    Returns
    -------
    float

    Raises
    ------
    CardError
        If the masstone or the ratio is outside its range.

    References
    ----------
    .. [1] ASTM D2805, hiding power of paints by reflectometry.

    Examples
    --------
    >>> hiding_scattering_power(0.80)
    6.50069
    """
    if not (0.0 < masstone < _NEVER_HIDES and 0.0 < ratio < 1.0):
        message = "Masstone and contrast ratio must lie between 0 and 1."
        raise CardError(message)
    k_over_s = (1.0 - masstone) ** 2 / (2.0 * masstone)

    def short_of_hiding(scattering_power: float) -> float:
        black, white = film_reflectance(
            k_over_s, 1.0, scattering_power, np.array([0.0, CHART_WHITE])
        )
        return float(black / white) - ratio

    if short_of_hiding(_THICKEST) < 0.0:
        message = f"This paint does not reach a contrast ratio of {ratio:g}."
        raise CardError(message)
    return float(brentq(short_of_hiding, 0.0, _THICKEST))
