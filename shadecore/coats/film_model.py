"""What the counts need of the film's optics."""

from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from shadecore.film.two_flux import FilmTerms


class FilmModel(Protocol):
    """Anything that solves paint films, read in air at 45/0."""

    def masstone(
        self, absorption: NDArray[np.floating], scattering: NDArray[np.floating]
    ) -> NDArray[np.floating]:
        """Reading of a film thick enough to hide."""
        ...

    def terms(
        self,
        absorption: NDArray[np.floating],
        scattering: NDArray[np.floating],
        dry_film_um: NDArray[np.floating],
    ) -> FilmTerms:
        """Reading of a film over any backing."""
        ...

    def ladder(
        self,
        absorption: NDArray[np.floating],
        scattering: NDArray[np.floating],
        first_um: float,
        films: int,
    ) -> FilmTerms:
        """The same for films that grow by ``LADDER_STEP`` from the first."""
        ...

    def absorption_to_scattering(
        self, masstone: NDArray[np.floating]
    ) -> NDArray[np.floating]:
        """K/S of a film thick enough to hide, from its reading."""
        ...
