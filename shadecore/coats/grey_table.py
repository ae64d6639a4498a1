"""Hiding thicknesses of the library's recipes over greys, solved once and kept.

For one paint the logarithm of its hiding thickness is a tame function of a grey's L*,
so a few greys serve every grey on any shelf; film, loading and records come in later.
"""

from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.contrast import LN_FILMS, contrast_of_solids
from shadecore.coats.solved_rows import SolvedRows
from shadecore.coats.thickness import ln_thickness_of_solids
from shadecore.colour.appearance import (
    WAVELENGTHS_NM,
    lab_from_reflectance,
    neutral_reflectance,
)
from shadecore.colour.surface import directional
from shadecore.recipes.library import RecipeLibrary

KNOTS: Final = np.array([0.0, 8.0, *np.arange(15.0, 101.0, 5.0)])
"""L* of the greys; linear between them a hiding thickness is off by 1 percent."""
KEPT_TOLERANCES: Final = (1.0, 2.0)
"""Tolerances whose tables are kept; others are solved as they are asked for."""
_FLAT: Final = 1e-4


class GreyTable:
    """Hiding thicknesses of one library's recipes at one tolerance.

    Parameters
    ----------
    library : RecipeLibrary
        The recipes.
    tolerance : float
        [CIEDE2000]
    """

    def __init__(self, library: RecipeLibrary, tolerance: float) -> None:
        model = library.model

        def solve(
            absorption: NDArray[np.float32], scattering: NDArray[np.float32]
        ) -> NDArray[np.float32]:
            return ln_thickness_of_solids(
                absorption, scattering, inside_greys(KNOTS), tolerance, model
            )

        kept = tolerance in KEPT_TOLERANCES
        name = f"ln-thickness-{tolerance:g}" if kept else None
        self._rows = SolvedRows(library, KNOTS.size, solve, name)

    def over(
        self, recipes: NDArray[np.intp], lightness: NDArray[np.floating]
    ) -> NDArray[np.float32]:
        """Hiding thicknesses over greys.

        Parameters
        ----------
        recipes : array of int, shape (paints,)
            Places in the library.
        lightness : array, shape (greys,)
            L* of the greys as read on a smooth surface, 0..100.

        Returns
        -------
        array, shape (paints, greys)
            ln of um.
        """
        rows = self._rows.of(recipes)
        low = np.clip(np.searchsorted(KNOTS, lightness) - 1, 0, KNOTS.size - 2)
        part = (lightness - KNOTS[low]) / (KNOTS[low + 1] - KNOTS[low])
        part = part.astype(np.float32)
        return np.asarray(rows[:, low] * (1 - part) + rows[:, low + 1] * part)

    def keep(self) -> None:
        """Write what was solved, where there is enough of it."""
        self._rows.keep()


@lru_cache(maxsize=6)
def grey_table(library: RecipeLibrary, tolerance: float) -> GreyTable:
    """The table of a library at a tolerance.

    Parameters
    ----------
    library : RecipeLibrary
        The recipes.
    tolerance : float
        [CIEDE2000]

    Returns
    -------
    GreyTable
    """
    return GreyTable(library, tolerance)


@lru_cache(maxsize=2)
def contrast_table(library: RecipeLibrary) -> SolvedRows:
    """Contrast ratios of a library's recipes, on the films of ``LN_FILMS``.

    Parameters
    ----------
    library : RecipeLibrary
        The recipes.

    Returns
    -------
    SolvedRows
    """
    model = library.model

    def solve(
        absorption: NDArray[np.float32], scattering: NDArray[np.float32]
    ) -> NDArray[np.float32]:
        return contrast_of_solids(absorption, scattering, model)

    return SolvedRows(library, LN_FILMS.size, solve, "contrast")


def inside_greys(lightness: NDArray[np.floating]) -> NDArray[np.float32]:
    """Smooth greys as the film on top of them sees them.

    Parameters
    ----------
    lightness : array, shape (greys,)
        L* as read.

    Returns
    -------
    array, shape (greys, 31)
        0..1.
    """
    inside = directional().inside(neutral_reflectance(lightness))
    return np.repeat(inside[:, None], WAVELENGTHS_NM.size, axis=1).astype(np.float32)


def grey_lightness(backing: NDArray[np.floating]) -> NDArray[np.float64]:
    """L* of greys on a smooth surface, from what the film on top of them sees.

    Parameters
    ----------
    backing : array, shape (undercoats, 31)
        Seen from inside the film, 0..1.

    Returns
    -------
    array, shape (undercoats,)
        NaN for those that are no flat greys.
    """
    in_air = directional().measured(backing)
    lightness = lab_from_reflectance(in_air)[:, 0].astype(np.float64)
    return np.where(np.ptp(backing, axis=1) < _FLAT, np.clip(lightness, 0, 100), np.nan)
