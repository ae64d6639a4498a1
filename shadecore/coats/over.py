"""Hiding thicknesses of likely paints over undercoats, looked up where they can be."""

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.estimate import LikelyPaints
from shadecore.coats.grey_table import grey_lightness, grey_table
from shadecore.coats.paints import Paints
from shadecore.coats.thickness import ln_thickness, ln_thickness_of_solids
from shadecore.recipes.library import RecipeLibrary


def ln_thickness_over(
    paints: Paints, backing: NDArray[np.floating], tolerance: float
) -> NDArray[np.floating]:
    """Logarithm of the film from which each paint hides each undercoat.

    Parameters
    ----------
    paints : Paints
        The paints.
    backing : array, shape (undercoats, 31)
        Undercoats seen from inside the film, 0..1.
    tolerance : float
        Difference to the full colour that counts as hidden. [CIEDE2000]

    Returns
    -------
    array, shape (paints, undercoats)
        ln of um.
    """
    if (
        isinstance(paints, LikelyPaints)
        and paints.recipes is not None
        and paints.library is not None
    ):
        return ln_thickness_of_recipes(
            paints.library, paints.recipes, backing, tolerance
        )
    return ln_thickness(paints, backing, tolerance)


def ln_thickness_of_recipes(
    library: RecipeLibrary,
    recipes: NDArray[np.intp],
    backing: NDArray[np.floating],
    tolerance: float,
) -> NDArray[np.float32]:
    """The same for recipes of the library: greys are looked up, colours solved.

    Parameters
    ----------
    library : RecipeLibrary
        Plausible recipes.
    recipes : array of int, shape (paints,)
        Places in it.
    backing : array, shape (undercoats, 31)
        Undercoats seen from inside the film, 0..1.
    tolerance : float
        Difference to the full colour that counts as hidden. [CIEDE2000]

    Returns
    -------
    array, shape (paints, undercoats)
        ln of um.
    """
    lightness = grey_lightness(backing)
    grey = np.isfinite(lightness)
    found = np.empty((recipes.size, len(backing)), dtype=np.float32)
    if grey.any():
        table = grey_table(library, tolerance)
        found[:, grey] = table.over(recipes, lightness[grey])
    if not grey.all():
        found[:, ~grey] = ln_thickness_of_solids(
            library.recipes.absorption[recipes],
            library.recipes.scattering[recipes],
            backing[~grey],
            tolerance,
            library.model,
        )
    return found
