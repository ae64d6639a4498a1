"""What is held of a paint: which one it may be, and how heavily it is loaded."""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.count import Counts, count_coats, counts_from_chance, middle_film
from shadecore.coats.loading import Loading
from shadecore.coats.over import ln_thickness_over
from shadecore.coats.paints import Paints
from shadecore.coats.settings import Settings
from shadecore.undercoats.shelf import Shelf, inside_views

Array = NDArray[np.floating]

_FINENESS: Final = 6
"""Steps of loading in one standard deviation, each blurred by as much: the sum differs
from the normal distribution by less than 1e-8."""
_REACH: Final = 4.5
"""Standard deviations of the loading that are gone through."""
_NEGLIGIBLE: Final = 1e-6
"""Part of the largest weight below which a paint at a loading is left out."""


@dataclass(frozen=True, eq=False)
class Belief:
    """Likely paints, each at likely loadings.

    Attributes
    ----------
    paints : Paints
        The paints.
    weight : array, shape (paints, loadings)
        Weights of each at each loading, summing to 1.
    ln_loading : array, shape (loadings,)
        Logarithms of the loadings.
    spread : float
        Standard deviation of the logarithm of the loading about each of them.
    """

    paints: Paints
    weight: NDArray[np.float64]
    ln_loading: NDArray[np.float64]
    spread: float

    @property
    def paint_weight(self) -> NDArray[np.float64]:
        """Weights of the paints at any loading, shape (paints,)."""
        return np.asarray(self.weight.sum(axis=1))

    def at_each_loading(self, of_paints: Array) -> tuple[Array, NDArray[np.float64]]:
        """Films that paints need, at each of their loadings, with the weights.

        Parameters
        ----------
        of_paints : array, shape (paints, n)
            Logarithms of films at the recipes' own loading.

        Returns
        -------
        ln_film : array, shape (cases, n)
            Logarithms of the films.
        weight : array, shape (cases,)
            Summing to 1; cases that hardly count are left out.
        """
        if self.ln_loading.size == 1:
            return of_paints - self.ln_loading[0], self.weight[:, 0]
        kept = self.weight > _NEGLIGIBLE * self.weight.max()
        paint, loading = np.nonzero(kept)
        weight = self.weight[kept]
        moved = of_paints[paint] - self.ln_loading[loading, None]
        return moved, weight / weight.sum()

    def likelier(self, likelihood: Array) -> "Belief":
        """What is held after something was seen.

        Parameters
        ----------
        likelihood : array, shape (paints, loadings)
            Chance of seeing it from each paint at each loading.

        Returns
        -------
        Belief
        """
        weight = self.weight * likelihood
        return replace(self, weight=weight / weight.sum())

    def spread_out(self) -> "Belief":
        """The same with many loadings, each hardly spread, so that they can be told.

        Returns
        -------
        Belief
        """
        if self.ln_loading.size > 1:
            return self
        steps = np.arange(-_REACH * _FINENESS, _REACH * _FINENESS + 1) / _FINENESS
        fine = self.spread / _FINENESS
        # A normal of what is left beside the blur of each step.
        part = np.exp(-0.5 * steps**2 / (1.0 - 1.0 / _FINENESS**2))
        return Belief(
            self.paints,
            self.weight * (part / part.sum()),
            self.ln_loading[0] + steps * self.spread,
            fine,
        )


def first_belief(paints: Paints, loading: Loading) -> Belief:
    """What is held before anything was seen.

    Parameters
    ----------
    paints : Paints
        The paints, with their weights.
    loading : Loading
        How heavily they are loaded, unless they bring that themselves.

    Returns
    -------
    Belief
    """
    known = paints.loading or loading
    return Belief(paints, paints.weight[:, None], np.array([known.mean]), known.spread)


def count_over(belief: Belief, undercoats: Shelf, settings: Settings) -> Counts:
    """Count the coats that hide undercoats.

    Parameters
    ----------
    belief : Belief
        What is held of the topcoat.
    undercoats : tuple of Undercoat
        What is under it.
    settings : Settings
        Film, tolerance and cap.

    Returns
    -------
    Counts
        For one colour.
    """
    views = inside_views(undercoats)
    ln_film = ln_thickness_over(belief.paints, views.backing, settings.tolerance)
    seen = count_films(belief, ln_film, settings.films_um)
    chance = views.mean(np.swapaxes(seen.chance, 1, 2))
    return counts_from_chance(np.swapaxes(chance, 1, 2), views.mean(seen.ln_film))


def count_films(belief: Belief, ln_film: Array, films_um: Array) -> Counts:
    """Count the coats from films that paints need.

    Parameters
    ----------
    belief : Belief
        What is held of the topcoat.
    ln_film : array, shape (paints, n)
        Logarithm of the film from which something holds. [ln of um]
    films_um : array, shape (cap,)
        Dry film after each coat. [um]

    Returns
    -------
    Counts
        For one colour and n undercoats, or whatever else was asked about.
    """
    cases, weight = belief.at_each_loading(ln_film)
    return count_coats(cases[None], weight[None], belief.spread, films_um)


def middle_films(belief: Belief, ln_film: Array) -> NDArray[np.float64]:
    """Films with even odds that something holds.

    Parameters
    ----------
    belief : Belief
        What is held of the topcoat.
    ln_film : array, shape (paints, n)
        Logarithm of the film from which something holds. [ln of um]

    Returns
    -------
    array, shape (n,)
        ln of um.
    """
    return middle_film(*belief.at_each_loading(ln_film), belief.spread)
