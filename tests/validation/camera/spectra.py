"""Measured spectra carried by colour-science: lights, charts, objects, observers."""

from __future__ import annotations

from functools import cache

import colour
import numpy as np
from colour.characterisation import read_training_data_rawtoaces_v1
from colour.quality.cfi2017 import load_TCS_CIE2017
from colour.quality.datasets import SDS_TCS, SDS_VS
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]

SHAPE = colour.SpectralShape(400, 700, 5)
WAVELENGTHS_NM: FloatArray = np.arange(400.0, 701.0, 5.0)
"""Wavelengths at which light, object and camera are multiplied, nm."""

EVERY_TEN = slice(None, None, 2)
"""Takes the wavelengths 400 to 700 by 10 nm out of `WAVELENGTHS_NM`."""

_DARKEST = 1e-4

LIGHT_GROUPS: dict[str, tuple[str, ...]] = {
    "daylight": ("D50", "D55", "D65", "D75"),
    "A": ("A",),
    "LED": (
        "LED-B1",
        "LED-B2",
        "LED-B3",
        "LED-B4",
        "LED-B5",
        "LED-V1",
        "LED-V2",
    ),
}
"""Lights by group: CIE daylights, CIE A, and CIE 015:2018's typical LEDs."""


def chart_reflectance() -> FloatArray:
    """The 24 patches in their order, shape (24, 61)."""
    patches = colour.SDS_COLOURCHECKERS["ISO 17321-1"].values()
    return np.stack([_on_shape(each) for each in patches])


@cache
def objects() -> FloatArray:
    """Measured objects that are not patches of the chart.

    Returns
    -------
    FloatArray
        99 colour evaluation samples of CIE 224:2017, 15 samples of the colour quality
        scale, 14 test colours of CIE 13.3 and 30 of a portrait chart, shape (158, 61).
    """
    evaluation = load_TCS_CIE2017(colour.SpectralShape(380, 780, 5))
    rows = [np.asarray(evaluation.copy().align(SHAPE).values).T]
    rows.extend(
        np.stack([_on_shape(each) for each in sds.values()])
        for sds in (SDS_VS["NIST CQS 9.0"], SDS_TCS["CIE 1995"], _portrait_chart())
    )
    return np.clip(np.concatenate(rows), _DARKEST, 1.0)


@cache
def training_objects() -> FloatArray:
    """The 190 objects to which cameras are fitted, shape (objects, 61).

    Those that send back more than they get are left out.
    """
    values = np.asarray(read_training_data_rawtoaces_v1().copy().align(SHAPE).values).T
    return np.clip(values[values.max(axis=1) <= 1.0], _DARKEST, 1.0)


@cache
def light(name: str) -> FloatArray:
    """A CIE illuminant, relative power with a mean of 1, shape (61,)."""
    power = _on_shape(colour.SDS_ILLUMINANTS[name])
    return np.asarray(power / power.mean(), dtype=np.float64)


@cache
def observer_2() -> FloatArray:
    """CIE 1931 colour-matching functions, shape (61, 3)."""
    cmfs = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"]
    return np.asarray(cmfs.copy().align(SHAPE).values, dtype=np.float64)


def correlated_colour_temperature(power: ArrayLike) -> float:
    """Correlated colour temperature of a light in K by McCamy (1992)."""
    xyz = np.asarray(power) @ observer_2()
    return float(colour.xy_to_CCT(colour.XYZ_to_xy(xyz), method="McCamy 1992"))


def neutral(lab: ArrayLike, base: ArrayLike) -> FloatArray:
    """Reflectance near a base that has given Lab under D65 at 10 degrees.

    Parameters
    ----------
    lab : ArrayLike, shape (3,)
        L*, a*, b*.
    base : ArrayLike, shape (61,)
        Shape of the spectrum; a parabola times it is solved for.

    Returns
    -------
    FloatArray
        Shape (61,).
    """
    along = (WAVELENGTHS_NM - 550.0) / 150.0
    basis = np.asarray(base) * np.stack([np.ones_like(along), along, along**2])
    white = _white_10()
    wanted = colour.Lab_to_XYZ(np.asarray(lab), colour.XYZ_to_xy(white)) * white[1]
    shares = np.linalg.solve(np.stack([xyz_10(each) for each in basis]).T, wanted)
    return np.asarray(shares @ basis, dtype=np.float64)


def xyz_10(reflectance: ArrayLike) -> FloatArray:
    """Tristimulus values for D65 and 10 degrees by ASTM E308, shape (3,), Y 0..1.

    Parameters
    ----------
    reflectance : ArrayLike, shape (61,)
        Reflectance factors; those at each 10 nm are used.
    """
    spectrum = colour.SpectralDistribution(
        np.asarray(reflectance)[EVERY_TEN], WAVELENGTHS_NM[EVERY_TEN]
    )
    with colour.utilities.suppress_warnings(colour_runtime_warnings=True):
        xyz = colour.sd_to_XYZ(
            spectrum,
            colour.MSDS_CMFS["CIE 1964 10 Degree Standard Observer"],
            colour.SDS_ILLUMINANTS["D65"],
            method="ASTM E308",
        )
    return np.asarray(xyz, dtype=np.float64) / 100.0


def lab_10(reflectance: ArrayLike) -> FloatArray:
    """CIELAB for D65 and 10 degrees, shape (3,).

    Parameters
    ----------
    reflectance : ArrayLike, shape (61,)
        Reflectance factors; those at each 10 nm are used.
    """
    white = _white_10()
    return np.asarray(
        colour.XYZ_to_Lab(xyz_10(reflectance) / white[1], colour.XYZ_to_xy(white))
    )


@cache
def _white_10() -> FloatArray:
    return xyz_10(np.ones_like(WAVELENGTHS_NM))


def _portrait_chart() -> dict[str, colour.SpectralDistribution]:
    charts = colour.SDS_COLOURCHECKERS.values()
    return next(each for each in charts if len(each) == 30)


def _on_shape(spectrum: colour.SpectralDistribution) -> FloatArray:
    return np.asarray(spectrum.copy().align(SHAPE).values, dtype=np.float64)
