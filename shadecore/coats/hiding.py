"""How well a paint hides by itself, with the doubt of its loading."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.belief import Belief
from shadecore.coats.contrast import (
    LN_FILMS,
    contrast_of_solids,
    contrast_ratios,
    ratios_at,
)
from shadecore.coats.count import INTERVAL, MIDDLE, weighted_quantile
from shadecore.coats.estimate import LikelyPaints
from shadecore.coats.loading import likely_loadings
from shadecore.film.drawdown import COMPLETE_HIDING

Array = NDArray[np.floating]

FAIR_HIDING: Final = 0.95
"""Below this the card still shows through plainly; this tool's own limit."""
RATINGS: Final = ("good", "fair", "poor")
_SPARSE: Final = 3
"""Every third loading serves for a quantile."""


def _contrasts(belief: Belief) -> Array:
    """Contrast ratios of likely paints on ``LN_FILMS``, shape (paints, 49)."""
    if isinstance(belief.paints, LikelyPaints):
        paints = belief.paints
        return contrast_of_solids(paints.absorption, paints.scattering, paints.model)
    return contrast_ratios(belief.paints, np.exp(LN_FILMS))


def contrast_interval(belief: Belief, dry_film_um: float) -> tuple[float, float, float]:
    """Contrast ratio at a film of what a paint may be.

    Parameters
    ----------
    belief : Belief
        What is held of it, its loading included.
    dry_film_um : float
        Dry film. [um]

    Returns
    -------
    low, middle, high : float
        The middle and the ends of the 90 percent interval. 0..1
    """
    if belief.ln_loading.size == 1:
        loadings, part = likely_loadings(float(belief.ln_loading[0]), belief.spread)
        weight = belief.weight * part
    else:
        loadings = belief.ln_loading[::_SPARSE]
        weight = belief.weight[:, ::_SPARSE]
    ratios = ratios_at(_contrasts(belief), np.log(dry_film_um) + loadings)
    tail = (1.0 - INTERVAL) / 2.0
    low, middle, high = (
        float(weighted_quantile(ratios.ravel(), weight.ravel() / weight.sum(), share))
        for share in (tail, MIDDLE, 1.0 - tail)
    )
    return low, middle, high


def rating(ratio: Array) -> NDArray[np.str_]:
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
