"""The exact paint film: radiative transfer by adding and doubling.

The film scatters isotropically, has a smooth surface towards air and lies in optical
contact on a Lambertian backing. It is lit at 45 degrees and viewed at 0 degrees.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shadecore.colour.surface import (
    LIT_AT_DEG,
    REFRACTIVE_INDEX,
    VIEWED_AT_DEG,
    cosine_inside,
    fresnel_reflectance,
)
from shadecore.film.two_flux import FilmTerms

Matrix = NDArray[np.float64]

TRAPPED_NODES = 8
"""Directions beyond the critical angle; the seventh digit no longer moves with more."""
ESCAPING_NODES = 5
"""Directions in each of the two cones that reach the air."""
STARTING_DEPTH = 2.0**-14
"""Optical depth of the layer that doubling starts from."""


class Directions(NamedTuple):
    """Quadrature over the cosines inside the film, 0..1.

    Attributes
    ----------
    cosine, weight : array, shape (n,)
        Nodes and weights.
    reflected : array, shape (n,)
        Surface reflectance from inside; 1 beyond the critical angle.
    lit, viewed : int
        The nodes that carry the incoming and the viewed ray.
    """

    cosine: Matrix
    weight: Matrix
    reflected: Matrix
    lit: int
    viewed: int


def _radau(low: float, high: float, count: int) -> tuple[Matrix, Matrix]:
    """Radau quadrature on an interval, with a node on its upper end."""
    # Films that are kept need no quadrature, and scipy takes a moment to load.
    from scipy.special import roots_jacobi  # noqa: PLC0415

    nodes, weights = roots_jacobi(count - 1, 1.0, 0.0)
    weights = np.append(weights / (1.0 - nodes), 2.0 / count**2)
    nodes = np.append(nodes, 1.0)
    half = (high - low) / 2.0
    return low + half * (nodes + 1.0), weights * half


def directions(index: float = REFRACTIVE_INDEX) -> Directions:
    """Directions that resolve the critical angle and hold the two rays of 45/0.

    Rays that escape are spaced by their cosine in air, where the surface's
    reflectance is smooth; by the cosine inside it has a kink at the critical angle.

    Parameters
    ----------
    index : float
        Refractive index of the film.

    Returns
    -------
    Directions
    """
    critical = float(cosine_inside(0.0, index))
    lit = float(np.cos(np.radians(LIT_AT_DEG)))
    viewed = float(np.cos(np.radians(VIEWED_AT_DEG)))
    nodes, weights = np.polynomial.legendre.leggauss(TRAPPED_NODES)
    grazing, steep = (
        _radau(0.0, lit, ESCAPING_NODES),
        _radau(lit, viewed, ESCAPING_NODES),
    )
    outside = np.concatenate([grazing[0], steep[0]])
    inside = cosine_inside(outside, index)
    # mu dmu inside is mu dmu outside / index**2.
    escaping = np.concatenate([grazing[1], steep[1]]) * outside / (index**2 * inside)
    return Directions(
        cosine=np.concatenate([(nodes + 1.0) * critical / 2.0, inside]),
        weight=np.concatenate([weights * critical / 2.0, escaping]),
        reflected=np.concatenate(
            [np.ones(TRAPPED_NODES), fresnel_reflectance(outside, index)]
        ),
        lit=TRAPPED_NODES + ESCAPING_NODES - 1,
        viewed=TRAPPED_NODES + 2 * ESCAPING_NODES - 1,
    )


def _starting_layer(
    albedo: NDArray[np.floating], depth: float, ways: Directions
) -> tuple[Matrix, Matrix]:
    """Reflection and transmission of a thin layer (Wiscombe's diamond scheme)."""
    n = ways.cosine.size
    unit = np.eye(n)
    scatter = (
        0.5 * albedo[:, None, None] * (ways.weight[None, :] / ways.cosine[:, None])
    )
    alpha = 0.5 * depth * (np.diag(1.0 / ways.cosine) - scatter)
    beta = 0.5 * depth * scatter
    back = np.linalg.solve(unit + alpha, beta)
    spread = np.linalg.inv(unit + alpha - beta @ back)
    return 2.0 * back @ spread, 2.0 * spread - unit


def _doubled(reflection: Matrix, transmission: Matrix) -> tuple[Matrix, Matrix]:
    """Two equal layers on top of each other."""
    unit = np.eye(reflection.shape[-1])
    # T (1 - R R)^-1 solved from the right through the transpose.
    bounced = np.swapaxes(
        np.linalg.solve(
            np.swapaxes(unit - reflection @ reflection, -1, -2),
            np.swapaxes(transmission, -1, -2),
        ),
        -1,
        -2,
    )
    return (
        reflection + bounced @ reflection @ transmission,
        bounced @ transmission,
    )


def _seen_from_air(
    reflection: Matrix, transmission: Matrix, ways: Directions, index: float
) -> FilmTerms:
    """Close a layer with the surface above and read it at 45/0."""
    unit = np.eye(ways.cosine.size)
    flux = 2.0 * ways.weight * ways.cosine
    passed = 1.0 - ways.reflected
    closed = np.linalg.inv(unit - reflection * ways.reflected)
    # Unit irradiance, so pi times a radiance is a reflectance factor.
    beam = passed[ways.lit] / flux[ways.lit]
    up_from_beam = (closed @ reflection)[..., :, ways.lit] * beam
    lit_column = np.zeros(ways.cosine.size)
    lit_column[ways.lit] = beam
    down = np.einsum(
        "...ij,...j->...i", transmission, lit_column + ways.reflected * up_from_beam
    )
    up_from_backing = (closed @ transmission).sum(axis=-1)
    returned = reflection.sum(axis=-1) + np.einsum(
        "...ij,...j->...i", transmission, ways.reflected * up_from_backing
    )
    exit_share = passed[ways.viewed] / index**2
    return FilmTerms(
        exit_share * up_from_beam[..., ways.viewed],
        exit_share * up_from_backing[..., ways.viewed] * (down @ flux),
        returned @ flux,
    )


def solve_films(
    albedo: NDArray[np.floating],
    octaves: int,
    per_octave: int = 1,
    index: float = REFRACTIVE_INDEX,
) -> tuple[Matrix, FilmTerms]:
    """Films of many albedos at geometrically spaced optical depths.

    Parameters
    ----------
    albedo : array, shape (a,)
        Single-scattering albedo, 0..1.
    octaves : int
        How often the depth doubles from ``STARTING_DEPTH``.
    per_octave : int
        Depths in each octave.
    index : float
        Refractive index of the film.

    Returns
    -------
    depth : array, shape (octaves * per_octave,)
        Optical depths, ascending.
    terms : FilmTerms
        Arrays of shape (a, octaves * per_octave), as read in air at 45/0.

    References
    ----------
    .. [1] H. C. van de Hulst, "Multiple Light Scattering", Academic Press, 1980.
    .. [2] W. J. Wiscombe, "On initialization, error and flux conservation in the
       doubling method", J. Quant. Spectrosc. Radiat. Transfer 16 (1976) 637.
    .. [3] S. A. Prahl, M. J. C. van Gemert and A. J. Welch, "Determining the optical
       properties of turbid media by using the adding-doubling method", Appl. Opt. 32
       (1993) 559.
    """
    ways = directions(index)
    albedo = np.asarray(albedo, dtype=np.float64)
    depth = STARTING_DEPTH * 2.0 ** (np.arange(octaves * per_octave) / per_octave)
    solved = np.empty((3, albedo.size, depth.size))
    for start in range(per_octave):
        layer = _starting_layer(albedo, depth[start], ways)
        for octave in range(octaves):
            if octave:
                layer = _doubled(*layer)
            column = octave * per_octave + start
            solved[:, :, column] = _seen_from_air(*layer, ways, index)
    return depth, FilmTerms(*solved)
