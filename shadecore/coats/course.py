"""What each coat does: the film's colour over each undercoat, coat by coat."""

from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from shadecore.colour.appearance import colour_difference, lab_from_reflectance
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

    def absorption_to_scattering(
        self, masstone: NDArray[np.floating]
    ) -> NDArray[np.floating]:
        """K/S of a film thick enough to hide, from its reading."""
        ...


@dataclass(frozen=True)
class Course:
    """Films growing coat by coat.

    Attributes
    ----------
    lab : array, shape (paints, undercoats, coats, 3)
        Colour after each coat.
    full_lab : array, shape (paints, 3)
        Colour of the film that hides.
    difference : array, shape (paints, undercoats, coats)
        CIEDE2000 between the two.
    """

    lab: NDArray[np.floating]
    full_lab: NDArray[np.floating]
    difference: NDArray[np.floating]


def course(
    absorption: NDArray[np.floating],
    scattering: NDArray[np.floating],
    undercoats: NDArray[np.floating],
    dry_film_um: NDArray[np.floating],
    model: FilmModel,
) -> Course:
    """Follow films over undercoats.

    Parameters
    ----------
    absorption, scattering : array, shape (paints, 31)
        K and S of the dry film. [1/um]
    undercoats : array, shape (undercoats, 31)
        Reflectance seen from inside the film, 0..1.
    dry_film_um : array, shape (coats,)
        Dry film after each coat. [um]
    model : FilmModel
        The film's optics.

    Returns
    -------
    Course
    """
    terms = model.terms(absorption, scattering, dry_film_um)
    full = lab_from_reflectance(model.masstone(absorption, scattering))
    backing = undercoats.astype(terms.over_black.dtype)
    lab = np.stack(
        [lab_from_reflectance(terms.over(spectrum)) for spectrum in backing], axis=1
    )
    difference = colour_difference(lab, full[:, None, None, :])
    return Course(lab, full, difference)


def coats_to_hide(
    difference: NDArray[np.floating], tolerance: float
) -> NDArray[np.uint8]:
    """Smallest number of coats from which the difference stays inside a tolerance.

    The first coat that touches it does not count: a film can pass through the right
    colour on its way from too light to too dark.

    Parameters
    ----------
    difference : array, shape (..., coats)
        CIEDE2000 to the full colour after each coat.
    tolerance : float
        CIEDE2000 that counts as hidden.

    Returns
    -------
    array of int, shape (...)
        1 up to the number of coats; one more where it never hides within them.

    Examples
    --------
    >>> coats_to_hide(np.array([[3.0, 0.9, 1.4, 0.7], [3.0, 2.5, 2.2, 2.0]]), 1.0)
    array([4, 5], dtype=uint8)
    """
    outside = difference > tolerance
    last = difference.shape[-1]
    still_to_go = last - np.argmax(outside[..., ::-1], axis=-1)
    return np.where(outside.any(axis=-1), still_to_go, 0).astype(np.uint8) + np.uint8(1)
