"""What is known of a paint from its colour: likely paints and their weights."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shadecore.colour.topcoat import Topcoat
from shadecore.recipes.library import RecipeLibrary

SPECTRAL_SPREAD = 0.25
"""Root mean square of log K/S between recipe and spectrum at which weight falls to 60
percent: about what a family's colorants scatter (``data/colorant-families.toml``)."""


RECIPE_DOUBT = 1.6
"""Recipes alone claim too soon that a film hides: on simulated paints a claim of 50
percent came true in 31 of a hundred, one of its 1.6th power in 47. Found with other
paints than those that figures are quoted for (``tests/validation``)."""


@dataclass(frozen=True)
class LikelyPaints:
    """Paints that one topcoat may be, each with its weight.

    Attributes
    ----------
    absorption, scattering : array, shape (paints, 31)
        K and S of the dry film. [1/um]
    weight : array, shape (paints,)
        Weights, summing to 1.
    nearest : float
        Difference from the topcoat to the nearest recipe. [CIEDE2000]
    basis : str
        What they are known from: ``colour``, ``spectrum``, ``photo`` or
        ``test card``.
    doubt : float
        Power that their probabilities are raised to; see ``RECIPE_DOUBT``.
    """

    absorption: NDArray[np.float32]
    scattering: NDArray[np.float32]
    weight: NDArray[np.float64]
    nearest: float
    basis: str = "colour"
    doubt: float = RECIPE_DOUBT


def likely_paints(topcoat: Topcoat, library: RecipeLibrary) -> LikelyPaints:
    """Find the paints that a topcoat may be.

    A spectrum fixes K/S at every wavelength and leaves only S to the recipes; a Lab
    value leaves both.

    Parameters
    ----------
    topcoat : Topcoat
        The colour.
    library : RecipeLibrary
        Plausible recipes.

    Returns
    -------
    LikelyPaints
    """
    near = library.near(np.array([topcoat.lab]))
    index, weight = near.index[0], near.weight[0]
    absorption = library.recipes.absorption[index]
    scattering = library.recipes.scattering[index]
    if topcoat.reflectance is None:
        return LikelyPaints(absorption, scattering, weight, float(near.nearest[0]))
    measured = library.model.absorption_to_scattering(np.array(topcoat.reflectance))
    recipe = np.maximum(absorption / scattering, np.finfo(np.float32).tiny)
    apart = np.log(recipe) - np.log(np.maximum(measured, np.finfo(np.float32).tiny))
    mismatch = np.sqrt(np.mean(apart**2, axis=1)) / SPECTRAL_SPREAD
    # Measured from the best one, so that a poor match all round still leaves weights.
    likeness = weight * np.exp(-0.5 * (mismatch**2 - mismatch.min() ** 2))
    return LikelyPaints(
        (scattering * measured).astype(np.float32),
        scattering,
        likeness / likeness.sum(),
        float(near.nearest[0]),
        "spectrum",
    )
