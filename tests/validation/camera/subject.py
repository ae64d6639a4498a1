"""What stays the same from photo to photo: swatch, references, camera."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .cameras import VARIANT_SEED, Camera, cameras
from .spectra import (
    WAVELENGTHS_NM,
    chart_reflectance,
    lab_10,
    neutral,
    objects,
)

FloatArray = NDArray[np.float64]


@dataclass(frozen=True)
class Kind:
    """A kind of neutral reference.

    Attributes
    ----------
    lab : tuple of float
        What its maker states.
    spread : tuple of float
        Standard deviations of the real L*, a*, b* about it.
    dip : float
        Share of the reflectance missing at 400 nm, as in white pigments.
    """

    lab: tuple[float, float, float]
    spread: tuple[float, float, float]
    dip: float


KINDS: dict[str, Kind] = {
    "grey card": Kind((49.5, 0.0, 0.0), (0.5, 0.3, 0.3), 0.03),
    "light grey card": Kind((76.0, 0.0, 0.0), (0.5, 0.3, 0.3), 0.05),
    "white paper": Kind((95.0, 0.0, 0.0), (1.5, 1.0, 1.0), 0.25),
}
"""Neutral references; spreads are common practice, no source."""

REFERENCE_SETS: dict[str, tuple[str, ...]] = {
    "none": (),
    "paper": ("white paper",),
    "grey card": ("grey card",),
    "two greys": ("grey card", "light grey card"),
    "chart": (),
}
"""What may lie beside the swatch, as kinds of neutral references."""

CHART_SPREAD = 0.015
"""Standard deviation of the log of a patch's real reflectance about the data sheet's,
once for its level and once for its slope over the spectrum; a guess."""

_LIGHTEST_PAPER = 98.0
_DIP_NM = 12.0


@dataclass(frozen=True)
class Subject:
    """A swatch, what lies beside it, and the camera.

    Attributes
    ----------
    reference : str
        One of `REFERENCE_SETS`.
    swatch : FloatArray
        Reflectance of the swatch, shape (61,).
    neutrals : tuple of FloatArray
        Reflectances of the neutral references, each of shape (61,).
    chart : FloatArray or None
        Reflectances of the chart's patches, shape (24, 61).
    camera : Camera
        Taking the pictures.
    camera_number : int
        Its place among the simulated cameras.
    """

    reference: str
    swatch: FloatArray
    neutrals: tuple[FloatArray, ...]
    chart: FloatArray | None
    camera: Camera
    camera_number: int

    @property
    def lab(self) -> FloatArray:
        """True L*, a*, b* of the swatch for D65 and 10 degrees, shape (3,)."""
        return lab_10(self.swatch)


def draw_subject(
    rng: np.random.Generator, reference: str, camera_seed: int = VARIANT_SEED
) -> Subject:
    """Draw a swatch, its references and a camera.

    Parameters
    ----------
    rng : np.random.Generator
        Source of all randomness.
    reference : str
        One of `REFERENCE_SETS`.
    camera_seed : int
        Seed of the varied cameras.

    Returns
    -------
    Subject
    """
    known = cameras(camera_seed)
    number = int(rng.integers(len(known)))
    return Subject(
        reference=reference,
        swatch=draw_swatch(rng),
        neutrals=tuple(_draw_neutral(rng, kind) for kind in REFERENCE_SETS[reference]),
        chart=_draw_chart(rng) if reference == "chart" else None,
        camera=known[number],
        camera_number=number,
    )


def draw_swatch(rng: np.random.Generator) -> FloatArray:
    """Draw one of the measured objects, shape (61,)."""
    known = objects()
    return known[int(rng.integers(len(known)))]


def _draw_neutral(rng: np.random.Generator, name: str) -> FloatArray:
    kind = KINDS[name]
    lab = rng.normal(kind.lab, kind.spread)
    lab[0] = min(lab[0], _LIGHTEST_PAPER)
    base = 1.0 - kind.dip * np.exp(-(WAVELENGTHS_NM - WAVELENGTHS_NM[0]) / _DIP_NM)
    return neutral(lab, base)


def _draw_chart(rng: np.random.Generator) -> FloatArray:
    patches = chart_reflectance()
    along = (WAVELENGTHS_NM - 550.0) / 150.0
    level, slope = rng.normal(0.0, CHART_SPREAD, (2, len(patches), 1))
    return np.asarray(patches * np.exp(level + slope * along), dtype=np.float64)
