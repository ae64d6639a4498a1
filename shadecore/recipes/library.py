"""Recipes solved once for their full colour, and found again by colour."""

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.spatial import cKDTree

from shadecore.colour.appearance import colour_difference, lab_from_reflectance
from shadecore.film.table import FilmTable, film_table
from shadecore.film.two_flux import TwoFluxFilm
from shadecore.recipes.draw import BLOCK, Recipes, draw_recipes

LIBRARY_SIZE = 240_000
"""With a quarter of them picks cost a tenth of a coat more (validation, dE00 1.0);
with twice as many they are no better."""
LIBRARY_SEED = 20_261_125
NEIGHBOURS = 64
"""Recipes an answer rests on: fewer are noisy, more reach too far."""
BANDWIDTH_RANK = 16
"""The neighbour whose distance sets how fast weights fall off."""
SMALLEST_BANDWIDTH = 1.0
"""A colour reading is not surer than this. [CIEDE2000]"""


@dataclass(frozen=True)
class Neighbours:
    """Recipes near each of many colours.

    Attributes
    ----------
    index : array of int, shape (colours, neighbours)
        Places in the library.
    weight : array, shape (colours, neighbours)
        Weights, each row summing to 1.
    nearest : array, shape (colours,)
        Difference to the nearest recipe. [CIEDE2000]
    """

    index: NDArray[np.intp]
    weight: NDArray[np.float64]
    nearest: NDArray[np.float64]


class RecipeLibrary:
    """Plausible recipes with the colour each has when it hides.

    Parameters
    ----------
    recipes : Recipes
        The recipes.
    model : FilmTable or TwoFluxFilm
        The film's optics.

    Attributes
    ----------
    recipes : Recipes
        The recipes.
    model : FilmTable or TwoFluxFilm
        The film's optics.
    lab : array, shape (n, 3)
        L*, a*, b* of each recipe's film that hides.
    """

    def __init__(self, recipes: Recipes, model: FilmTable | TwoFluxFilm) -> None:
        self.recipes = recipes
        self.model = model
        self.lab = np.concatenate(
            [
                lab_from_reflectance(
                    model.masstone(
                        recipes.absorption[start : start + BLOCK],
                        recipes.scattering[start : start + BLOCK],
                    )
                )
                for start in range(0, len(recipes.absorption), BLOCK)
            ]
        )
        self._tree = cKDTree(self.lab)

    def near(self, lab: ArrayLike, count: int = NEIGHBOURS) -> Neighbours:
        """Find the recipes whose full colour is near given colours.

        Parameters
        ----------
        lab : array, shape (colours, 3)
            L*, a*, b* under the working condition.
        count : int
            How many for each colour.

        Returns
        -------
        Neighbours
        """
        wanted = np.asarray(lab, dtype=np.float64)
        _, index = self._tree.query(wanted, count, workers=-1)
        difference = colour_difference(
            self.lab[index], wanted[:, None, :].astype(self.lab.dtype)
        ).astype(np.float64)
        bandwidth = np.maximum(
            np.partition(difference, BANDWIDTH_RANK, axis=1)[:, BANDWIDTH_RANK],
            SMALLEST_BANDWIDTH,
        )
        weight = np.exp(-0.5 * (difference / bandwidth[:, None]) ** 2)
        return Neighbours(
            np.asarray(index),
            weight / weight.sum(axis=1, keepdims=True),
            difference.min(axis=1),
        )


@cache
def recipe_library() -> RecipeLibrary:
    """The library with exact films, drawn and solved at its first use.

    Returns
    -------
    RecipeLibrary
    """
    rng = np.random.default_rng(LIBRARY_SEED)
    return RecipeLibrary(draw_recipes(LIBRARY_SIZE, rng), film_table())
