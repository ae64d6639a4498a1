"""The two-flux paint film in closed form.

All reflectances here are inside the film; :mod:`shadecore.colour.surface` carries
them to a reading in air.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shadecore.colour.surface import Surface, directional
from shadecore.film.ladder import ladder_um


class FilmTerms(NamedTuple):
    """A film over any Lambertian backing: ``R = over_black + through * Rg / (1 - below * Rg)``.

    Attributes
    ----------
    over_black : array
        Reflectance over a backing that reflects nothing.
    through : array
        Product of the two transmittances, down to the backing and up to the viewer.
    below : array
        Reflectance of the film for light coming up from the backing.
    """  # noqa: E501 - the equation stays on one line

    over_black: NDArray[np.floating]
    through: NDArray[np.floating]
    below: NDArray[np.floating]

    def over(self, backing: ArrayLike) -> NDArray[np.floating]:
        """Reflectance over a backing.

        Parameters
        ----------
        backing : array
            Reflectance of the backing seen from inside the film, 0..1.
        """
        rg = np.asarray(backing)
        return np.asarray(self.over_black + self.through * rg / (1.0 - self.below * rg))


def masstone_reflectance(
    absorption: ArrayLike, scattering: ArrayLike
) -> NDArray[np.float64]:
    """Reflectance of a film thick enough to hide, ``a - b``.

    Parameters
    ----------
    absorption, scattering : array
        K and S, zero or more, in the same unit. S = 0 reflects nothing.

    Returns
    -------
    array
        Reflectance inside the film, 0..1.

    References
    ----------
    .. [1] P. Kubelka and F. Munk, Z. Tech. Phys. 12 (1931) 593.
    """
    k = np.asarray(absorption, dtype=np.float64)
    s = np.asarray(scattering, dtype=np.float64)
    # s / (k + s + sqrt(k (k + 2 s))) is a - b without its cancellation at large K/S.
    root = k + s + np.sqrt(k * (k + 2.0 * s))
    return np.divide(s, root, out=np.zeros_like(root), where=root > 0.0)


def absorption_to_scattering(masstone: ArrayLike) -> NDArray[np.float64]:
    """K/S of a film that hides, from its reflectance: ``K/S = (1 - R)**2 / (2 R)``.

    Parameters
    ----------
    masstone : array
        Reflectance inside the film, above 0 and up to 1.

    Returns
    -------
    array, same shape

    References
    ----------
    .. [1] P. Kubelka and F. Munk, Z. Tech. Phys. 12 (1931) 593.
    """
    r = np.asarray(masstone, dtype=np.float64)
    return np.asarray((1.0 - r) ** 2 / (2.0 * r))


def film_terms(
    absorption: ArrayLike, scattering: ArrayLike, dry_film_um: ArrayLike
) -> FilmTerms:
    """The film's reflectance over black and its transmittance.

    Parameters
    ----------
    absorption, scattering : array
        K and S of the dry film, zero or more. [1/um]
    dry_film_um : array
        Dry film thickness, zero or more. [um]

    Returns
    -------
    FilmTerms
        Inside the film; ``below`` equals ``over_black``.

    References
    ----------
    .. [1] P. Kubelka, "New contributions to the optics of intensely
       light-scattering materials, part I", J. Opt. Soc. Am. 38 (1948) 448.
    """
    k = np.asarray(absorption, dtype=np.float64)
    s = np.asarray(scattering, dtype=np.float64)
    x = np.asarray(dry_film_um, dtype=np.float64)
    decay = np.sqrt(k * (k + 2.0 * s))
    # Written with 1 - exp(-2 decay x), so that thick films do not overflow and a film
    # without absorption (decay = 0) keeps its limit S x / (1 + S x).
    faded = np.exp(-decay * x)
    loss = -np.expm1(-2.0 * decay * x)
    safe = np.where(decay > 0.0, decay, 1.0)
    slope = np.where(decay > 0.0, loss / safe, 2.0 * x)
    bottom = (k + s) * slope + 2.0 - loss
    over_black = s * slope / bottom
    transmitted = 2.0 * faded / bottom
    return FilmTerms(over_black, transmitted**2, over_black)


def film_reflectance(
    absorption: ArrayLike,
    scattering: ArrayLike,
    dry_film_um: ArrayLike,
    backing: ArrayLike,
) -> NDArray[np.floating]:
    """Reflectance inside a paint film over a backing.

    Parameters
    ----------
    absorption, scattering : array, shape (..., wavelengths)
        K and S of the dry film, zero or more. [1/um]
    dry_film_um : array broadcastable to (..., wavelengths)
        Dry film thickness, zero or more. [um]
    backing : array, shape (..., wavelengths)
        Reflectance of the backing seen from inside the film, 0..1.

    Returns
    -------
    array, shape (..., wavelengths)

    References
    ----------
    .. [1] P. Kubelka, J. Opt. Soc. Am. 38 (1948) 448.

    Examples
    --------
    >>> float(film_reflectance(0.0, 1.0, 1.0, 0.2))
    0.5555556
    """
    return film_terms(absorption, scattering, dry_film_um).over(backing)


class TwoFluxFilm:
    """The two-flux film as a film model for the engine.

    Faster than the exact film, but predicts that paints hide with less film than they
    need (see Decisions in ``DEVELOPERS.md``).

    Parameters
    ----------
    surface : Surface, optional
        How the reading is taken; 45/0 unless given.
    """

    def __init__(self, surface: Surface | None = None) -> None:
        self.surface = directional() if surface is None else surface

    def masstone(
        self, absorption: NDArray[np.floating], scattering: NDArray[np.floating]
    ) -> NDArray[np.floating]:
        """Reading in air of a film thick enough to hide.

        Parameters
        ----------
        absorption, scattering : array
            K and S, in the same unit.
        """
        return self.surface.measured(masstone_reflectance(absorption, scattering))

    def absorption_to_scattering(
        self, masstone: NDArray[np.floating]
    ) -> NDArray[np.floating]:
        """K/S of a film that hides, from its reading in air.

        Parameters
        ----------
        masstone : array
            Reading, 0..1.

        Returns
        -------
        array, same shape
        """
        inside = np.maximum(self.surface.inside(masstone), np.finfo(np.float32).eps)
        return absorption_to_scattering(inside)

    def terms(
        self,
        absorption: NDArray[np.floating],
        scattering: NDArray[np.floating],
        dry_film_um: NDArray[np.floating],
    ) -> FilmTerms:
        """Reading in air of a film over any backing.

        Parameters
        ----------
        absorption, scattering : array, shape (..., wavelengths)
            K and S of the dry film. [1/um]
        dry_film_um : array, shape (films,)
            Dry film thicknesses. [um]

        Returns
        -------
        FilmTerms
            Arrays of shape (..., films, wavelengths).
        """
        film = film_terms(
            absorption[..., None, :],
            scattering[..., None, :],
            np.asarray(dry_film_um)[:, None],
        )
        k2 = self.surface.returned
        out = 1.0 - k2 * film.over_black
        return FilmTerms(
            self.surface.mirror + self.surface.through * film.over_black / out,
            self.surface.through * film.through / out**2,
            film.below + k2 * film.through / out,
        )

    def ladder(
        self,
        absorption: NDArray[np.floating],
        scattering: NDArray[np.floating],
        first_um: float,
        films: int,
    ) -> FilmTerms:
        """The same as :meth:`terms` for films that grow by ``LADDER_STEP``.

        Parameters
        ----------
        absorption, scattering : array, shape (paints, wavelengths)
            K and S of the dry film. [1/um]
        first_um : float
            The thinnest film. [um]
        films : int
            How many.

        Returns
        -------
        FilmTerms
            Arrays of shape (paints, films, wavelengths).
        """
        return self.terms(absorption, scattering, ladder_um(first_um, films))
