"""From hiding thicknesses to a number of coats and its interval."""

from collections.abc import Sequence
from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.normal import normal_cdf
from shadecore.undercoats.shelf import Shelf

INTERVAL = 0.90
MIDDLE = 0.5
_ROUND_OFF = 1e-6
_TIE_DECIMALS = 1
"""Tenths of L* are told apart, finer steps are not."""
_EQUAL_DECIMALS = 5
"""Sums in single precision differ beyond these."""
_BISECTIONS = 40
_REACH = 7.0
"""Spreads beyond the outermost paint within which any middle lies."""


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
    ln_film : array, shape (colours, undercoats)
        Mean logarithm of the film that hides. [ln of um]
    """

    chance: NDArray[np.float64]
    coats: NDArray[np.intp]
    low: NDArray[np.intp]
    high: NDArray[np.intp]
    average: NDArray[np.float64]
    ln_film: NDArray[np.float64]

    @property
    def cap(self) -> int:
        """Coats counted at most."""
        return int(self.chance.shape[-1])

    def beyond(self, coats: int) -> NDArray[np.float64]:
        """Chance of needing more than some coats, shape (colours, undercoats)."""
        if coats < 1:
            return np.ones_like(self.average)
        return 1.0 - self.chance[..., min(coats, self.cap) - 1]


def count_coats(
    ln_film: NDArray[np.floating],
    weight: NDArray[np.floating],
    spread: float,
    films_um: NDArray[np.floating],
) -> Counts:
    """Turn the hiding thicknesses of likely paints into counts with intervals.

    Parameters
    ----------
    ln_film : array, shape (colours, paints, undercoats)
        Logarithm of the film that hides, at the middle of the loading. [ln of um]
    weight : array, shape (colours, paints)
        Weights of the paints, each row summing to 1.
    spread : float
        Standard deviation of the logarithm of the loading.
    films_um : array, shape (cap,)
        Dry film after each coat, ascending. [um]

    Returns
    -------
    Counts
    """
    sprayed = np.log(np.asarray(films_um, dtype=np.float64)).astype(np.float32)
    reached = (sprayed - ln_film[..., None]).astype(np.float32)
    reached *= np.float32(1.0 / spread)
    share = normal_cdf(reached)
    colours, paints, undercoats, cap = share.shape
    chance = weight[:, None, :] @ share.reshape(colours, paints, undercoats * cap)
    chance = np.clip(chance.reshape(colours, undercoats, cap), 0.0, 1.0)
    return counts_from_chance(
        np.maximum.accumulate(chance, axis=-1), np.einsum("cp,cpu->cu", weight, ln_film)
    )


def counts_from_chance(
    chance: NDArray[np.float64], ln_film: NDArray[np.floating]
) -> Counts:
    """Counts from the chance of hiding by each coat.

    Parameters
    ----------
    chance : array, shape (colours, undercoats, cap)
        Never falling along the coats.
    ln_film : array, shape (colours, undercoats)
        Mean logarithm of the film that hides. [ln of um]

    Returns
    -------
    Counts
    """
    low, high = shortest_interval(chance)
    middle = 1 + np.sum(chance < MIDDLE - _ROUND_OFF, axis=-1)
    return Counts(
        chance=chance,
        coats=middle,
        low=np.minimum(low, middle),
        high=np.maximum(high, middle),
        average=chance.shape[-1] + 1 - chance.sum(axis=-1),
        ln_film=np.asarray(ln_film, dtype=np.float64),
    )


def middle_film(
    ln_film: NDArray[np.floating], weight: NDArray[np.floating], spread: float
) -> NDArray[np.float64]:
    """Film that hides with even odds.

    Parameters
    ----------
    ln_film : array, shape (paints, undercoats)
        Logarithm of the film that hides, at the middle of the loading. [ln of um]
    weight : array, shape (paints,)
        Weights, summing to 1.
    spread : float
        Standard deviation of the logarithm of the loading.

    Returns
    -------
    array, shape (undercoats,)
        ln of um.
    """
    low = ln_film.min(axis=0).astype(np.float64) - _REACH * spread
    high = ln_film.max(axis=0).astype(np.float64) + _REACH * spread
    for _ in range(_BISECTIONS):
        middle = (low + high) / 2.0
        hides = weight @ normal_cdf((middle - ln_film) / spread) >= MIDDLE - _ROUND_OFF
        low, high = np.where(hides, low, middle), np.where(hides, middle, high)
    return np.asarray(high)


def shortest_interval(
    chance: NDArray[np.floating], share: float = INTERVAL
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
    # Every count as the lower end, and the fewest counts from there on that are enough.
    low = np.arange(1, cap + 2)
    before = np.concatenate([np.zeros_like(within[..., :1]), within[..., :-1]], axis=-1)
    wanted = before + share - _ROUND_OFF
    high = 1 + np.sum(within[..., None, :] < wanted[..., None], axis=-1)
    enough = high <= cap + 1
    held = np.take_along_axis(within, np.minimum(high, cap + 1) - 1, axis=-1) - before
    length = np.where(enough, high - low, cap + 1)
    shortest = length == length.min(axis=-1, keepdims=True)
    best = np.argmax(np.where(shortest, held, -1.0), axis=-1)
    best_high = np.take_along_axis(high, best[..., None], axis=-1)[..., 0]
    return low[best], best_high


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

    Fewest coats first; of equal counts the lower mean, then, where nothing hides
    within the cap, the thinner film; then the closer lightness and the lower price,
    which decide between undercoats that do exactly the same.

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
    return np.lexsort(
        (
            np.broadcast_to(price, gap.shape),
            gap,
            counts.ln_film.round(_EQUAL_DECIMALS),
            counts.average.round(_EQUAL_DECIMALS),
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
