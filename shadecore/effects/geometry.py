"""How an effect colour is read: lit at 45 degrees, seen at five aspecular angles.

An aspecular angle is counted from the mirror direction of the light; the colour near
the mirror direction is the face, the one far from it the flop.

References
----------
.. [1] ASTM E2194, "Multiangle color measurement of metal flake pigmented materials";
   DIN 6175-2 adds 25 and 75 degrees (both known from their abstracts and at second
   hand).
"""

from functools import cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shadecore.colour.angles import STANDARD_ANGLES_DEG
from shadecore.colour.surface import LIT_AT_DEG, REFRACTIVE_INDEX, fresnel_reflectance


class Views(NamedTuple):
    """The five views and the light, inside the film.

    Attributes
    ----------
    aspecular_deg : array, shape (views,)
        Angle from the mirror direction, in air. [degrees]
    cosine : array, shape (views,)
        Cosine of the view's angle to the normal, in the film.
    tangent : array, shape (views,)
        Its tangent; positive on the mirror's side of the normal.
    lit_cosine, lit_tangent : float
        The same of the incoming light, which comes from the other side.
    passed : array, shape (views,)
        Share of the light that gets in and out to the view, divided by the square
        of the refractive index: a radiance inside times this is a reading in air.
    leaving : array, shape (views,)
        The same for the way out alone.
    tilt_cosine : array, shape (views,)
        Cosine of the tilt of the flake that mirrors the light into the view.
    """

    aspecular_deg: NDArray[np.float64]
    cosine: NDArray[np.float64]
    tangent: NDArray[np.float64]
    lit_cosine: float
    lit_tangent: float
    passed: NDArray[np.float64]
    leaving: NDArray[np.float64]
    tilt_cosine: NDArray[np.float64]

    @property
    def tangents_together(self) -> NDArray[np.float64]:
        """Sideways distance of the two paths for one unit of depth, shape (views,)."""
        return np.abs(self.tangent - self.lit_tangent)

    @property
    def path(self) -> NDArray[np.float64]:
        """Way in and out for one unit of depth, shape (views,)."""
        return 1.0 / self.lit_cosine + 1.0 / self.cosine


@cache
def views(
    aspecular_deg: tuple[float, ...] = STANDARD_ANGLES_DEG,
    index: float = REFRACTIVE_INDEX,
) -> Views:
    """Views in the plane of incidence, by Snell's and Fresnel's laws.

    Parameters
    ----------
    aspecular_deg : tuple of float
        Angles from the mirror direction. [degrees]
    index : float
        Refractive index of the film.

    Returns
    -------
    Views
    """
    aspecular = np.asarray(aspecular_deg, dtype=np.float64)
    from_normal = np.radians(LIT_AT_DEG - aspecular)
    sine = np.sin(from_normal) / index
    cosine = np.sqrt(1.0 - sine**2)
    lit_sine = float(np.sin(np.radians(LIT_AT_DEG)) / index)
    lit_cosine = float(np.sqrt(1.0 - lit_sine**2))
    entering = 1.0 - float(fresnel_reflectance(np.cos(np.radians(LIT_AT_DEG)), index))
    leaving = (1.0 - fresnel_reflectance(np.cos(from_normal), index)) / index**2
    # The mirroring flake's normal halves the angle between the ways to light and view;
    # the light stands at minus its sine.
    across, along = sine - lit_sine, cosine + lit_cosine
    return Views(
        aspecular_deg=aspecular,
        cosine=cosine,
        tangent=sine / cosine,
        lit_cosine=lit_cosine,
        lit_tangent=-lit_sine / lit_cosine,
        passed=entering * leaving,
        leaving=leaving,
        tilt_cosine=along / np.hypot(across, along),
    )
