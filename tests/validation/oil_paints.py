"""Real oil paints, read over the black and the white of a card.

32 paints of historical pigments, reflectance over black and over white and of the bare
card, 400 to 700 nm by 10 nm, sphere with the mirror reflection included. The thickness
of their films is not given, so picks can be judged with them and counts cannot.

F. J. Geldof, A. N. Proano Gaibor, F. Ligterink, E. Hendriks and E. Kirchner, Herit.
Sci. 6:17 (2018); data CC0.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from .paints import WAVELENGTHS, Paints
from .transport import fresnel, inside_reflectance, solve

FloatArray = NDArray[np.float64]

TABLE = Path(__file__).parent / "data" / "oil-paints.csv"

COATS_ON_CARD = 5
"""Coats that each film is taken as; it is not given."""

NOISE, NOISE_SHARE = 0.002, 0.005
"""Noise of a reading, fixed and in parts of it (from memory)."""

BEND_OF_LOG = 0.4
"""Second difference of log K or log S from one wavelength to the next that is usual."""

LEVEL, LEVEL_SPREAD = np.log(2.0), 2.0
"""Log of S times the film where the readings say nothing of it, and how far it goes."""

STEPS = 25
NUDGE = 1e-3


@dataclass(frozen=True)
class OilPaints:
    """The paints as read.

    Attributes
    ----------
    names : tuple of str
        Their numbers in the study.
    over_black, over_white : FloatArray
        Reflectance without the mirror reflection, shape (paints, wavelengths).
    black, white : FloatArray
        The bare card, likewise.
    """

    names: tuple[str, ...]
    over_black: FloatArray
    over_white: FloatArray
    black: FloatArray
    white: FloatArray


@cache
def oil_paints() -> OilPaints:
    """Read the table.

    Returns
    -------
    OilPaints
    """
    with TABLE.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    names = tuple(dict.fromkeys(row["paint"] for row in rows))
    # Light near the normal: the mirror reflection of a smooth surface.
    mirror = float(fresnel(1.0))

    def readings(what: str) -> FloatArray:
        found = {row["paint"]: row for row in rows if row["what"] == what}
        values = [
            [float(found[name][f"nm{nm:.0f}"]) for nm in WAVELENGTHS] for name in names
        ]
        return np.maximum(np.array(values) - mirror, 1e-4)

    return OilPaints(
        names,
        readings("paint over black"),
        readings("paint over white"),
        readings("bare black"),
        readings("bare white"),
    )


def _bend() -> FloatArray:
    """Matrix of second differences of K's, then of S's logarithms."""
    size = WAVELENGTHS.size
    one = np.diff(np.eye(size), n=2, axis=0) / BEND_OF_LOG
    return np.kron(np.eye(2), one)


def _readings(log_ks: FloatArray, inside: FloatArray) -> FloatArray:
    """Readings of films of unit thickness over the card, shape (2, paints, bands)."""
    film = solve(np.exp(log_ks[0]), np.exp(log_ks[1]), [1.0])["d/8"]
    over = [film.over(each[..., None])[..., 0] for each in inside]
    return np.array(over)


@cache
def fitted_paints() -> Paints:
    """Find K and S of one coat's worth of each paint from its readings.

    The film on the card is taken as five coats of 10 um. Where a film hides, its
    readings say nothing of S, so S runs smoothly from the bands beside it.

    Returns
    -------
    Paints
    """
    read = oil_paints()
    inside = np.array(
        [inside_reflectance(each, "d/8") for each in (read.black, read.white)]
    )
    wanted = np.array([read.over_black, read.over_white])
    noise = NOISE + NOISE_SHARE * wanted
    count, bands = read.over_black.shape
    place = np.full((2, count, bands), LEVEL)
    hidden = np.clip(read.over_black, 1e-3, 0.95)
    place[0] = place[1] + np.log((1.0 - hidden) ** 2 / (2.0 * hidden))
    smooth = _bend()
    curve = smooth.T @ smooth
    level = np.zeros(2 * bands)
    level[bands:] = 1.0 / (LEVEL_SPREAD**2 * bands)
    for _ in range(STEPS):
        seen = _readings(place, inside)
        slope = np.zeros((2, 2, count, bands))
        for which in range(2):
            moved = place.copy()
            moved[which] += NUDGE
            slope[:, which] = (_readings(moved, inside) - seen) / NUDGE / noise
        missed = (seen - wanted) / noise
        for paint in range(count):
            own = slope[:, :, paint]
            matrix = np.block(
                [
                    [np.diag((own[:, i] * own[:, j]).sum(axis=0)) for j in range(2)]
                    for i in range(2)
                ]
            )
            uphill = np.concatenate(
                [(own[:, i] * missed[:, paint]).sum(0) for i in range(2)]
            )
            now = place[:, paint].ravel()
            uphill += curve @ now + level * (now - LEVEL)
            damped = matrix + curve + np.diag(level + 0.05)
            step = np.linalg.solve(damped, uphill)
            place[:, paint] -= np.clip(step, -0.7, 0.7).reshape(2, bands)
    film_um = 10.0 * COATS_ON_CARD
    constants = np.exp(place) / film_um
    return Paints(np.zeros((count, 0)), constants[0], constants[1])


def misfit() -> FloatArray:
    """Largest miss of a reading by each fitted paint, shape (paints,)."""
    read, fitted = oil_paints(), fitted_paints()
    inside = np.array(
        [inside_reflectance(each, "d/8") for each in (read.black, read.white)]
    )
    film_um = 10.0 * COATS_ON_CARD
    logs = np.log(np.array([fitted.absorption, fitted.scattering]) * film_um)
    wanted = np.array([read.over_black, read.over_white])
    return np.abs(_readings(logs, inside) - wanted).max(axis=(0, 2))
