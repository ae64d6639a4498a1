"""The smooth surface between a paint film and air.

Light crossing it is partly reflected, so a reflectance measured in air is not the
reflectance inside the film. Readings are carried to one geometry, 45/0: lit at 45
degrees, viewed at 0 degrees, which leaves the mirror reflection out.
"""

from functools import cache
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

REFRACTIVE_INDEX = 1.5
"""Paint binder; common practice, no source (references usually take 1.48 to 1.55)."""

LIT_AT_DEG = 45.0
VIEWED_AT_DEG = 0.0
"""The 45/0 geometry, ISO 13655 and ASTM E1349 (from memory)."""
_QUADRATURE_POINTS = 200
"""Enough that the integral no longer changes in double precision."""


def fresnel_reflectance(
    cosine_outside: ArrayLike, index: float = REFRACTIVE_INDEX
) -> NDArray[np.float64]:
    """Reflectance of a smooth surface for unpolarised light coming from air.

    Parameters
    ----------
    cosine_outside : array
        Cosine of the angle of incidence in air, 0..1.
    index : float
        Refractive index of the film.

    Returns
    -------
    array, same shape
        Reflectance, 0..1.

    References
    ----------
    .. [1] M. Born and E. Wolf, "Principles of Optics", section 1.5.2 (Fresnel).
    """
    outside = np.asarray(cosine_outside, dtype=np.float64)
    inside = np.sqrt(1.0 - (1.0 - outside**2) / index**2)
    across = (outside - index * inside) / (outside + index * inside)
    along = (index * outside - inside) / (index * outside + inside)
    return np.asarray(0.5 * (across**2 + along**2))


def cosine_inside(
    cosine_outside: ArrayLike, index: float = REFRACTIVE_INDEX
) -> NDArray[np.float64]:
    """Cosine of the refracted ray inside the film (Snell's law).

    Parameters
    ----------
    cosine_outside : array
        Cosine of the angle in air, 0..1.
    index : float
        Refractive index of the film.

    Returns
    -------
    array, same shape
    """
    outside = np.asarray(cosine_outside, dtype=np.float64)
    return np.asarray(np.sqrt(1.0 - (1.0 - outside**2) / index**2))


@cache
def external_diffuse_reflectance(index: float = REFRACTIVE_INDEX) -> float:
    """Surface reflectance for diffuse light coming from air, 0..1.

    Parameters
    ----------
    index : float
        Refractive index of the film.
    """
    nodes, weights = np.polynomial.legendre.leggauss(_QUADRATURE_POINTS)
    # Over t = cosine squared the flux 2 mu dmu becomes dt, a plain average.
    cosine = np.sqrt((nodes + 1.0) / 2.0)
    return float(np.sum(weights / 2.0 * fresnel_reflectance(cosine, index)))


def internal_diffuse_reflectance(index: float = REFRACTIVE_INDEX) -> float:
    """Surface reflectance for diffuse light coming from inside the film, 0..1.

    From the identity ``1 - internal = (1 - external) / index**2``, which states that
    the surface passes the same radiance both ways.

    Parameters
    ----------
    index : float
        Refractive index of the film.
    """
    return 1.0 - (1.0 - external_diffuse_reflectance(index)) / index**2


class Surface(NamedTuple):
    """How one measuring geometry sees a reflectance inside the film.

    A reading is ``mirror + through * R / (1 - returned * R)`` for a Lambertian
    reflectance R inside.

    Attributes
    ----------
    mirror : float
        First-surface reflection that the geometry takes in.
    through : float
        Share of the light that gets in, and out again to the viewer.
    returned : float
        Share of diffuse light that the surface sends back into the film.

    References
    ----------
    .. [1] J. L. Saunderson, "Calculation of the color of pigmented plastics",
       J. Opt. Soc. Am. 32 (1942) 727.
    """

    mirror: float
    through: float
    returned: float

    def measured(self, inside: ArrayLike) -> NDArray[np.float64]:
        """Reading in air of a reflectance inside the film.

        Parameters
        ----------
        inside : array
            Reflectance inside the film, 0..1.

        Returns
        -------
        array, same shape
        """
        r = np.asarray(inside, dtype=np.float64)
        return np.asarray(self.mirror + self.through * r / (1.0 - self.returned * r))

    def inside(self, measured: ArrayLike) -> NDArray[np.float64]:
        """Reflectance inside the film of a reading in air, kept within 0..1.

        Parameters
        ----------
        measured : array
            Reading in air, 0..1.

        Returns
        -------
        array, same shape
        """
        m = np.asarray(measured, dtype=np.float64) - self.mirror
        return np.clip(m / (self.through + self.returned * m), 0.0, 1.0)


def saunderson(k1: float, k2: float, *, specular_included: bool) -> Surface:
    """Surface from the two coefficients of Saunderson's correction.

    Parameters
    ----------
    k1 : float
        Outside surface reflectance, 0..1.
    k2 : float
        Inside diffuse surface reflectance, 0..1.
    specular_included : bool
        Whether the instrument takes the mirror reflection in.
    """
    return Surface(
        mirror=k1 if specular_included else 0.0,
        through=(1.0 - k1) * (1.0 - k2),
        returned=k2,
    )


@cache
def directional(index: float = REFRACTIVE_INDEX) -> Surface:
    """Surface as seen by a 45/0 instrument, which excludes the mirror reflection.

    Only the light that leaves at 0 degrees is read, relative to a perfect diffuser in
    air: its radiance is ``(1 - r(0)) / index**2`` of the radiance inside.

    Parameters
    ----------
    index : float
        Refractive index of the film.
    """
    lit = 1.0 - float(fresnel_reflectance(np.cos(np.radians(LIT_AT_DEG)), index))
    seen = 1.0 - float(fresnel_reflectance(np.cos(np.radians(VIEWED_AT_DEG)), index))
    return Surface(
        mirror=0.0,
        through=lit * seen / index**2,
        returned=internal_diffuse_reflectance(index),
    )


@cache
def sphere_specular_included(index: float = REFRACTIVE_INDEX) -> Surface:
    """Surface as seen by a sphere instrument with the mirror reflection included.

    Parameters
    ----------
    index : float
        Refractive index of the film.
    """
    return saunderson(
        k1=float(fresnel_reflectance(1.0, index)),
        k2=internal_diffuse_reflectance(index),
        specular_included=True,
    )
