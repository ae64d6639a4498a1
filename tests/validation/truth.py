"""True colours and coats to hide of simulated paints over grey undercoats."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import colour
import numpy as np
from numpy.typing import ArrayLike, NDArray

from .paints import WAVELENGTHS, Paints
from .transport import Film, Geometry, inside_reflectance, solve

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

NINE_GREYS: tuple[float, ...] = (95.0, 90.0, 80.0, 70.0, 60.0, 50.0, 40.0, 30.0, 25.5)
"""CIE L* of a usual set of grey undercoats, in air."""

HIDING_THICKNESS = 1e6
"""Dry film, um, that hides whatever the paint; clear binder alone would not."""


@dataclass(frozen=True)
class Truth:
    """What simulated paints look like over undercoats, coat by coat.

    Attributes
    ----------
    hidden : FloatArray
        Lab of the fully hiding paint, shape (paints, 3).
    lab : FloatArray
        Lab after each coat, shape (paints, undercoats, coats, 3).
    difference : FloatArray
        CIEDE2000 to `hidden`, shape (paints, undercoats, coats).
    """

    hidden: FloatArray
    lab: FloatArray
    difference: FloatArray

    def coats_to_hide(self, tolerance: float, cap: int) -> IntArray:
        """Return the coats after which the difference stays within a tolerance.

        Parameters
        ----------
        tolerance : float
            Largest CIEDE2000 difference that counts as hidden.
        cap : int
            Most coats that count; at most the coats simulated.

        Returns
        -------
        IntArray
            Coats from 1 to `cap`, or ``cap + 1`` where these do not hide, shape
            (paints, undercoats).
        """
        return coats_to_hide(self.difference, tolerance, cap)


def coats_to_hide(difference: ArrayLike, tolerance: float, cap: int) -> IntArray:
    """Return the first coat from which a difference never exceeds a tolerance.

    A film can pass through the right colour on its way from too light to too dark,
    so the first coat within tolerance is not enough.

    Parameters
    ----------
    difference : ArrayLike
        Difference to full hide after coats 1, 2, ..., shape (..., coats).
    tolerance : float
        Largest difference that counts as hidden.
    cap : int
        Most coats that count; coats beyond it still reveal a later excess.

    Returns
    -------
    IntArray
        Coats from 1 to `cap`, or ``cap + 1``, shape (...).
    """
    visible = np.asarray(difference) > tolerance
    coats = visible.shape[-1]
    if cap > coats:
        message = f"{coats} coats were simulated, {cap} asked for"
        raise ValueError(message)
    since_last = np.argmax(visible[..., ::-1], axis=-1)
    last_visible = np.where(visible.any(axis=-1), coats - since_last, 0)
    return np.asarray(np.minimum(last_visible + 1, cap + 1), dtype=np.int64)


@cache
def _weights() -> FloatArray:
    """Return the matrix from reflectance to XYZ, white Y = 1, shape (bands, 3).

    CIE D65 and the CIE 1964 10 degree observer by ASTM E308, which is linear: the
    matrix is its response to one band at a time.
    """
    observer = colour.MSDS_CMFS["CIE 1964 10 Degree Standard Observer"]
    daylight = colour.SDS_ILLUMINANTS["D65"]
    with colour.utilities.suppress_warnings(colour_runtime_warnings=True):
        rows = [
            colour.sd_to_XYZ(
                colour.SpectralDistribution(band, WAVELENGTHS),
                observer,
                daylight,
                method="ASTM E308",
            )
            for band in np.eye(WAVELENGTHS.size)
        ]
    return np.asarray(rows, dtype=np.float64) / 100.0


def reflectance_to_lab(reflectance: ArrayLike) -> FloatArray:
    """Return CIELAB for CIE D65 and the 10 degree observer.

    Parameters
    ----------
    reflectance : ArrayLike
        Reflectance factors on `WAVELENGTHS`, shape (..., wavelengths).

    Returns
    -------
    FloatArray
        L*, a*, b* on the last axis.
    """
    weights = _weights()
    white = colour.XYZ_to_xy(weights.sum(axis=0))
    xyz = np.asarray(reflectance, dtype=np.float64) @ weights
    return np.asarray(colour.XYZ_to_Lab(xyz, white), dtype=np.float64)


def grey_reflectance(lightness: ArrayLike) -> FloatArray:
    """Return the flat reflectance in air of greys of given lightness.

    Parameters
    ----------
    lightness : ArrayLike
        CIE L*.

    Returns
    -------
    FloatArray
        Reflectance factor, 0 to 1.
    """
    return np.asarray(colour.colorimetry.luminance_CIE1976(lightness, 1.0))


def simulate(
    paints: Paints, undercoats: ArrayLike, film_per_coat: float, coats: int
) -> dict[Geometry, Truth]:
    """Apply paints over undercoats, coat by coat, and measure them.

    Parameters
    ----------
    paints : Paints
        Simulated paints.
    undercoats : ArrayLike
        Flat reflectance of the bare undercoats in air, gloss excluded, shape
        (undercoats,); taken as read in the geometry of the topcoat.
    film_per_coat : float
        Dry film of one coat, um.
    coats : int
        Number of coats.

    Returns
    -------
    dict of Geometry to Truth
        Colours and differences in each measuring geometry.
    """
    thickness = np.append(film_per_coat * np.arange(1, coats + 1), HIDING_THICKNESS)
    films = solve(paints.absorption, paints.scattering, thickness)
    return {
        geometry: _observe(film, inside_reflectance(undercoats, geometry))
        for geometry, film in films.items()
    }


def _observe(film: Film, inside: FloatArray) -> Truth:
    """Look at films (paints, wavelengths, thicknesses) over each backing."""
    hidden = reflectance_to_lab(film.black[..., -1])
    building = Film(
        black=film.black[:, None, :, :-1],
        through=film.through[:, None, :, :-1],
        back=film.back[:, None, :, :-1],
    )
    spectra = building.over(inside[None, :, None, None])
    lab = reflectance_to_lab(np.moveaxis(spectra, 2, -1))
    difference = colour.delta_E(hidden[:, None, None, :], lab, method="CIE 2000")
    return Truth(hidden=hidden, lab=lab, difference=np.asarray(difference))
