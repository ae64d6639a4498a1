"""Recipes as a mixer might make them: one or two hues, white, black."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shadecore.colour.appearance import WAVELENGTHS_NM
from shadecore.recipes.families import (
    chromatic_families,
    draw_black,
    draw_grades,
    draw_white,
    family_ranges,
)

BLOCK = 4096
"""Recipes worked on together: their spectra stay in the processor's cache."""

COLORANTS_PER_FAMILY = 4096
"""Different colorants of each family that recipes choose from: with a few hundred the
answer depended on which ones happened to be drawn."""

SHARE_NEUTRAL = 0.10
"""Recipes without a full hue: whites, greys and blacks with a trace of one."""
SHARE_TWO_HUES = 0.55
SHARE_WITH_WHITE = 0.75
SHARE_WITH_BLACK = 0.55
SECOND_HUE = (0.03, 1.0)
"""Second hue as a part of the first, evenly spread in its logarithm."""
WHITE_PARTS = (0.01, 100.0)
"""White to one part of the first hue."""
BLACK_PARTS = (0.003, 3.0)
"""Black to one part of the first hue."""
TRACE_PARTS = (0.003, 0.1)
"""Hue to one part of white and black together in a neutral recipe."""
NEUTRAL_BLACK = (0.0005, 30.0)
"""Black to one part of white in a neutral recipe."""


@dataclass(frozen=True)
class Recipes:
    """Paints by their two-flux constants.

    Attributes
    ----------
    absorption, scattering : array of float32, shape (n, 31)
        K and S of the dry film. [1/um]
    """

    absorption: NDArray[np.float32]
    scattering: NDArray[np.float32]


def draw_recipes(
    count: int,
    rng: np.random.Generator,
    families: tuple[str, ...] | None = None,
) -> Recipes:
    """Draw plausible recipes.

    Parameters
    ----------
    count : int
        How many.
    rng : numpy.random.Generator
        Source of randomness.
    families : tuple of str, optional
        Chromatic families to draw from; all of them unless given.

    Returns
    -------
    Recipes
    """
    names = chromatic_families() if families is None else families
    hues = [draw_grades(name, COLORANTS_PER_FAMILY, rng) for name in names]
    white = draw_white(COLORANTS_PER_FAMILY, rng)
    black = draw_black(COLORANTS_PER_FAMILY, rng)
    pools = [*hues, white, black]
    absorption = np.concatenate([p.absorption for p in pools]).astype(np.float32)
    scattering = np.concatenate([p.scattering for p in pools]).astype(np.float32)

    parts = _draw_parts(count, rng)
    first_white = len(hues) * COLORANTS_PER_FAMILY
    chosen = np.stack(
        [
            rng.integers(0, first_white, count),
            rng.integers(0, first_white, count),
            first_white + rng.integers(0, COLORANTS_PER_FAMILY, count),
            first_white
            + COLORANTS_PER_FAMILY
            + rng.integers(0, COLORANTS_PER_FAMILY, count),
        ],
        axis=1,
    )
    scale = family_ranges()["scale"]
    parts *= scale["white_scattering_per_um"]
    parts = parts.astype(np.float32)
    mixed = np.zeros((2, count, WAVELENGTHS_NM.size), dtype=np.float32)
    for start in range(0, count, BLOCK):
        rows = slice(start, start + BLOCK)
        for column in range(chosen.shape[1]):
            amount = parts[rows, column, None]
            mixed[0, rows] += amount * absorption[chosen[rows, column]]
            mixed[1, rows] += amount * scattering[chosen[rows, column]]
    return Recipes(mixed[0], mixed[1])


def _draw_parts(count: int, rng: np.random.Generator) -> NDArray[np.float64]:
    """Amounts of first hue, second hue, white and black, summing to 1."""
    neutral = rng.random(count) < SHARE_NEUTRAL
    parts = np.empty((count, 4))
    parts[:, 0] = 1.0
    parts[:, 1] = _spread(SECOND_HUE, count, rng) * (rng.random(count) < SHARE_TWO_HUES)
    parts[:, 2] = _spread(WHITE_PARTS, count, rng) * (
        rng.random(count) < SHARE_WITH_WHITE
    )
    parts[:, 3] = _spread(BLACK_PARTS, count, rng) * (
        rng.random(count) < SHARE_WITH_BLACK
    )
    grey = np.zeros((count, 4))
    grey[:, 2] = 1.0
    grey[:, 3] = _spread(NEUTRAL_BLACK, count, rng)
    grey[:, 0] = _spread(TRACE_PARTS, count, rng) * grey[:, 2:].sum(axis=1)
    parts[neutral] = grey[neutral]
    return np.asarray(parts / parts.sum(axis=1, keepdims=True))


def _spread(
    limits: tuple[float, float], count: int, rng: np.random.Generator
) -> NDArray[np.float64]:
    return np.exp(rng.uniform(np.log(limits[0]), np.log(limits[1]), count))
