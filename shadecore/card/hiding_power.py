"""Hiding power: how far a litre goes when it hides as the standards define it."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from shadecore.coats.count import INTERVAL, weighted_quantile
from shadecore.coats.course import FilmModel
from shadecore.coats.estimate import LikelyPaints
from shadecore.coats.hiding import contrast_ratios
from shadecore.film.drawdown import COMPLETE_HIDING

UM_M2_PER_LITRE: Final = 1000.0
"""One litre covers a thousand square metres one micrometre thick."""
FT2_PER_GALLON_PER_M2_PER_LITRE: Final = 40.7458
"""1 m2/L in ft2 a US gallon: 10.76391 ft2 times 3.785412 L."""

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
    paints: LikelyPaints,
    volume_solids: float,
    model: FilmModel,
    ratio: float = COMPLETE_HIDING,
) -> HidingPower:
    """Work the hiding power of likely paints out.

    Parameters
    ----------
    paints : LikelyPaints
        What the paint may be.
    volume_solids : float
        Of the ready-to-spray paint, above 0 and up to 1.
    model : FilmModel
        The film's optics.
    ratio : float
        Contrast ratio that counts as hiding.

    Returns
    -------
    HidingPower

    References
    ----------
    .. [1] ISO 6504-3; ASTM D2805.
    """
    films = np.geomspace(_THINNEST_UM, _THICKEST_UM, _FILMS, dtype=np.float32)
    ratios = contrast_ratios(paints.absorption, paints.scattering, films, model)
    # The film from which the ratio stays reached, interpolated in its logarithm.
    short = ratios < ratio
    last_short = np.where(
        short.any(axis=1), _FILMS - 1 - np.argmax(short[:, ::-1], axis=1), 0
    )
    last_short = np.minimum(last_short, _FILMS - 2)
    row = np.arange(len(ratios))
    before, after = ratios[row, last_short], ratios[row, last_short + 1]
    part = np.clip((ratio - before) / np.maximum(after - before, 1e-9), 0.0, 1.0)
    step = np.log(films[1] / films[0])
    film = films[last_short] * np.exp(part * step)
    tail = (1.0 - INTERVAL) / 2.0
    middle, low, high = (
        float(weighted_quantile(film, paints.weight, share))
        for share in (0.5, tail, 1.0 - tail)
    )
    rate = UM_M2_PER_LITRE * volume_solids
    return HidingPower(
        (middle, low, high), (rate / middle, rate / high, rate / low), ratio
    )
