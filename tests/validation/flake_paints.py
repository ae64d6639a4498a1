"""Simulated effect paints: what is in them, and what they look like when traced.

Flakes get their optics from complex refractive indices (Fresnel, and coherent layers on
mica), pigments are the single ones of ``data/pigments.toml``; nothing is shared with
the engine's ranges. Numbers without a reference are from memory or guesses.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from .flake_rays import INDEX
from .flakes import FlakePaint, normalised, tilts_rad, trace_leak, trace_reflected
from .paints import pigments

FloatArray = NDArray[np.float64]

WAVES: FloatArray = np.arange(400.0, 701.0, 20.0)
COAT_UM = 7.0
"""Dry film of one coat of effect base coat."""
COATS = (1, 2, 3, 4, 6, 8, 12)
"""Films that are traced; between them the coats are interpolated."""
HIDING_UM = 250.0
"""Film that hides, or nearly: light has crossed it some 20 flakes deep."""

# Aluminium in air, n + ik: Rakic (1998), from memory.
_ALUMINIUM_NM = (400.0, 500.0, 600.0, 700.0)
_ALUMINIUM_N = (0.49, 0.77, 1.20, 1.83)
_ALUMINIUM_K = (4.86, 6.08, 7.26, 8.31)
_MICA_INDEX = 1.59


@dataclass(frozen=True)
class TracedPaint:
    """A simulated paint and its films.

    Attributes
    ----------
    kind : str
        ``aluminium``, ``pearl`` or ``mixed``.
    black : FloatArray
        Reflectance factors over black after each of ``COATS``, shape (films, views,
        wavelengths).
    leak : FloatArray
        What :func:`trace_leak` found, shape (films, ORDERS, views, wavelengths).
    full : FloatArray
        Reflectance factors of the film that hides, shape (views, wavelengths).
    """

    kind: str
    black: FloatArray
    leak: FloatArray
    full: FloatArray


def _aluminium(rng: np.random.Generator) -> FloatArray:
    n = np.interp(WAVES, _ALUMINIUM_NM, _ALUMINIUM_N)
    k = np.interp(WAVES, _ALUMINIUM_NM, _ALUMINIUM_K)
    amplitude = (INDEX - (n + 1j * k)) / (INDEX + (n + 1j * k))
    # Scratches, oxide and light on the flake's flank: the finer the flake, the worse.
    return np.asarray(np.abs(amplitude) ** 2 * rng.uniform(0.80, 0.99))


def _layers(indices: list[FloatArray], widths_nm: list[float]) -> FloatArray:
    """Coherent reflectance and transmittance of layers in the binder, upright."""
    outside = np.full(WAVES.size, INDEX, dtype=complex)
    matrix = np.tile(np.eye(2, dtype=complex), (WAVES.size, 1, 1))
    for index, width in zip(indices, widths_nm, strict=True):
        phase = 2.0 * np.pi * index * width / WAVES
        layer = np.empty_like(matrix)
        layer[:, 0, 0] = layer[:, 1, 1] = np.cos(phase)
        layer[:, 0, 1] = 1j * np.sin(phase) / index
        layer[:, 1, 0] = 1j * np.sin(phase) * index
        matrix = matrix @ layer
    b = matrix[:, 0, 0] + matrix[:, 0, 1] * outside
    c = matrix[:, 1, 0] + matrix[:, 1, 1] * outside
    back = np.abs((outside * b - c) / (outside * b + c)) ** 2
    on = np.abs(2.0 * outside / (outside * b + c)) ** 2
    return np.asarray(np.stack([back, on]))


def _pearl(rng: np.random.Generator) -> tuple[FloatArray, FloatArray]:
    """Mica under titania or iron oxide on both sides, over its spread of widths."""
    iron = rng.random() < 0.25
    # Titania's dispersion (Cauchy) and iron oxide's absorption edge.
    titania = 2.20 + 0.045 / (WAVES / 1000.0) ** 2
    rust = 2.6 - 0.45j / (1.0 + np.exp((WAVES - 560.0) / 25.0))
    coat = (rust if iron else titania).astype(complex)
    width = rng.uniform(40.0, 170.0) if not iron else rng.uniform(30.0, 120.0)
    mica = np.full(WAVES.size, _MICA_INDEX, dtype=complex)
    drawn = [
        _layers(
            [coat, mica, coat],
            [thick := width * rng.normal(1.0, 0.05), rng.uniform(200.0, 500.0), thick],
        )
        for _ in range(60)
    ]
    back, on = np.mean(drawn, axis=0)
    return back, np.minimum(on, 1.0 - back)


def _tilts(rng: np.random.Generator) -> FloatArray:
    """Flakes whose slopes fall off exponentially, and some that lie anyhow."""
    slope = np.tan(np.minimum(tilts_rad(), 1.55))
    upright = np.cos(tilts_rad()).clip(0.02)
    fall = np.exp(-slope / rng.uniform(0.07, 0.19)) / upright**3
    anyhow = np.ones_like(slope) * np.cos(tilts_rad())
    share = np.exp(rng.uniform(np.log(0.005), np.log(0.10)))
    return normalised((1.0 - share) * normalised(fall) + share * normalised(anyhow))


def _pigment(rng: np.random.Generator, kind: str) -> tuple[FloatArray, FloatArray]:
    """Absorption and scattering of the transparent pigments between the flakes."""
    known = pigments()
    every = [int(np.flatnonzero(np.arange(400, 701, 10) == w)[0]) for w in WAVES]
    amounts = np.zeros(len(known.names))
    chromatic = known.having("chromatic")
    silver = rng.random() < (0.25 if kind == "aluminium" else 0.15)
    if silver:
        amounts[rng.choice(chromatic)] = rng.uniform(0.0, 0.02)
    else:
        lead = rng.choice(chromatic, p=known.demand[chromatic] / known.demand.sum())
        amounts[lead] = np.exp(rng.normal(np.log(0.18), 0.9))
        if rng.random() < 0.5:
            amounts[rng.choice(chromatic)] += amounts[lead] * rng.uniform(0.05, 0.7)
    if rng.random() < 0.5:
        amounts[rng.choice(known.having("black"))] = np.exp(rng.normal(-3.6, 1.1))
    if rng.random() < 0.15:
        amounts[known.having("white")[0]] = rng.uniform(0.003, 0.04)
    finer = np.exp(rng.uniform(np.log(0.08), np.log(0.8)))
    absorption = (amounts @ known.absorption)[every] / 2.0
    scattering = (amounts @ known.scattering)[every] * 4.0 / 3.0 * finer
    return absorption + 1e-4, scattering + 2e-4


def draw_flake_paint(rng: np.random.Generator) -> tuple[str, FlakePaint]:
    """Draw one paint.

    Parameters
    ----------
    rng : np.random.Generator
        Source of all randomness.

    Returns
    -------
    kind : str
        ``aluminium``, ``pearl`` or ``mixed``.
    paint : FlakePaint
    """
    kind = str(rng.choice(["aluminium", "pearl", "mixed"], p=[0.62, 0.2, 0.18]))
    share = {"aluminium": 1.0, "pearl": 0.0}.get(kind, rng.uniform(0.2, 0.8))
    metal, (shine, passed) = _aluminium(rng), _pearl(rng)
    # Share of the dry film over the flakes' thickness is their area in the volume.
    area_metal = np.exp(rng.normal(np.log(0.035), 0.4)) / rng.uniform(0.2, 0.6)
    area_pearl = np.exp(rng.normal(np.log(0.06), 0.4)) / rng.uniform(0.4, 0.9)
    absorption, scattering = _pigment(rng, kind)
    return kind, FlakePaint(
        area_per_um=float(share * area_metal + (1.0 - share) * area_pearl),
        radius_um=float(rng.uniform(3.5, 12.0)),
        radius_spread=0.3,
        reflectance=share * metal + (1.0 - share) * shine,
        transmittance=(1.0 - share) * passed,
        edges=float(np.exp(rng.uniform(np.log(0.03), np.log(0.3)))),
        absorption=absorption,
        scattering=scattering,
        forward=float(rng.uniform(0.0, 0.4)),
        tilt_density=_tilts(rng),
    )


def traced(seed: int, rays: int) -> TracedPaint:
    """Draw a paint and trace its films.

    Parameters
    ----------
    seed : int
        Of the paint and of its rays.
    rays : int
        Rays a film.

    Returns
    -------
    TracedPaint
    """
    kind, paint = draw_flake_paint(np.random.default_rng(seed))
    films = np.array([*(n * COAT_UM for n in COATS), HIDING_UM])
    black = trace_reflected(paint, films, 1000 * seed, 4 * rays)
    leak = [trace_leak(paint, n * COAT_UM, 1000 * seed + n, rays) for n in COATS]
    return TracedPaint(kind, black[:-1], np.stack(leak), black[-1])


def traced_set(first_seed: int, count: int, rays: int, keep: Path) -> list[TracedPaint]:
    """Trace paints, or read those that were traced before.

    Parameters
    ----------
    first_seed : int
        Seed of the first paint; the next ones follow.
    count : int
        How many paints.
    rays : int
        Rays a film.
    keep : Path
        Folder in which each paint is kept.

    Returns
    -------
    list of TracedPaint
    """
    keep.mkdir(parents=True, exist_ok=True)
    paints = []
    for seed in range(first_seed, first_seed + count):
        file = keep / f"flakes-{seed}-{rays}.npz"
        if not file.exists():
            one = traced(seed, rays)
            np.savez(file, kind=one.kind, black=one.black, leak=one.leak, full=one.full)
        with np.load(file) as data:
            paints.append(
                TracedPaint(
                    str(data["kind"]), data["black"], data["leak"], data["full"]
                )
            )
    return paints
