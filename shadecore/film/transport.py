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
from shadecore.film.ladder import STARTING_DEPTH
from shadecore.film.two_flux import FilmTerms

Matrix = NDArray[np.float64]

TRAPPED_NODES = 8
"""Directions beyond the critical angle, where light is totally reflected. More of them
change the film's reading only from the seventh digit on."""
ESCAPING_NODES = 5
"""Directions in each of the two ranges that reach the air: between the surface and the
lit ray, and between the lit ray and the vertical."""


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


def directions(
    index: float = REFRACTIVE_INDEX,
    trapped_nodes: int = TRAPPED_NODES,
    escaping_nodes: int = ESCAPING_NODES,
) -> Directions:
    """Quadrature directions, among them the two rays of the 45/0 geometry.

    Directions that reach the air are spaced by their cosine in air, along which the
    surface's reflectance is smooth. Along the cosine inside the film it has a kink at
    the critical angle, which would cost accuracy.

    Parameters
    ----------
    index : float
        Refractive index of the film.
    trapped_nodes : int
        Directions beyond the critical angle.
    escaping_nodes : int
        Directions in each of the two cones that reach the air.
    """
    critical = float(cosine_inside(0.0, index))
    lit = float(np.cos(np.radians(LIT_AT_DEG)))
    viewed = float(np.cos(np.radians(VIEWED_AT_DEG)))
    nodes, weights = np.polynomial.legendre.leggauss(trapped_nodes)
    grazing, steep = (
        _radau(0.0, lit, escaping_nodes),
        _radau(lit, viewed, escaping_nodes),
    )
    outside = np.concatenate([grazing[0], steep[0]])
    inside = cosine_inside(outside, index)
    # Snell's law, differentiated: mu dmu inside = mu dmu outside / index**2.
    escaping = np.concatenate([grazing[1], steep[1]]) * outside / (index**2 * inside)
    return Directions(
        cosine=np.concatenate([(nodes + 1.0) * critical / 2.0, inside]),
        weight=np.concatenate([weights * critical / 2.0, escaping]),
        reflected=np.concatenate(
            [np.ones(trapped_nodes), fresnel_reflectance(outside, index)]
        ),
        lit=trapped_nodes + escaping_nodes - 1,
        viewed=trapped_nodes + 2 * escaping_nodes - 1,
    )


def _starting_layer(
    albedo: NDArray[np.floating], depth: float, ways: Directions
) -> tuple[Matrix, Matrix]:
    """Reflection and transmission matrices of a thin layer.

    Both act on radiances, one for each direction: column in, row out. Symbols as in
    Wiscombe's diamond initialization (reference [2] of :func:`solve_films`), from
    memory::

        alpha = depth/2 (1/mu - p),  beta = depth/2 p,  p = albedo/2 w/mu
        G = (1 + alpha - beta (1 + alpha)^-1 beta)^-1
        R = 2 (1 + alpha)^-1 beta G,  T = 2 G - 1

    where p is the part scattered into a direction, isotropically.
    """
    n = ways.cosine.size
    unit = np.eye(n)
    scatter = (
        0.5 * albedo[:, None, None] * (ways.weight[None, :] / ways.cosine[:, None])
    )
    alpha = 0.5 * depth * (np.diag(1.0 / ways.cosine) - scatter)
    beta = 0.5 * depth * scatter
    back = np.linalg.solve(unit + alpha, beta)  # (1 + alpha)^-1 beta
    spread = np.linalg.inv(unit + alpha - beta @ back)  # G
    return 2.0 * back @ spread, 2.0 * spread - unit


def _doubled(reflection: Matrix, transmission: Matrix) -> tuple[Matrix, Matrix]:
    """Two equal layers on top of each other.

    The adding formula for layers (references [1] and [3] of :func:`solve_films`), with
    both layers the same and each the same from above and below::

        R' = R + T (1 - R R)^-1 R T,  T' = T (1 - R R)^-1 T

    The inverse sums the light that goes back and forth between the layers.
    """
    unit = np.eye(reflection.shape[-1])
    # X = T (1 - R R)^-1 is solved as (1 - R R)^t X^t = T^t.
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
    """Put the surface on top of a layer and read the two at 45/0.

    The layer lies on a Lambertian backing. Radiances are in units of the one that a
    perfect diffuser in air has under the same lamp, so that a radiance in air is a
    reflectance factor.
    """
    unit = np.eye(ways.cosine.size)
    # Irradiance of a radiance in each direction: 2 mu dmu, which sums to 1.
    flux = 2.0 * ways.weight * ways.cosine
    passed = 1.0 - ways.reflected
    # Light that goes back and forth between layer and surface: (1 - R r)^-1, the adding
    # formula with the surface's reflectance r as the upper layer.
    closed = np.linalg.inv(unit - reflection * ways.reflected)
    # Unit irradiance in the lit direction; the surface lets a part of it in.
    beam = passed[ways.lit] / flux[ways.lit]
    up_from_beam = (closed @ reflection)[..., :, ways.lit] * beam
    lit_column = np.zeros(ways.cosine.size)
    lit_column[ways.lit] = beam
    # Light that reaches the backing: the beam, and what the surface reflects down.
    down = np.einsum(
        "...ij,...j->...i", transmission, lit_column + ways.reflected * up_from_beam
    )
    # Light from a backing of unit radiance in all directions, as it meets the surface.
    up_from_backing = (closed @ transmission).sum(axis=-1)
    # Part of that light that layer and surface return to the backing.
    returned = reflection.sum(axis=-1) + np.einsum(
        "...ij,...j->...i", transmission, ways.reflected * up_from_backing
    )
    # Radiance falls by index**2 on its way out (n-squared law of radiance).
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
