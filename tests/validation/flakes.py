"""Light among discrete flakes, followed ray by ray.

Flakes are thin discs at random places in a film with a smooth surface over a Lambertian
backing. They lie flat where it comes to what is in whose way; the way they mirror
follows a distribution of tilts. Pigment between them absorbs and scatters. Each ray
carries a whole spectrum; at each meeting the light that would reach the five views is
added up (next-event estimation), so that even a dark flop is nearly free of noise.

Nothing here is averaged over azimuth, layers are not added, and gaps between flakes are
real ones: a ray finds its way out through the gap that it came in by.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .flake_rays import INDEX, follow, fresnel_from_inside

FloatArray = NDArray[np.float64]

LIT_DEG = 45.0
ASPECULAR_DEG = (15.0, 25.0, 45.0, 75.0, 110.0)
ORDERS = 7
"""Meetings with the backing that are followed one by one; later ones as a series."""
RAYS_PER_FILM = 20_000
RAYS_PER_PLACING = 250
"""Rays that see the same flakes; then all flakes are placed anew."""
TILTS = 720


@dataclass(frozen=True)
class FlakePaint:
    """A paint with discrete flakes, on any set of wavelengths.

    Attributes
    ----------
    area_per_um : float
        Area of flakes in the volume. [1/um]
    radius_um : float
        Median radius of the flakes; single ones scatter about it. [um]
    radius_spread : float
        Standard deviation of the logarithm of the radius.
    reflectance, transmittance : FloatArray
        Of a flake, shape (wavelengths,).
    edges : float
        Share of what meets a flake that it scatters evenly.
    absorption, scattering : FloatArray
        Between the flakes, for each um of path, shape (wavelengths,). [1/um]
    forward : float
        Henyey and Greenstein's asymmetry of the pigment's scattering.
    tilt_density : FloatArray
        Flake area facing a tilt, per solid angle, on ``tilts_rad()``. [1/sr]
    """

    area_per_um: float
    radius_um: float
    radius_spread: float
    reflectance: FloatArray
    transmittance: FloatArray
    edges: float
    absorption: FloatArray
    scattering: FloatArray
    forward: float
    tilt_density: FloatArray


def tilts_rad() -> FloatArray:
    """Return the tilts on which densities are tabulated, 0 to 90 degrees."""
    return np.linspace(0.0, np.pi / 2.0, TILTS)


def normalised(density: FloatArray) -> FloatArray:
    """Return a density of tilts scaled to integrate to 1 over the half sphere."""
    tilt = tilts_rad()
    total = np.trapezoid(density * 2.0 * np.pi * np.sin(tilt), tilt)
    return np.asarray(density / total)


def trace_reflected(
    paint: FlakePaint, films_um: FloatArray, seed: int, rays: int = RAYS_PER_FILM
) -> FloatArray:
    """Follow rays that never meet a backing, in films of many thicknesses at once.

    A ray in a thick film is a ray in every film that is thicker than the ray was
    deep. So what films lack against a thicker one is free of the noise of the rest.

    Parameters
    ----------
    paint : FlakePaint
        The paint.
    films_um : FloatArray
        Dry films, ascending. [um]
    seed : int
        Of the random numbers.
    rays : int
        How many.

    Returns
    -------
    FloatArray
        Reflectance factors over black, shape (films, views, wavelengths).
    """
    sums, _ = _follow(paint, films_um, seed, rays, 0)
    return np.asarray(np.cumsum(sums, axis=0) / rays)


def trace_leak(
    paint: FlakePaint, film_um: float, seed: int, rays: int = RAYS_PER_FILM
) -> FloatArray:
    """Follow rays that meet a backing which returns everything.

    Parameters
    ----------
    paint : FlakePaint
        The paint.
    film_um : float
        Dry film. [um]
    seed : int
        Of the random numbers.
    rays : int
        How many.

    Returns
    -------
    FloatArray
        Reflectance factors by the number of meetings with the backing, from 1, shape
        (ORDERS, views, wavelengths).
    """
    _, sums = _follow(paint, np.array([film_um]), seed, rays, ORDERS)
    return np.asarray(sums / rays)


def _follow(
    paint: FlakePaint, films_um: FloatArray, seed: int, rays: int, orders: int
) -> tuple[FloatArray, FloatArray]:
    tilt = tilts_rad()
    cumulated = np.cumsum(paint.tilt_density * np.sin(tilt))
    cumulated /= cumulated[-1]
    return follow(  # type: ignore[no-any-return]
        (paint.area_per_um, paint.radius_um, paint.radius_spread),
        (paint.edges, paint.forward),
        (
            paint.reflectance,
            paint.transmittance,
            paint.absorption + paint.scattering,
            paint.scattering,
        ),
        (tilt, paint.tilt_density, cumulated, _facing(paint.tilt_density)),
        _views(),
        np.asarray(films_um, dtype=np.float64),
        (seed, rays, RAYS_PER_PLACING, orders),
    )


def over(
    black: FloatArray, leak: FloatArray, backing: FloatArray | float
) -> FloatArray:
    """Return readings over a backing.

    Parameters
    ----------
    black : FloatArray
        Readings over black, shape (..., views, wavelengths).
    leak : FloatArray
        As :func:`trace_leak` gives it, shape (..., ORDERS, views, wavelengths).
    backing : FloatArray or float
        Reflectance seen from inside the film, 0 to 1, shape (wavelengths,).

    Returns
    -------
    FloatArray
        Shape (..., views, wavelengths).
    """
    inside = np.asarray(backing, dtype=np.float64)
    power = np.stack([inside ** (order + 1) for order in range(ORDERS)], axis=0)
    power = power.reshape(ORDERS, 1, -1)
    total = black + (leak * power).sum(axis=-3)
    before, last = leak[..., -2, :, :], leak[..., -1, :, :]
    ratio = np.divide(last, before, out=np.zeros_like(last), where=before > 0.0)
    ratio = np.minimum(ratio, 0.95) * inside
    return np.asarray(total + last * power[-1] * ratio / (1.0 - ratio))


def _facing(density: FloatArray) -> FloatArray:
    """Mean |n . d| over the tilts, by the cosine of d: 101 of them from 0 to 1."""
    tilt = tilts_rad()
    turn = (np.arange(180) + 0.5) * np.pi / 180.0
    weight = density * 2.0 * np.pi * np.sin(tilt) * (tilt[1] - tilt[0])
    facing = np.empty(101)
    for place, cosine in enumerate(np.linspace(0.0, 1.0, 101)):
        sine = np.sqrt(1.0 - cosine**2)
        dot = np.abs(
            sine * np.sin(tilt)[:, None] * np.cos(turn) + cosine * np.cos(tilt)[:, None]
        )
        facing[place] = (dot.mean(axis=1) * weight).sum()
    return facing


def _views() -> tuple[FloatArray, FloatArray, FloatArray, float, float, float]:
    """Directions of the views in the film, their way out, and the incoming ray."""
    angle = np.radians(LIT_DEG - np.array(ASPECULAR_DEG))
    sine = np.sin(angle) / INDEX
    cosine = np.sqrt(1.0 - sine**2)
    out = np.array([(1.0 - fresnel_from_inside(float(c))) / INDEX**2 for c in cosine])
    lit_sine = float(np.sin(np.radians(LIT_DEG)) / INDEX)
    lit_cosine = float(np.sqrt(1.0 - lit_sine**2))
    entering = 1.0 - fresnel_from_inside(lit_cosine)
    return sine, cosine, out, lit_sine, lit_cosine, entering
