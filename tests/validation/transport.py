"""Exact light transport in a paint film over a Lambertian backing.

The film is plane-parallel, scatters isotropically, has the refractive index of a
binder and a smooth top surface; below, it is in optical contact with a diffusing
backing. The transfer equation is solved by discrete ordinates. In half-range sums
and differences of the radiance it becomes one symmetric eigenproblem of half size,
which depends on the albedo only, so one decomposition serves every thickness
(S. Chandrasekhar, *Radiative Transfer*, 1950; the half-size reduction after
K. Stamnes and R. A. Swanson, J. Atmos. Sci. 38, 387, 1981; both from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import roots_jacobi, roots_legendre

FloatArray = NDArray[np.float64]
Geometry = Literal["45/0", "d/8"]

INDEX = 1.5
"""Refractive index of the dry binder."""

TRAPPED_NODES = 7
"""Directions beyond the critical angle, which never leave the film."""

GRAZING_NODES = 4
"""Directions that leave the film at 45 degrees to the normal or more."""

STEEP_NODES = 3
"""Directions that leave the film within 45 degrees of the normal."""

CHUNK = 1 << 15
"""Films solved at once; bounds the memory for the matrices to some 100 MB."""


@dataclass(frozen=True)
class Quadrature:
    """Directions inside the film.

    Attributes
    ----------
    cosine : FloatArray
        Cosines to the normal, shape (nodes,); the last is 1.
    weight : FloatArray
        Weights, shape (nodes,), summing to 1.
    surface : FloatArray
        Fresnel reflectance of the top surface from inside, shape (nodes,).
    oblique : int
        Index of the direction that is 45 degrees in air.
    """

    cosine: FloatArray
    weight: FloatArray
    surface: FloatArray
    oblique: int


@dataclass(frozen=True)
class Film:
    """What a film does with light, for any Lambertian backing.

    The measured reflectance is ``black + through * Rg / (1 - back * Rg)`` for a
    backing of reflectance Rg seen from inside the film.

    Attributes
    ----------
    black : FloatArray
        Reflectance factor over a backing that absorbs everything.
    through : FloatArray
        Product of the transmittances down to and up from the backing.
    back : FloatArray
        Diffuse reflectance of film and top surface, seen from the backing.
    """

    black: FloatArray
    through: FloatArray
    back: FloatArray

    def over(self, backing: ArrayLike) -> FloatArray:
        """Return the reflectance factor over a backing.

        Parameters
        ----------
        backing : ArrayLike
            Reflectance seen from inside the film, 0 to 1; broadcasts against the
            film arrays.

        Returns
        -------
        FloatArray
            Reflectance factor relative to the perfect diffuser.
        """
        inside = np.asarray(backing, dtype=np.float64)
        return self.black + self.through * inside / (1.0 - self.back * inside)


def fresnel(cosine_air: ArrayLike, index: float = INDEX) -> FloatArray:
    """Return the reflectance of a smooth surface for unpolarised light.

    Parameters
    ----------
    cosine_air : ArrayLike
        Cosine of the angle in air to the normal.
    index : float
        Refractive index of the film.

    Returns
    -------
    FloatArray
        Reflectance, the same from either side along the refracted ray.
    """
    air = np.asarray(cosine_air, dtype=np.float64)
    film = np.sqrt(1.0 - (1.0 - air**2) / index**2)
    across = (air - index * film) / (air + index * film)
    along = (index * air - film) / (index * air + film)
    return np.asarray(0.5 * (across**2 + along**2))


def _radau(count: int, low: float, high: float) -> tuple[FloatArray, FloatArray]:
    """Return Gauss-Radau nodes and weights, ascending, that include `high`."""
    free, free_weight = roots_jacobi(count - 1, 1.0, 0.0)
    node = np.append(free, 1.0)
    weight = np.append(free_weight / (1.0 - free), 2.0 / count**2)
    half = 0.5 * (high - low)
    return low + half * (node + 1.0), half * weight


@cache
def quadrature(
    trapped: int = TRAPPED_NODES,
    grazing: int = GRAZING_NODES,
    steep: int = STEEP_NODES,
) -> Quadrature:
    """Build directions that end exactly on the measuring angles.

    The escape cone is laid out in the cosine in air, because the Fresnel
    transmittance is smooth in it, but has a square-root edge at the critical angle
    in the cosine inside.

    Parameters
    ----------
    trapped : int
        Nodes beyond the critical angle.
    grazing, steep : int
        Nodes of the escape cone, up to and from 45 degrees in air.

    Returns
    -------
    Quadrature
        The ``trapped + grazing + steep`` directions, cosines ascending.
    """
    critical = np.sqrt(1.0 - 1.0 / INDEX**2)
    node, weight = roots_legendre(trapped)
    edge = float(np.sqrt(0.5))
    pieces = (_radau(grazing, 0.0, edge), _radau(steep, edge, 1.0))
    air = np.concatenate([piece[0] for piece in pieces])
    cone = np.sqrt(1.0 - (1.0 - air**2) / INDEX**2)
    cone_weight = np.concatenate([p[1] for p in pieces]) * air / (INDEX**2 * cone)
    # Without this, isotropic scattering would not conserve energy exactly.
    cone_weight *= (1.0 - critical) / cone_weight.sum()
    return Quadrature(
        cosine=np.concatenate([0.5 * critical * (node + 1.0), cone]),
        weight=np.concatenate([0.5 * critical * weight, cone_weight]),
        surface=np.concatenate([np.ones(trapped), fresnel(air)]),
        oblique=trapped + grazing - 1,
    )


def transport_coefficients(
    absorption: ArrayLike, scattering: ArrayLike
) -> tuple[FloatArray, FloatArray]:
    """Convert two-flux K and S into extinction and albedo.

    Uses mu_a = K / 2 and mu_s = 4/3 (S + mu_a / 4) for isotropic scattering.

    Parameters
    ----------
    absorption, scattering : ArrayLike
        K and S, 1/um, broadcast together.

    Returns
    -------
    extinction : FloatArray
        mu_a + mu_s, 1/um.
    albedo : FloatArray
        mu_s / (mu_a + mu_s); 0 where there is nothing in the film.
    """
    absorbed = 0.5 * np.asarray(absorption, dtype=np.float64)
    scattered = 4.0 / 3.0 * (np.asarray(scattering, dtype=np.float64) + absorbed / 4.0)
    extinction = absorbed + scattered
    albedo = np.divide(
        scattered, extinction, out=np.zeros_like(extinction), where=extinction > 0.0
    )
    return extinction, albedo


def _eigenmodes(albedo: FloatArray, rule: Quadrature) -> tuple[FloatArray, FloatArray]:
    """Return decay rates (films, nodes) and modes (films, nodes, nodes)."""
    outward = np.sqrt(rule.weight) / rule.cosine
    operator = np.diag(rule.cosine**-2.0) - albedo[:, None, None] * np.outer(
        outward, outward
    )
    squared, modes = np.linalg.eigh(operator)
    # Rounding makes the smallest eigenvalue of a conservative film negative.
    return np.sqrt(np.maximum(squared, 0.0)), modes


def _slab(
    rate: FloatArray, modes: FloatArray, depth: FloatArray, rule: Quadrature
) -> tuple[FloatArray, FloatArray]:
    """Return reflection and transmission of the bare scattering layer.

    Light entering both faces alike excites only even solutions, k tanh(k t / 2);
    entering them with opposite sign, only odd ones, tanh(k t / 2) / k. Both stay
    finite for no absorption, no thickness, and any thickness, so nothing overflows.
    Amplitudes are scaled by the root of their flux, which makes all matrices
    symmetric.
    """
    half = 0.5 * depth[:, None]
    argument = rate * half
    bounded = np.tanh(argument)
    small = argument < 1e-6
    odd = np.where(small, half, bounded / np.where(small, 1.0, rate))
    root = np.sqrt(rule.cosine)[:, None]
    identity = np.eye(rule.cosine.size)
    even_modes = root * modes
    even = (even_modes * (rate * bounded)[:, None, :]) @ even_modes.swapaxes(-1, -2)
    odd_modes = modes / root
    odd_part = (odd_modes * odd[:, None, :]) @ odd_modes.swapaxes(-1, -2)
    even_inverse = np.linalg.inv(identity + even)
    odd_inverse = np.linalg.inv(identity + odd_part)
    return even_inverse - odd_inverse, even_inverse + odd_inverse - identity


def _measure(
    reflection: FloatArray, transmission: FloatArray, rule: Quadrature
) -> dict[Geometry, Film]:
    """Close the layer with the top surface and read it in both geometries."""
    nodes = rule.cosine.size
    normal = nodes - 1
    flux = np.sqrt(2.0 * rule.cosine * rule.weight)
    clear = 1.0 - rule.surface
    beam_oblique = np.zeros(nodes)
    beam_oblique[rule.oblique] = clear[rule.oblique] / flux[rule.oblique]
    beam_normal = np.zeros(nodes)
    beam_normal[normal] = clear[normal] / flux[normal]
    diffuse = flux / (flux @ flux)

    beams = np.stack([beam_oblique, beam_normal], axis=-1)
    sources = np.concatenate(
        [reflection @ beams, (transmission @ diffuse)[..., None]], axis=-1
    )
    rising = np.linalg.solve(np.eye(nodes) - reflection * rule.surface, sources)
    falling = rule.surface[:, None] * rising
    falling[..., :2] += beams
    arriving = ((flux @ transmission)[:, None, :] @ falling)[:, 0]
    back = arriving[:, 2] + (reflection @ diffuse) @ flux

    # Leaving the film, a beam spreads: radiance falls by the square of the index.
    at_normal = np.zeros(nodes)
    at_normal[normal] = clear[normal] / (INDEX**2 * flux[normal])
    readings: dict[Geometry, tuple[FloatArray, int]] = {
        "45/0": (at_normal, 0),
        "d/8": (clear * flux, 1),
    }
    films: dict[Geometry, Film] = {}
    for geometry, (detector, beam) in readings.items():
        seen = detector @ rising
        films[geometry] = Film(
            black=seen[:, beam], through=arriving[:, beam] * seen[:, 2], back=back
        )
    return films


def solve(
    absorption: ArrayLike,
    scattering: ArrayLike,
    thickness: ArrayLike,
    rule: Quadrature | None = None,
) -> dict[Geometry, Film]:
    """Solve films of one or more paints at a series of thicknesses.

    Reflectance factors are relative to the perfect diffuser and exclude the gloss:
    ``45/0`` is a beam at 45 degrees in air viewed along the normal, ``d/8`` a beam
    near the normal collected over the hemisphere without the first-surface
    reflection (0.04).

    Parameters
    ----------
    absorption, scattering : ArrayLike
        Two-flux K and S, 1/um, of any common shape.
    thickness : ArrayLike
        Dry film thicknesses, um, shape (thicknesses,).
    rule : Quadrature, optional
        Directions; the default ones are within 2e-4 of the limit.

    Returns
    -------
    dict of Geometry to Film
        Arrays of the shape of `absorption` with an axis of thicknesses appended.
    """
    rule = quadrature() if rule is None else rule
    extinction, albedo = transport_coefficients(absorption, scattering)
    layers = np.asarray(thickness, dtype=np.float64)
    shape = (*extinction.shape, layers.size)
    depth = extinction.reshape(-1, 1) * layers
    single = albedo.reshape(-1)
    step = max(1, CHUNK // layers.size)
    parts: list[dict[Geometry, Film]] = []
    for start in range(0, single.size, step):
        rate, modes = _eigenmodes(single[start : start + step], rule)
        reflection, transmission = _slab(
            np.repeat(rate, layers.size, axis=0),
            np.repeat(modes, layers.size, axis=0),
            depth[start : start + step].reshape(-1),
            rule,
        )
        parts.append(_measure(reflection, transmission, rule))
    return {
        geometry: Film(
            black=np.concatenate([p[geometry].black for p in parts]).reshape(shape),
            through=np.concatenate([p[geometry].through for p in parts]).reshape(shape),
            back=np.concatenate([p[geometry].back for p in parts]).reshape(shape),
        )
        for geometry in parts[0]
    }


def inside_reflectance(measured: ArrayLike, geometry: Geometry) -> FloatArray:
    """Return the reflectance of a bare Lambertian base, seen from under its skin.

    Parameters
    ----------
    measured : ArrayLike
        Reflectance factor in air, gloss excluded, of a base under a clear skin.
    geometry : Geometry
        The geometry it was measured in.

    Returns
    -------
    FloatArray
        Reflectance inside, the `backing` that reproduces `measured`.
    """
    skin = solve(0.0, 0.0, [0.0])[geometry]
    outside = np.asarray(measured, dtype=np.float64)
    return outside / (skin.through + skin.back * outside)
