"""Something solved of each of the library's recipes when it is first asked for."""

from collections.abc import Callable
from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.kept import keep_array, kept_array
from shadecore.recipes.library import RecipeLibrary

Solve = Callable[[NDArray[np.float32], NDArray[np.float32]], NDArray[np.float32]]

_WORTH_KEEPING: Final = 4096
"""Recipes newly solved from which the rows are written again."""


class SolvedRows:
    """A row of numbers for each recipe of a library.

    Parameters
    ----------
    library : RecipeLibrary
        The recipes.
    columns : int
        Numbers in a row.
    solve : callable
        Works rows out from K and S of some recipes.
    name : str or None
        What they are kept under between runs; None for not at all.
    """

    def __init__(
        self, library: RecipeLibrary, columns: int, solve: Solve, name: str | None
    ) -> None:
        self._library = library
        self._solve = solve
        self._name = name if library.kept else None
        shape = (len(library.lab), columns)
        found = None if self._name is None else kept_array(self._name, shape)
        self._rows = np.full(shape, np.nan, np.float32) if found is None else found
        self._new = 0

    def of(self, recipes: NDArray[np.intp]) -> NDArray[np.float32]:
        """Rows of some recipes.

        Parameters
        ----------
        recipes : array of int, shape (paints,)
            Places in the library.

        Returns
        -------
        array, shape (paints, columns)
        """
        found = self._rows[recipes]
        missing = np.unique(recipes[np.isnan(found[:, 0])])
        if not missing.size:
            return found
        own = self._library.recipes
        self._rows[missing] = self._solve(
            own.absorption[missing], own.scattering[missing]
        )
        self._new += missing.size
        return self._rows[recipes]

    def keep(self) -> None:
        """Write the rows, where enough is new in them."""
        if self._name is not None and self._new >= _WORTH_KEEPING:
            keep_array(self._name, self._rows)
            self._new = 0
