"""One film to look at: the likely paint that behaves as the estimate says.

An estimate's middles belong to no single paint: the mean of the colours after a coat,
the middle of the differences and the middle count come from different ones and do not
fit together. What is watched growing coat by coat must be one film.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.count import Counts
from shadecore.coats.course import FilmModel, coats_to_hide
from shadecore.coats.estimate import LikelyPaints, likely_paints
from shadecore.coats.over import follow
from shadecore.coats.settings import Settings
from shadecore.colour.appearance import colour_difference
from shadecore.colour.topcoat import Topcoat
from shadecore.recipes.library import RecipeLibrary
from shadecore.undercoats.shelf import Shelf


@dataclass(frozen=True, eq=False)
class TypicalFilm:
    """The likely paint whose coats to hide come nearest to the estimate's.

    Attributes
    ----------
    paints : LikelyPaints
        All likely paints.
    place : int
        Which of them it is.
    counts : Counts
        The estimate for one colour over the undercoats.
    lab : array, shape (undercoats, coats, 3)
        Its colour after each coat, moved so that the full film is the topcoat.
    model : FilmModel
        The film's optics.
    """

    paints: LikelyPaints
    place: int
    counts: Counts
    lab: NDArray[np.floating]
    model: FilmModel

    @property
    def absorption(self) -> NDArray[np.float32]:
        """K of the dry film in 1/um, shape (1, 31)."""
        return self.paints.absorption[self.place : self.place + 1]

    @property
    def scattering(self) -> NDArray[np.float32]:
        """S of the dry film in 1/um, shape (1, 31)."""
        return self.paints.scattering[self.place : self.place + 1]


def typical_film(
    topcoat: Topcoat,
    undercoats: Shelf,
    settings: Settings,
    library: RecipeLibrary,
    paints: LikelyPaints | None = None,
) -> TypicalFilm:
    """Choose the film to look at.

    Parameters
    ----------
    topcoat : Topcoat
        The colour.
    undercoats : tuple of Undercoat
        What the film is sprayed over.
    settings : Settings
        Film, tolerance and cap.
    library : RecipeLibrary
        Plausible recipes.
    paints : LikelyPaints, optional
        What a test card says the paint is; worked out from the colour unless given.

    Returns
    -------
    TypicalFilm
        Of equally near paints the likeliest.
    """
    likely = paints or likely_paints(topcoat, library)
    run, counts = follow(likely, undercoats, settings, library.model)
    lab = np.array(topcoat.lab) + run.lab - run.full_lab[:, None, None, :]
    coats = coats_to_hide(colour_difference(lab, topcoat.lab), settings.tolerance)
    miss = np.abs(coats.astype(np.intp) - counts.coats[0]).sum(axis=1)
    place = int(np.lexsort((-likely.weight, miss))[0])
    return TypicalFilm(likely, place, counts, lab[place], library.model)
