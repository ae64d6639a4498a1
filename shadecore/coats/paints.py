"""What the counts need of the paints that a topcoat may be, solid or with flakes."""

from typing import Protocol, Self

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.loading import Loading

FACE_DEG = 45.0
"""Degrees from the mirror direction at which a solid colour is read (45/0)."""


class Paints(Protocol):
    """Paints that one topcoat may be, each with its weight.

    Attributes
    ----------
    weight : array, shape (paints,)
        Weights, summing to 1.
    nearest : float
        Difference from the topcoat to the nearest of them. [CIEDE2000]
    basis : str
        What they are known from: ``colour``, ``spectrum``, ``photo`` or
        ``test card``.
    angles : tuple of float
        Degrees from the mirror direction at which they are looked at; one for solids.
    loading : Loading or None
        How heavily they are loaded, where that is known with them; None where it is
        the question's.
    """

    @property
    def weight(self) -> NDArray[np.float64]:
        """Weights, summing to 1, shape (paints,)."""
        ...

    @property
    def nearest(self) -> float:
        """Difference from the topcoat to the nearest of them. [CIEDE2000]."""
        ...

    @property
    def basis(self) -> str:
        """What they are known from."""
        ...

    @property
    def angles(self) -> tuple[float, ...]:
        """Degrees from the mirror direction."""
        ...

    @property
    def loading(self) -> Loading | None:
        """How heavily they are loaded, where that is known with them."""
        ...

    def only(self, place: int) -> Self:
        """One of the paints alone, with all the weight.

        Parameters
        ----------
        place : int
            Which.

        Returns
        -------
        Paints
        """
        ...

    def full_lab(self) -> NDArray[np.floating]:
        """Colour of the films that hide, shape (paints, angles, 3)."""
        ...

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
        array, shape (paints, undercoats, films, angles, 3)
        """
        ...


def face(paints: Paints) -> int:
    """Place of the angle at which a colour is looked at squarely.

    Parameters
    ----------
    paints : Paints
        The paints.

    Returns
    -------
    int
    """
    return int(np.argmin(np.abs(np.array(paints.angles) - FACE_DEG)))
