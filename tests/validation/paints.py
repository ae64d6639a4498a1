"""Simulated solid colours, as a mixer makes them from single pigments."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import PchipInterpolator

FloatArray = NDArray[np.float64]

TABLE = Path(__file__).parent / "data" / "pigments.toml"

WAVELENGTHS: FloatArray = np.arange(400.0, 701.0, 10.0)
"""Wavelengths of all spectra, nm."""

STRENGTH_SCATTER = 0.07
"""Standard deviation of the log strength of a pigment from paint to paint."""

# Shares of the kinds of colour on order; a guess at a body shop's mix.
_KINDS = {"white": 0.08, "grey": 0.11, "black": 0.08, "chromatic": 0.73}

_PIGMENT_COUNT = (0.40, 0.45, 0.15)
"""Probability of 1, 2 and 3 chromatic pigments in a chromatic colour."""


@dataclass(frozen=True)
class Pigments:
    """Single-pigment curves.

    Attributes
    ----------
    names : tuple of str
        Colour Index names.
    role : tuple of str
        ``white``, ``black`` or ``chromatic``, one per pigment.
    hue : FloatArray
        Rough hue angle in degrees, NaN for white and blacks, shape (pigments,).
    demand : FloatArray
        How often a colour is built on the pigment, relative, 0 for white and
        blacks, shape (pigments,).
    absorption, scattering : FloatArray
        K and S of the pigment alone in a dry film, 1/um, shape
        (pigments, wavelengths).
    """

    names: tuple[str, ...]
    role: tuple[str, ...]
    hue: FloatArray
    demand: FloatArray
    absorption: FloatArray
    scattering: FloatArray

    def having(self, role: str) -> NDArray[np.intp]:
        """Return the indexes of the pigments with a role."""
        return np.flatnonzero(np.array(self.role) == role)


@dataclass(frozen=True)
class Paints:
    """Mixed paints.

    Attributes
    ----------
    amounts : FloatArray
        Shares of the dry pigment, shape (paints, pigments), each row summing to 1.
    absorption, scattering : FloatArray
        K and S of the dry film, 1/um, shape (paints, wavelengths).
    """

    amounts: FloatArray
    absorption: FloatArray
    scattering: FloatArray


@cache
def pigments() -> Pigments:
    """Read the pigment table and interpolate it to `WAVELENGTHS`.

    Returns
    -------
    Pigments
        In the order of the table.
    """
    with TABLE.open("rb") as file:
        table = tomllib.load(file)
    scale = float(table.pop("white_scattering_per_um"))

    def curve(entry: dict[str, list[float]], constant: str) -> FloatArray:
        smooth = PchipInterpolator(entry["nodes"], np.log(entry[constant]))
        return np.asarray(scale * np.exp(smooth(WAVELENGTHS)), dtype=np.float64)

    return Pigments(
        names=tuple(table),
        role=tuple(entry["role"] for entry in table.values()),
        hue=np.array([entry.get("hue", np.nan) for entry in table.values()]),
        demand=np.array([entry.get("demand", 0.0) for entry in table.values()]),
        absorption=np.stack([curve(entry, "K") for entry in table.values()]),
        scattering=np.stack([curve(entry, "S") for entry in table.values()]),
    )


def _log_uniform(rng: np.random.Generator, low: float, high: float) -> float:
    """Draw an amount whose order of magnitude is uniform."""
    return float(np.exp(rng.uniform(np.log(low), np.log(high))))


def _normalised(amounts: FloatArray) -> FloatArray:
    """Return amounts as shares of their sum."""
    return np.asarray(amounts / amounts.sum(), dtype=np.float64)


def _chromatic(count: int, known: Pigments, rng: np.random.Generator) -> FloatArray:
    """Draw shares of chromatic pigments, shape (pigments,), summing to 1.

    A mixer shades with neighbours in hue; the floor lets in the odd complement.
    """
    shares = np.zeros(len(known.names))
    candidates = known.having("chromatic")
    lead = int(rng.choice(len(known.names), p=_normalised(known.demand)))
    chosen = [lead]
    shares[lead] = 1.0
    while len(chosen) < count:
        turn = np.abs(known.hue[candidates] - known.hue[lead]) % 360.0
        apart = np.minimum(turn, 360.0 - turn)
        liking = np.where(
            np.isin(candidates, chosen), 0.0, 0.08 + np.exp(-((apart / 50.0) ** 2))
        )
        partner = int(rng.choice(candidates, p=_normalised(liking)))
        shares[partner] = _log_uniform(rng, 0.02, 1.0)
        chosen.append(partner)
    return _normalised(shares)


def _recipe(known: Pigments, rng: np.random.Generator) -> FloatArray:
    """Draw the pigment shares of one paint, shape (pigments,), summing to 1.

    Amounts of white and black are drawn relative to what they are added to.
    """
    kind = str(rng.choice(list(_KINDS), p=list(_KINDS.values())))
    white = int(known.having("white")[0])
    black = int(rng.choice(known.having("black")))
    shares = np.zeros(len(known.names))
    if kind == "chromatic":
        count = int(rng.choice([1, 2, 3], p=_PIGMENT_COUNT))
        shares += _chromatic(count, known, rng)
        if rng.random() < 0.65:
            shares[white] = _log_uniform(rng, 0.01, 30.0)
        if rng.random() < 0.45:
            shares[black] = shares.sum() * _log_uniform(rng, 0.002, 0.4)
        return _normalised(shares)
    if kind == "white":
        shares[white] = 1.0
        shares[black] = _log_uniform(rng, 1e-5, 2e-3)
        shade = _log_uniform(rng, 1e-4, 5e-3)
    elif kind == "grey":
        shares[white] = 1.0
        shares[black] = _log_uniform(rng, 2e-3, 2.0)
        shade = shares[black] * _log_uniform(rng, 0.02, 1.0)
    else:
        shares[black] = 1.0
        shares[white] = _log_uniform(rng, 1e-3, 0.2)
        shade = _log_uniform(rng, 0.01, 1.0)
    shares += shade * _chromatic(int(rng.integers(1, 3)), known, rng)
    return _normalised(shares)


def draw_paints(count: int, rng: np.random.Generator) -> Paints:
    """Draw paints with one to three chromatic pigments, white and black.

    The pigment content of the dry film is fixed, so the shares sum to 1. K and S add
    by share; each pigment's strength in K and in S varies from paint to paint by
    `STRENGTH_SCATTER`.

    Parameters
    ----------
    count : int
        Number of paints.
    rng : np.random.Generator
        Source of all randomness.

    Returns
    -------
    Paints
        The recipes and their film constants.
    """
    known = pigments()
    amounts = np.stack([_recipe(known, rng) for _ in range(count)])
    scatter = np.exp(rng.normal(0.0, STRENGTH_SCATTER, (2, *amounts.shape)))
    return Paints(
        amounts=amounts,
        absorption=(amounts * scatter[0]) @ known.absorption,
        scattering=(amounts * scatter[1]) @ known.scattering,
    )
