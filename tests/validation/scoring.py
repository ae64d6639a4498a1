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
