"""From what likely paints do to a number of coats and its interval."""

from collections.abc import Sequence
from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from shadecore.undercoats.shelf import Shelf

INTERVAL = 0.90
_ROUND_OFF = 1e-9
TIE_COATS = 0.1
"""Averages closer than this tie: finer differences are the model's noise. [coats]"""
_TIE_DECIMALS = 1
"""Tenths of CIEDE2000 and of L* are told apart, finer steps are not."""


@dataclass(frozen=True)
class Counts:
    """Coats to hide for many colours over many undercoats.

    ``cap + 1`` stands for "not within the cap".

    Attributes
    ----------
    chance : array, shape (colours, undercoats, cap)
        Probability that the film hides by each coat.
    coats : array of int, shape (colours, undercoats)
        Middle of the distribution.
    low, high : array of int, shape (colours, undercoats)
        Ends of the 90 percent interval.
    average : array, shape (colours, undercoats)
        Mean of the distribution, capped at ``cap + 1``.
    left : array, shape (colours, undercoats)
        Difference still left after the last coat. [CIEDE2000]
    """

    chance: NDArray[np.float64]
    coats: NDArray[np.intp]
    low: NDArray[np.intp]
    high: NDArray[np.intp]
    average: NDArray[np.float64]
    left: NDArray[np.float64]

    @property
    def cap(self) -> int:
        """Coats counted at most."""
        return int(self.chance.shape[-1])


def count_coats(
    coats: NDArray[np.integer],
    left: NDArray[np.floating],
    weight: NDArray[np.floating],
    cap: int,
) -> Counts:
    """Turn the coats of likely paints into counts with intervals.

    Parameters
    ----------
    coats : array of int, shape (colours, paints, undercoats)
        Coats each paint needs, ``cap + 1`` where it does not hide.
    left : array, shape (colours, paints, undercoats)
        Difference left after the last coat.
    weight : array, shape (colours, paints)
        Weights of the paints, each row summing to 1.
    cap : int
        Coats counted at most.

    Returns
    -------
    Counts
    """
    chance = np.stack(
        [np.einsum("cp,cpu->cu", weight, coats <= n) for n in range(1, cap + 1)],
        axis=-1,
    )
    tail = (1.0 - INTERVAL) / 2.0
    low, middle, high = (
        1 + np.sum(chance < share - _ROUND_OFF, axis=-1)
        for share in (tail, 0.5, 1.0 - tail)
    )
    return Counts(
        chance=chance,
        coats=middle,
        low=low,
        high=high,
        average=cap + 1 - chance.sum(axis=-1),
        left=np.einsum("cp,cpu->cu", weight, left),
    )


def join_counts(parts: Sequence[Counts]) -> Counts:
    """Put the counts of blocks of colours back together.

    Parameters
    ----------
    parts : sequence of Counts
        Blocks, in order; at least one.

    Returns
    -------
    Counts
    """
    return Counts(
        *(
            np.concatenate([getattr(part, each.name) for part in parts])
            for each in fields(Counts)
        )
    )


def rank(
    counts: Counts, lightness: NDArray[np.floating], undercoats: Shelf
) -> NDArray[np.intp]:
    """Order undercoats from best to worst for each colour.

    Fewest coats first; of equal counts one from the shelf before a blend, then the
    lower average (by a tenth and more), then the closer lightness, then the
    lower price. Where nothing
    hides within the cap, the one that leaves the smaller difference.

    Parameters
    ----------
    counts : Counts
        Coats of each colour over each undercoat.
    lightness : array, shape (colours,)
        L* of the colours.
    undercoats : tuple of Undercoat
        The shelf, in the order of the counts.

    Returns
    -------
    array of int, shape (colours, undercoats)
        Places on the shelf.
    """
    gap, price = _gap_and_price(lightness, undercoats)
    behind = counts.average - counts.average.min(axis=1, keepdims=True)
    hopeless = counts.coats > counts.cap
    mixed = np.array([bool(each.parts) for each in undercoats])
    return np.lexsort(
        (
            np.broadcast_to(price, gap.shape),
            gap,
            behind // TIE_COATS,
            np.where(hopeless, counts.left.round(_TIE_DECIMALS), 0.0),
            np.broadcast_to(mixed, gap.shape),
            counts.coats,
        ),
        axis=-1,
    )


def closest_in_lightness(
    lightness: NDArray[np.floating], undercoats: Shelf
) -> NDArray[np.intp]:
    """Undercoat on the shelf closest in lightness to each colour; or the cheaper.

    Blends are left out: between two greys one can be mixed to any lightness.

    Parameters
    ----------
    lightness : array, shape (colours,)
        L* of the colours.
    undercoats : tuple of Undercoat
        The shelf.

    Returns
    -------
    array of int, shape (colours,)
        Places on the shelf.
    """
    own = tuple(each for each in undercoats if not each.parts)
    gap, price = _gap_and_price(lightness, own)
    place = np.array([i for i, each in enumerate(undercoats) if not each.parts])
    return place[np.lexsort((np.broadcast_to(price, gap.shape), gap), axis=-1)[:, 0]]


def _gap_and_price(
    lightness: NDArray[np.floating], undercoats: Shelf
) -> tuple[NDArray[np.floating], NDArray[np.float64]]:
    shelf = np.array([each.lightness for each in undercoats])
    gap = np.abs(lightness[:, None] - shelf).round(_TIE_DECIMALS)
    price = np.array(
        [np.inf if each.price is None else each.price for each in undercoats]
    )
    return gap, price


def weighted_quantile(
    values: NDArray[np.floating], weight: NDArray[np.floating], share: float
) -> NDArray[np.floating]:
    """Quantile of weighted values along the last axis.

    Parameters
    ----------
    values : array, shape (..., n)
        The values.
    weight : array broadcastable to (..., n)
        Weights, summing to 1 along the last axis.
    share : float
        0..1.

    Returns
    -------
    array, shape (...)
    """
    order = np.argsort(values, axis=-1)
    sorted_values = np.take_along_axis(values, order, axis=-1)
    sorted_weight = np.take_along_axis(
        np.broadcast_to(weight, values.shape), order, axis=-1
    )
    reached = np.cumsum(sorted_weight, axis=-1) >= share - _ROUND_OFF
    first = np.argmax(reached, axis=-1)[..., None]
    return np.take_along_axis(sorted_values, first, axis=-1)[..., 0]
