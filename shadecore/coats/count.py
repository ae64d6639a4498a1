"""From what likely paints do to a number of coats and its interval."""

from collections.abc import Sequence
from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from shadecore.undercoats.shelf import Shelf

INTERVAL = 0.90
_HELD = 0.92
"""Share of the recipes that an interval must hold to hold 90 percent of the paints:
recipes are not the paints (``tests/validation``)."""
MIDDLE = 0.5
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
    doubt: float = 1.0,
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
    doubt : float
        Power that the probabilities are raised to, 1 or more.

    Returns
    -------
    Counts
    """
    chance = np.stack(
        [np.einsum("cp,cpu->cu", weight, coats <= n) for n in range(1, cap + 1)],
        axis=-1,
    )
    chance = np.clip(chance, 0.0, 1.0) ** doubt
    low, high = shortest_interval(chance)
    return Counts(
        chance=chance,
        coats=1 + np.sum(chance < MIDDLE - _ROUND_OFF, axis=-1),
        low=low,
        high=high,
        average=cap + 1 - chance.sum(axis=-1),
        left=np.einsum("cp,cpu->cu", weight, left),
    )


def shortest_interval(
    chance: NDArray[np.floating], share: float = _HELD
) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Fewest neighbouring counts that hold a share of the probability.

    Counts are whole, so cutting both tails at 5 percent would keep more than was
    asked for; of equally short intervals the likelier one is taken.

    Parameters
    ----------
    chance : array, shape (..., cap)
        Probability that the film hides by each coat.
    share : float
        Probability to hold, above 0.5 and below 1.

    Returns
    -------
    low, high : array of int, shape (...)
        Ends of the interval, ``cap + 1`` for "not within the cap".
    """
    cap = chance.shape[-1]
    within = np.concatenate([chance, np.ones_like(chance[..., :1])], axis=-1)
    best_low = np.ones(chance.shape[:-1], dtype=np.intp)
    best_high = np.full_like(best_low, cap + 1)
    best_held = np.ones(chance.shape[:-1])
    for low in range(1, cap + 2):
        before = within[..., low - 2] if low > 1 else np.zeros_like(best_held)
        wanted = before + share - _ROUND_OFF
        high = 1 + np.sum(within < wanted[..., None], axis=-1)
        held = (
            np.take_along_axis(
                within, np.minimum(high, cap + 1)[..., None] - 1, axis=-1
            )[..., 0]
            - before
        )
        shorter = high - low - (best_high - best_low)
        better = (high <= cap + 1) & (
            (shorter < 0) | ((shorter == 0) & (held > best_held))
        )
        best_low = np.where(better, low, best_low)
        best_high = np.where(better, high, best_high)
        best_held = np.where(better, held, best_held)
    return best_low, best_high


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
