"""Answers for many topcoats at once, as arrays."""

from collections.abc import Callable
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shadecore.coats.answer import Picks
from shadecore.coats.count import (
    closest_in_lightness,
    count_coats,
    join_counts,
    rank,
    weighted_quantile,
)
from shadecore.coats.course import coats_to_hide, course
from shadecore.coats.estimate import RECIPE_DOUBT
from shadecore.coats.hiding import contrast_ratio
from shadecore.coats.settings import Settings
from shadecore.colour.convert import lab_from_lab
from shadecore.errors import ColourError
from shadecore.recipes.library import RecipeLibrary, recipe_library
from shadecore.undercoats.shelf import Shelf, check_shelf, inside_film

_RECIPES_AT_ONCE = 256
"""Recipes solved together; their films stay within some 50 MB."""
_COLOURS_AT_ONCE = 4096
_ROWS_OF_COORDINATES = 2


def pick_many(
    lab: ArrayLike,
    undercoats: Shelf,
    settings: Settings | None = None,
    library: RecipeLibrary | None = None,
    progress: Callable[[float], None] | None = None,
) -> Picks:
    """Pick undercoats for many topcoats known by their Lab.

    Parameters
    ----------
    lab : array, shape (colours, 3)
        L*, a*, b* under the working condition.
    undercoats : tuple of Undercoat
        What to choose from.
    settings : Settings, optional
        Tolerance, film and limits.
    library : RecipeLibrary, optional
        Plausible recipes.
    progress : callable, optional
        Called with the share done, 0..1.

    Returns
    -------
    Picks

    Raises
    ------
    ColourError
        If they are not such an array of colours.
    ShelfError
        If the shelf is empty or two undercoats share a name.
    """
    settings = settings or Settings()
    library = library or recipe_library()
    colours = lab_from_lab(lab)
    if colours.ndim != _ROWS_OF_COORDINATES or not len(colours):
        message = "Give colours as rows of L*, a* and b*, at least one."
        raise ColourError(message)
    near = library.near(colours)
    used, place = np.unique(near.index, return_inverse=True)
    place = place.reshape(near.index.shape)
    solved = _solve_recipes(
        used, inside_film(check_shelf(undercoats)), settings, library, progress
    )
    blocks = [
        slice(start, start + _COLOURS_AT_ONCE)
        for start in range(0, len(colours), _COLOURS_AT_ONCE)
    ]
    counts = join_counts(
        [
            count_coats(
                solved.coats[place[rows]],
                solved.left[place[rows]],
                near.weight[rows],
                settings.coat_cap,
                RECIPE_DOUBT,
            )
            for rows in blocks
        ]
    )
    ratio = [
        weighted_quantile(solved.contrast_ratio[place[rows]], near.weight[rows], 0.5)
        for rows in blocks
    ]
    return Picks(
        counts,
        rank(counts, colours[:, 0], undercoats),
        closest_in_lightness(colours[:, 0], undercoats),
        np.concatenate(ratio),
        near.nearest,
    )


class _Solved(NamedTuple):
    """Recipes over undercoats: coats, difference left at the cap, contrast ratio."""

    coats: NDArray[np.uint8]
    left: NDArray[np.float32]
    contrast_ratio: NDArray[np.float32]


def _solve_recipes(
    used: NDArray[np.intp],
    backing: NDArray[np.float32],
    settings: Settings,
    library: RecipeLibrary,
    progress: Callable[[float], None] | None,
) -> _Solved:
    """Follow each recipe once, however many colours it stands for."""
    solved = _Solved(
        np.empty((used.size, len(backing)), dtype=np.uint8),
        np.empty((used.size, len(backing)), dtype=np.float32),
        np.empty(used.size, dtype=np.float32),
    )
    for start in range(0, used.size, _RECIPES_AT_ONCE):
        rows = slice(start, start + _RECIPES_AT_ONCE)
        absorption = library.recipes.absorption[used[rows]]
        scattering = library.recipes.scattering[used[rows]]
        run = course(absorption, scattering, backing, settings.films_um, library.model)
        solved.coats[rows] = coats_to_hide(run.difference, settings.tolerance)
        solved.left[rows] = run.difference[..., -1]
        solved.contrast_ratio[rows] = contrast_ratio(
            absorption, scattering, settings.hiding_film_um, library.model
        )
        if progress is not None:
            progress(min(start + _RECIPES_AT_ONCE, used.size) / used.size)
    return solved
