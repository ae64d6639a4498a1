"""Hiding power: how far a litre goes when it hides as the standards define it."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from shadecore.coats.contrast import contrast_ratios
from shadecore.coats.count import INTERVAL, weighted_quantile
from shadecore.coats.paints import Paints
from shadecore.coats.thickness import last_crossing
from shadecore.film.drawdown import COMPLETE_HIDING

UM_M2_PER_LITRE: Final = 1000.0
"""One litre covers a thousand square metres one micrometre thick."""

_THINNEST_UM, _THICKEST_UM, _FILMS = 0.5, 2000.0, 120


@dataclass(frozen=True)
class HidingPower:
    """Film and spreading rate at complete hiding, with their 90 percent intervals.

    Attributes
    ----------
    dry_film_um : tuple of float
        Middle, low and high dry film at the contrast ratio. [um]
    spreading_rate_m2_per_l : tuple of float
        Middle, low and high area of one litre of ready-to-spray paint, without
        overspray. [m2/L]
    contrast_ratio : float
        The contrast ratio.
    """

    dry_film_um: tuple[float, float, float]
    spreading_rate_m2_per_l: tuple[float, float, float]
    contrast_ratio: float


def hiding_power(
    paints: Paints,
    volume_solids: float,
    ratio: float = COMPLETE_HIDING,
) -> HidingPower:
    """Work the hiding power of likely paints out.

    Parameters
    ----------
    paints : Paints
        What the paint may be, by a test card.
    volume_solids : float
        Of the ready-to-spray paint, above 0 and up to 1.
    ratio : float
        Contrast ratio that counts as hiding.

    Returns
    -------
    HidingPower

    References
    ----------
    .. [1] ISO 6504-3; ASTM D2805.
    """
    films = np.geomspace(_THINNEST_UM, _THICKEST_UM, _FILMS)
    ratios = contrast_ratios(paints, films)
    film = np.exp(last_crossing(1.0 - ratios, np.log(films), 1.0 - ratio))
    tail = (1.0 - INTERVAL) / 2.0
    middle, low, high = (
        float(weighted_quantile(film, paints.weight, share))
        for share in (0.5, tail, 1.0 - tail)
    )
    rate = UM_M2_PER_LITRE * volume_solids
    return HidingPower(
        (middle, low, high), (rate / middle, rate / high, rate / low), ratio
    )
