"""Recipes solved once for their full colour, and found again by colour."""

from dataclasses import dataclass
from functools import cache, cached_property
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shadecore.colour.appearance import (
    WAVELENGTHS_NM,
    colour_difference,
    lab_from_reflectance,
)
from shadecore.film.table import FilmTable, film_table
from shadecore.film.two_flux import TwoFluxFilm
from shadecore.kept import kept_or_made
from shadecore.recipes.draw import BLOCK, Recipes, draw_recipes

if TYPE_CHECKING:
    from scipy.spatial import cKDTree

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
_FEW_COLOURS = 16
"""Up to so many, looking through all recipes is quicker than sorting them first."""


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
    kept : bool
        Whether it is the one whose solutions are worth keeping between runs.
    """

    def __init__(
        self,
        recipes: Recipes,
        model: FilmTable | TwoFluxFilm,
        lab: NDArray[np.floating] | None = None,
        *,
        kept: bool = False,
    ) -> None:
        self.recipes = recipes
        self.model = model
        self.lab = full_colours(recipes, model) if lab is None else lab
        self.kept = kept

    @cached_property
    def _tree(self) -> "cKDTree":
        from scipy.spatial import cKDTree  # noqa: PLC0415 - slow to load

        return cKDTree(self.lab)

    @cached_property
    def _columns(self) -> NDArray[np.float64]:
        """L*, a* and b* in rows of their own, which are added up twice as fast."""
        return np.ascontiguousarray(self.lab.T, dtype=np.float64)

    def _nearest(self, wanted: NDArray[np.float64], count: int) -> NDArray[np.intp]:
        """Places of the nearest recipes in CIELAB, the nearest first."""
        if len(wanted) > _FEW_COLOURS:
            return np.asarray(self._tree.query(wanted, count, workers=-1)[1])
        places = []
        for colour in wanted:
            apart = ((self._columns - colour[:, None]) ** 2).sum(axis=0)
            near = np.argpartition(apart, count - 1)[:count]
            places.append(near[np.argsort(apart[near], kind="stable")])
        return np.array(places)

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
        index = self._nearest(wanted, count)
        difference = colour_difference(
            self.lab[index], wanted[:, None, :].astype(self.lab.dtype)
        ).astype(np.float64)
        bandwidth = np.maximum(
            np.partition(difference, BANDWIDTH_RANK, axis=1)[:, BANDWIDTH_RANK],
            SMALLEST_BANDWIDTH,
        )
        weight = np.exp(-0.5 * (difference / bandwidth[:, None]) ** 2)
        return Neighbours(
            index,
            weight / weight.sum(axis=1, keepdims=True),
            difference.min(axis=1),
        )


def full_colours(
    recipes: Recipes, model: FilmTable | TwoFluxFilm
) -> NDArray[np.floating]:
    """Colours of recipes where they hide.

    Parameters
    ----------
    recipes : Recipes
        The recipes.
    model : FilmTable or TwoFluxFilm
        The film's optics.

    Returns
    -------
    array, shape (n, 3)
        L*, a*, b*.
    """
    k, s = recipes.absorption, recipes.scattering
    blocks = [slice(start, start + BLOCK) for start in range(0, len(k), BLOCK)]
    return np.concatenate(
        [lab_from_reflectance(model.masstone(k[rows], s[rows])) for rows in blocks]
    )


@cache
def recipe_library() -> RecipeLibrary:
    """The library with exact films, drawn and solved at its first use and then kept.

    Returns
    -------
    RecipeLibrary
    """
    model = film_table()

    def make() -> tuple[NDArray[np.float32], ...]:
        drawn = draw_recipes(LIBRARY_SIZE, np.random.default_rng(LIBRARY_SEED))
        lab = full_colours(drawn, model).astype(np.float32)
        return drawn.absorption, drawn.scattering, lab

    spectra = (LIBRARY_SIZE, WAVELENGTHS_NM.size)
    absorption, scattering, lab = kept_or_made(
        ("absorption", "scattering", "full-lab"),
        (spectra, spectra, (LIBRARY_SIZE, 3)),
        make,
    )
    return RecipeLibrary(Recipes(absorption, scattering), model, lab, kept=True)
