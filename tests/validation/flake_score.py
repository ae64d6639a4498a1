"""How well effect picks and counts do on simulated paints of discrete flakes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import colour
import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import PchipInterpolator
from scipy.stats import norm

from .flake_paints import COAT_UM, COATS, WAVES, TracedPaint
from .flakes import ORDERS, over
from .truth import NINE_GREYS

FloatArray = NDArray[np.float64]

CAP = 12
FINE = np.arange(0.2, CAP + 0.001, 0.1)
"""Coats at which films are looked at."""
_DIFFUSE_RETURN = 0.596
"""Surface from inside, n = 1.5 (Fresnel)."""
_CLEAR = np.array([0.40459, 0.40512, 0.40523, 0.40459, 0.37125])
"""Share in and out over n^2, by Snell and Fresnel."""


def _lab(reflectance: FloatArray) -> FloatArray:
    """CIELAB under D65/10 by colour-science, from every second wavelength."""
    full = np.arange(400, 701, 10)
    weights = _weights()
    spectra = np.apply_along_axis(
        lambda row: np.interp(full, WAVES, row), -1, np.maximum(reflectance, 1e-6)
    )
    share = spectra @ (weights / weights.sum(axis=0))
    white = np.array([0.94811, 1.0, 1.07304])
    return np.asarray(
        colour.XYZ_to_Lab(share * white, colour.XYZ_to_xy(white)), dtype=np.float64
    )


def _weights() -> FloatArray:
    shape = colour.SpectralShape(400, 700, 10)
    lamp = colour.SDS_ILLUMINANTS["D65"].copy().align(shape)
    observer = colour.MSDS_CMFS["CIE 1964 10 Degree Standard Observer"]
    eye = observer.copy().align(shape)
    return np.asarray(eye.values * lamp.values[:, None])


def grey_inside(lightness: FloatArray) -> FloatArray:
    """Return greys seen from inside the film, at 45/0 under a clear skin."""
    measured = ((np.asarray(lightness) + 16.0) / 116.0) ** 3
    return np.asarray(measured / (_CLEAR[2] + _DIFFUSE_RETURN * measured))


def full_lab(paint: TracedPaint) -> FloatArray:
    """Return L*, a*, b* of the film that hides, shape (views, 3)."""
    return _lab(paint.full)


def true_difference(paint: TracedPaint) -> FloatArray:
    """Largest CIEDE2000 to the full colour, shape (greys, FINE)."""
    first = np.zeros((1, *paint.black.shape[1:]))
    skin = np.stack([_CLEAR * _DIFFUSE_RETURN**order for order in range(ORDERS)])
    skin = np.broadcast_to(skin[None, :, :, None], (1, *paint.leak.shape[1:]))
    nodes = np.array([0, *COATS])
    black = PchipInterpolator(nodes, np.concatenate([first, paint.black]))(FINE)
    logs = np.log(np.maximum(np.concatenate([skin, paint.leak]), 1e-9))
    leak = np.exp(PchipInterpolator(nodes, logs)(FINE))
    full = full_lab(paint)
    out = np.empty((len(NINE_GREYS), FINE.size))
    for row, inside in enumerate(grey_inside(np.array(NINE_GREYS))):
        reading = over(black, leak, np.full(WAVES.size, inside))
        out[row] = colour.delta_E(_lab(reading), full, method="CIE 2000").max(axis=-1)
    return out


def hides_at(difference: FloatArray, where: FloatArray, tolerance: float) -> FloatArray:
    """Return the place from which a difference stays inside a tolerance.

    Parameters
    ----------
    difference : FloatArray
        Shape (..., places).
    where : FloatArray
        Places, ascending, shape (places,).
    tolerance : float
        Largest difference that counts as hidden.

    Returns
    -------
    FloatArray
        Shape (...); twice the last place where it never stays inside.
    """
    outside = difference > tolerance
    last = where.size - 1 - outside[..., ::-1].argmax(axis=-1)
    low = np.minimum(last, where.size - 2)
    above = np.take_along_axis(difference, low[..., None], axis=-1)[..., 0]
    below = np.take_along_axis(difference, low[..., None] + 1, axis=-1)[..., 0]
    part = np.clip((above - tolerance) / np.maximum(above - below, 1e-9), 0.0, 1.0)
    found = np.exp(np.log(where[low]) * (1 - part) + np.log(where[low + 1]) * part)
    found = np.where(last == where.size - 1, 2.0 * where[-1], found)
    return np.where(outside.any(axis=-1), found, where[0])


@dataclass(frozen=True)
class Likely:
    """What an engine says of one paint.

    Attributes
    ----------
    hides_um : FloatArray
        Hiding thickness of each likely paint over each grey, shape (paints, greys).
    weight : FloatArray
        Weights, shape (paints,).
    """

    hides_um: FloatArray
    weight: FloatArray


def chances(
    likely: Likely,
    spread: float,
    mean: float = 0.0,
    seen: tuple[int, int] | None = None,
) -> FloatArray:
    """Return the probability that each number of coats hides.

    Parameters
    ----------
    likely : Likely
        The likely paints.
    spread, mean : float
        Of the logarithm of the loading.
    seen : tuple of int, optional
        A grey, and the coats that somebody counted over it, right within one.

    Returns
    -------
    FloatArray
        Shape (greys, CAP).
    """
    place = (np.arange(41) - 20) / 20 * 3.0
    share = np.exp(-0.5 * place**2)
    loading = np.exp(mean + spread * place)
    coats = likely.hides_um[:, None, :] / (loading[:, None] * COAT_UM)
    joint = likely.weight[:, None] * share
    if seen is not None:
        grey, count = seen
        needed = coats[..., grey]
        joint = joint * (
            norm.cdf(count + 0.5 - needed + 0.5) - norm.cdf(count - 1.0 - needed - 0.5)
        )
    joint = joint / joint.sum()
    number = np.arange(1, CAP + 1)
    return np.asarray(
        np.einsum("pl,plgn->gn", joint, coats[..., None] <= number[None, None, None, :])
    )


@dataclass(frozen=True)
class Score:
    """How a set of paints was served.

    Attributes
    ----------
    regret : float
        Coats of the pick more than of the best grey, on average.
    within_one : float
        Share of paints whose pick's count was right within one.
    holds : float
        Share whose 90 percent interval held the true count.
    width : float
        Mean width of the interval, in coats.
    bias : float
        Coats too many on average.
    """

    regret: float
    within_one: float
    holds: float
    width: float
    bias: float

    def __str__(self) -> str:
        """One row of the printed table."""
        return (
            f"regret {self.regret:.2f}  within one {self.within_one:.0%}  interval "
            f"holds {self.holds:.0%}  {self.width:.1f} wide  bias {self.bias:+.1f}"
        )


def score(truth: FloatArray, chance: Sequence[FloatArray]) -> Score:
    """Score picks and counts.

    Parameters
    ----------
    truth : FloatArray
        True coats, up to CAP + 1, shape (paints, greys).
    chance : sequence of FloatArray
        Of each paint, as :func:`chances` gives it.

    Returns
    -------
    Score
    """
    rows = []
    for real, said in zip(truth, chance, strict=True):
        mean = CAP + 1 - said.sum(axis=-1)
        pick = int(mean.argmin())
        low, middle, high = (
            1 + int((said[pick] < share - 1e-9).sum()) for share in (0.05, 0.5, 0.95)
        )
        rows.append(
            (
                real[pick] - real.min(),
                abs(middle - real[pick]) <= 1,
                low <= real[pick] <= high,
                high - low,
                middle - real[pick],
            )
        )
    return Score(*(float(each) for each in np.mean(np.array(rows, float), axis=0)))


def rule_regret(truth: FloatArray, lightness: FloatArray) -> float:
    """Return the regret of the grey closest to a lightness."""
    pick = np.abs(lightness[:, None] - np.array(NINE_GREYS)).argmin(axis=1)
    return float((truth[np.arange(len(truth)), pick] - truth.min(axis=1)).mean())
