"""What is known of a solid paint from its colour: likely paints and their weights."""

from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.film_model import FilmModel
from shadecore.coats.loading import Loading
from shadecore.coats.paints import FACE_DEG
from shadecore.colour.appearance import lab_from_reflectance
from shadecore.colour.topcoat import Topcoat
from shadecore.film.ladder import is_ladder
from shadecore.film.table import LONGEST_LADDER, film_table
from shadecore.film.two_flux import FilmTerms
from shadecore.recipes.library import RecipeLibrary

SPECTRAL_SPREAD = 0.25
"""Root mean square of log K/S between recipe and spectrum at which weight falls to 60
percent: about what a family's colorants scatter (``data/colorant-families.toml``)."""


@dataclass(frozen=True, eq=False)
class LikelyPaints:
    """Solid paints that one topcoat may be, each with its weight.

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
    loading : Loading or None
        How heavily they are loaded, where that is known with them.
    recipes : array of int, shape (paints,), or None
        Their places in ``library``, where they are its recipes as they stand.
    library : RecipeLibrary or None
        The library they are from.
    model : FilmModel
        The film's optics.
    """

    absorption: NDArray[np.float32]
    scattering: NDArray[np.float32]
    weight: NDArray[np.float64]
    nearest: float
    basis: str = "colour"
    loading: Loading | None = None
    recipes: NDArray[np.intp] | None = None
    library: RecipeLibrary | None = None
    model: FilmModel = field(default_factory=film_table)

    @property
    def angles(self) -> tuple[float, ...]:
        """A solid colour looks the same from everywhere, so one angle serves."""
        return (FACE_DEG,)

    def only(self, place: int) -> "LikelyPaints":
        """One of the paints alone, with all the weight.

        Parameters
        ----------
        place : int
            Which.

        Returns
        -------
        LikelyPaints
        """
        row = slice(place, place + 1)
        return replace(
            self,
            absorption=self.absorption[row],
            scattering=self.scattering[row],
            weight=np.ones(1),
            recipes=None if self.recipes is None else self.recipes[row],
        )

    def full_reflectance(self) -> NDArray[np.floating]:
        """Reflectance of the films that hide, shape (paints, 31)."""
        return self.model.masstone(self.absorption, self.scattering)

    def full_lab(self) -> NDArray[np.floating]:
        """Colour of the films that hide, shape (paints, 1, 3)."""
        return lab_from_reflectance(self.full_reflectance())[:, None]

    def lab_over(
        self, backing: NDArray[np.floating], dry_film_um: NDArray[np.floating]
    ) -> NDArray[np.floating]:
        """Colour of films over undercoats.

        Parameters
        ----------
        backing : array, shape (undercoats, 31)
            Reflectance seen from inside the film, 0..1.
        dry_film_um : array, shape (films,)
            Dry films. [um]

        Returns
        -------
        array, shape (paints, undercoats, films, 1, 3)
        """
        terms = self._terms(np.asarray(dry_film_um))
        under = np.asarray(backing).astype(terms.over_black.dtype)
        lab = [lab_from_reflectance(terms.over(spectrum)) for spectrum in under]
        return np.stack(lab, axis=1)[..., None, :]

    def _terms(self, films_um: NDArray[np.floating]) -> FilmTerms:
        if is_ladder(films_um) and films_um.size <= LONGEST_LADDER:
            return self.model.ladder(
                self.absorption, self.scattering, float(films_um[0]), films_um.size
            )
        return self.model.terms(
            self.absorption, self.scattering, films_um.astype(np.float32)
        )


def library_paints(
    library: RecipeLibrary,
    recipes: NDArray[np.intp],
    weight: NDArray[np.float64],
    nearest: float,
    basis: str = "colour",
) -> LikelyPaints:
    """Recipes of the library as likely paints.

    Parameters
    ----------
    library : RecipeLibrary
        Plausible recipes.
    recipes : array of int, shape (paints,)
        Their places in it.
    weight : array, shape (paints,)
        Weights, summing to 1.
    nearest : float
        Difference from the topcoat to the nearest recipe. [CIEDE2000]
    basis : str
        What they are known from.

    Returns
    -------
    LikelyPaints
    """
    return LikelyPaints(
        library.recipes.absorption[recipes],
        library.recipes.scattering[recipes],
        weight,
        nearest,
        basis,
        recipes=recipes,
        library=library,
        model=library.model,
    )


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
    nearest = float(near.nearest[0])
    if topcoat.reflectance is None:
        return library_paints(library, index, weight, nearest)
    absorption = library.recipes.absorption[index]
    scattering = library.recipes.scattering[index]
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
        nearest,
        "spectrum",
        model=library.model,
    )
