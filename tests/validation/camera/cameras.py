"""Cameras: measured sensitivities, seeded variants, and their makers' matrices."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

import colour
import numpy as np
from colour.characterisation.aces_it import ROOT_RESOURCES_RAWTOACES
from numpy.typing import NDArray

from .spectra import SHAPE, WAVELENGTHS_NM, light, observer_2, training_objects

FloatArray = NDArray[np.float64]

VARIANT_SEED = 40
HELD_OUT_SEED = 41
"""Of variants that nothing in the reader was fitted to; figures come from these."""
SHIFT_NM = 5.0
"""Standard deviation of a variant's shift of each band, nm."""
BROADENING = 0.06
"""Standard deviation of the log width of a variant's bands."""
CAMERAS = 10

_CCT_DAYLIGHT, _CCT_A = 6504.0, 2856.0
_FLOOR = 0.02


@dataclass(frozen=True)
class Camera:
    """A camera.

    Attributes
    ----------
    sensitivities : FloatArray
        Of red, green, blue, shape (61, 3).
    at_daylight, at_incandescent : FloatArray
        Matrix from white-balanced raw values to XYZ (white: D65, Y = 1), found under
        D65 and under A, shape (3, 3).
    """

    sensitivities: FloatArray
    at_daylight: FloatArray
    at_incandescent: FloatArray

    def matrix(self, cct: float) -> FloatArray:
        """The matrix at a colour temperature in K, between the two in 1/K."""
        share = (1.0 / cct - 1.0 / _CCT_DAYLIGHT) / (1.0 / _CCT_A - 1.0 / _CCT_DAYLIGHT)
        share = min(max(share, 0.0), 1.0)
        return (1.0 - share) * self.at_daylight + share * self.at_incandescent


def fit_camera(sensitivities: FloatArray) -> Camera:
    """Give sensitivities, shape (61, 3), the matrices their maker would."""
    return Camera(
        sensitivities,
        _fitted(sensitivities, light("D65")),
        _fitted(sensitivities, light("A")),
    )


@cache
def cameras(seed: int = VARIANT_SEED) -> tuple[Camera, ...]:
    """Three measured cameras and seeded variants of them.

    The measured ones are addressed by their place in colour-science's data. One has
    stacked layers and is not varied.
    """
    mosaic, stacked = _carried()
    third = colour.read_sds_from_csv_file(
        str(next(Path(ROOT_RESOURCES_RAWTOACES).glob("*Sensitivities.csv")))
    )
    other = np.stack(
        [np.asarray(each.copy().align(SHAPE).values) for each in third.values()], -1
    )
    rng = np.random.default_rng(seed)
    measured = [mosaic, stacked, other]
    variants = [
        _varied((mosaic, other)[number % 2], rng)
        for number in range(CAMERAS - len(measured))
    ]
    return tuple(fit_camera(each) for each in measured + variants)


def _carried() -> list[FloatArray]:
    return [
        np.asarray(each.copy().align(SHAPE).values, dtype=np.float64)
        for each in list(colour.MSDS_CAMERA_SENSITIVITIES.values())[:2]
    ]


def _varied(sensitivities: FloatArray, rng: np.random.Generator) -> FloatArray:
    bands = []
    for band in sensitivities.T:
        centre = (band @ WAVELENGTHS_NM) / band.sum()
        width = np.exp(rng.normal(0.0, BROADENING))
        shifted = WAVELENGTHS_NM - rng.normal(0.0, SHIFT_NM)
        bands.append(
            np.interp((shifted - centre) / width + centre, WAVELENGTHS_NM, band)
        )
    return np.stack(bands, axis=-1)


def _fitted(sensitivities: FloatArray, power: FloatArray) -> FloatArray:
    """Weighted least squares that keep white white, shape (3, 3)."""
    objects = training_objects()
    raw = (objects * power) @ sensitivities / (power @ sensitivities)
    white = power @ observer_2() / (power @ observer_2()[:, 1])
    xyz = (objects * power) @ observer_2() / (power @ observer_2()[:, 1])
    daylight = light("D65") @ observer_2()
    daylight = daylight / daylight[1]
    xyz = colour.chromatic_adaptation(xyz, white, daylight, transform="Bradford")
    # With M (1, 1, 1) = white, the green column follows from the other two.
    weight = 1.0 / np.maximum(xyz[:, 1:2], _FLOOR) ** (2.0 / 3.0)
    chroma = raw[:, [0, 2]] - raw[:, [1]]
    rest = xyz - raw[:, [1]] * daylight
    outer = np.linalg.lstsq(weight * chroma, weight * rest, rcond=None)[0].T
    middle = daylight - outer.sum(axis=1)
    return np.stack([outer[:, 0], middle, outer[:, 1]], axis=1)
