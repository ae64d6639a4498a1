"""Scores of predicted undercoats and coats against the true ones.

Coat counts are capped: ``cap + 1`` stands for every film that does not hide within
`cap` coats, so predictions are capped alike before they are compared.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

ROUNDING = 1e-9
"""How far a chance may lie outside 0 to 1 and still be one."""


@dataclass(frozen=True)
class CountScore:
    """How well predicted coats agree with the true ones.

    Attributes
    ----------
    exact : float
        Share of counts that are right.
    within_one : float
        Share of counts off by one coat at most.
    bias : float
        Mean of predicted minus true coats.
    coverage : float
        Share of true counts inside their interval, ends included.
    width : float
        Mean of high minus low end, coats.
    """

    exact: float
    within_one: float
    bias: float
    coverage: float
    width: float


@dataclass(frozen=True)
class PickScore:
    """How good the picked undercoats are.

    Attributes
    ----------
    mean_regret : float
        Mean coats with the picked undercoat beyond those with the best one.
    best : float
        Share of picks no other undercoat beats.
    within_one : float
        Share of picks within one coat of the best.
    worst : int
        Largest regret, coats.
    """

    mean_regret: float
    best: float
    within_one: float
    worst: int


@dataclass(frozen=True)
class Reliability:
    """How often what was given a chance came true.

    Attributes
    ----------
    predicted : FloatArray
        Mean of the predicted chances in each bin, NaN where it is empty, shape
        (bins,).
    observed : FloatArray
        Share of them that came true, NaN where the bin is empty, shape (bins,).
    count : IntArray
        Predictions in each bin, shape (bins,).
    """

    predicted: FloatArray
    observed: FloatArray
    count: IntArray


def of_pick(table: ArrayLike, pick: ArrayLike) -> FloatArray:
    """Return the entries of the picked undercoats.

    Parameters
    ----------
    table : ArrayLike
        Values, shape (paints, undercoats).
    pick : ArrayLike
        Undercoat indexes, shape (paints,).

    Returns
    -------
    FloatArray
        Shape (paints,).
    """
    values = np.asarray(table, dtype=np.float64)
    index = np.asarray(pick, dtype=np.intp)[:, None]
    return np.take_along_axis(values, index, axis=1)[:, 0]


def regret(true_coats: ArrayLike, pick: ArrayLike) -> IntArray:
    """Return the coats a pick costs beyond the best undercoat.

    Parameters
    ----------
    true_coats : ArrayLike
        True capped coats, shape (paints, undercoats).
    pick : ArrayLike
        Picked undercoat indexes, shape (paints,).

    Returns
    -------
    IntArray
        Zero or more, shape (paints,).
    """
    coats = np.asarray(true_coats, dtype=np.int64)
    return np.asarray(of_pick(coats, pick) - coats.min(axis=1), dtype=np.int64)


def score_picks(true_coats: ArrayLike, pick: ArrayLike) -> PickScore:
    """Score picked undercoats.

    Parameters
    ----------
    true_coats : ArrayLike
        True capped coats, shape (paints, undercoats).
    pick : ArrayLike
        Picked undercoat indexes, shape (paints,).

    Returns
    -------
    PickScore
        Summary over the paints.
    """
    lost = regret(true_coats, pick)
    return PickScore(
        mean_regret=float(lost.mean()),
        best=float((lost == 0).mean()),
        within_one=float((lost <= 1).mean()),
        worst=int(lost.max()),
    )


def score_counts(
    true_coats: ArrayLike,
    predicted: ArrayLike,
    low: ArrayLike,
    high: ArrayLike,
    cap: int,
) -> CountScore:
    """Score predicted coats and their intervals.

    Parameters
    ----------
    true_coats : ArrayLike
        True coats, of any shape: all undercoats, or `of_pick` of them.
    predicted : ArrayLike
        Predicted coats, same shape; need not be whole.
    low, high : ArrayLike
        Ends of the predicted interval, same shape.
    cap : int
        Most coats that count.

    Returns
    -------
    CountScore
        Summary over all entries. A predicted mean of 3.4 is exact for 3 coats.
    """

    def capped(coats: ArrayLike) -> FloatArray:
        return np.minimum(np.asarray(coats, dtype=np.float64), cap + 1)

    actual = capped(true_coats)
    error = np.floor(capped(predicted) + 0.5) - actual
    bottom, top = capped(low), capped(high)
    return CountScore(
        exact=float((error == 0).mean()),
        within_one=float((np.abs(error) <= 1).mean()),
        bias=float((capped(predicted) - actual).mean()),
        coverage=float(((bottom <= actual) & (actual <= top)).mean()),
        width=float((top - bottom).mean()),
    )


def _chance_and_outcome(
    chance: ArrayLike, true_coats: ArrayLike
) -> tuple[FloatArray, FloatArray]:
    """Return chances and whether they came true, 1 or 0, of one shape."""
    predicted = np.asarray(chance, dtype=np.float64)
    coats = np.asarray(true_coats, dtype=np.int64)
    if predicted.shape[:-1] != coats.shape:
        message = f"chances {predicted.shape} do not fit coats {coats.shape}"
        raise ValueError(message)
    # Written so that NaN fails as well; sums of weights may round past the ends.
    if not np.all((predicted >= -ROUNDING) & (predicted <= 1.0 + ROUNDING)):
        message = "a chance is 0 to 1"
        raise ValueError(message)
    allowed = np.arange(1, predicted.shape[-1] + 1)
    hidden = coats[..., None] <= allowed
    return np.clip(predicted, 0.0, 1.0), hidden.astype(np.float64)


def reliability(
    chance: ArrayLike, true_coats: ArrayLike, bins: int = 10
) -> Reliability:
    """Compare predicted chances of hiding with how often films did hide.

    Parameters
    ----------
    chance : ArrayLike
        Predicted probability that the film hides by 1, 2, ... coats, shape
        (paints, undercoats, coats).
    true_coats : ArrayLike
        True coats, shape (paints, undercoats), capped at no less than the coats of
        `chance`: a film that does not hide must lie beyond them all.
    bins : int
        Equal parts of the range from 0 to 1. Each has its lower end, the last has
        its upper end too.

    Returns
    -------
    Reliability
        Predicted and observed frequency in each bin.

    Raises
    ------
    ValueError
        If the shapes do not fit or a chance is not a probability.
    """
    predicted, hidden = _chance_and_outcome(chance, true_coats)
    place = np.minimum((predicted * bins).astype(np.intp), bins - 1).ravel()
    count = np.bincount(place, minlength=bins)

    def mean(values: FloatArray) -> FloatArray:
        total = np.bincount(place, weights=values.ravel(), minlength=bins)
        empty = np.full(bins, np.nan)
        return np.asarray(np.divide(total, count, out=empty, where=count > 0))

    return Reliability(
        predicted=mean(predicted), observed=mean(hidden), count=count.astype(np.int64)
    )


def brier(chance: ArrayLike, true_coats: ArrayLike) -> float:
    """Return the Brier score of predicted chances of hiding.

    Parameters
    ----------
    chance : ArrayLike
        Predicted probability that the film hides by 1, 2, ... coats, shape
        (paints, undercoats, coats).
    true_coats : ArrayLike
        True coats, shape (paints, undercoats), capped as for `reliability`.

    Returns
    -------
    float
        Mean squared error of the chances, from 0 for perfect foresight to 1; 0.25
        for always saying even odds.

    Raises
    ------
    ValueError
        If the shapes do not fit or a chance is not a probability.
    """
    predicted, hidden = _chance_and_outcome(chance, true_coats)
    return float(((predicted - hidden) ** 2).mean())


def closest_in_lightness(lightness: ArrayLike, greys: ArrayLike) -> IntArray:
    """Return the picks of the usual rule, the grey nearest in L*.

    Parameters
    ----------
    lightness : ArrayLike
        L* of the hidden paints, shape (paints,).
    greys : ArrayLike
        L* of the undercoats, shape (undercoats,).

    Returns
    -------
    IntArray
        Undercoat indexes, shape (paints,).
    """
    gap = np.abs(np.asarray(lightness)[:, None] - np.asarray(greys))
    return np.asarray(gap.argmin(axis=1), dtype=np.int64)
