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

import numba
import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

INDEX = 1.5
"""Refractive index of the binder."""
LIT_DEG = 45.0
ASPECULAR_DEG = (15.0, 25.0, 45.0, 75.0, 110.0)
ORDERS = 7
"""Meetings with the backing that are followed one by one; later ones as a series."""
RAYS_PER_FILM = 20_000
RAYS_PER_PLACING = 250
"""Rays that see the same flakes; then all flakes are placed anew."""
TILTS = 720
_BOX_RADII = 9.0
_SMALLEST_BOX_UM = 60.0
_MOST_MEETINGS = 400
_DIM, _SURVIVAL = 2e-3, 0.1


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
    return _trace(  # type: ignore[no-any-return]
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


def _fresnel_from_inside(cosine: float) -> float:
    sine = np.sqrt(max(0.0, 1.0 - cosine * cosine)) * INDEX
    if sine >= 1.0:
        return 1.0
    out = np.sqrt(1.0 - sine * sine)
    across = (INDEX * cosine - out) / (INDEX * cosine + out)
    along = (INDEX * out - cosine) / (INDEX * out + cosine)
    return 0.5 * (across * across + along * along)


_fresnel = numba.njit(cache=True)(_fresnel_from_inside)


def _views() -> tuple[FloatArray, FloatArray, FloatArray, float, float, float]:
    """Directions of the views in the film, their way out, and the incoming ray."""
    angle = np.radians(LIT_DEG - np.array(ASPECULAR_DEG))
    sine = np.sin(angle) / INDEX
    cosine = np.sqrt(1.0 - sine**2)
    out = np.array([(1.0 - _fresnel_from_inside(float(c))) / INDEX**2 for c in cosine])
    lit_sine = float(np.sin(np.radians(LIT_DEG)) / INDEX)
    lit_cosine = float(np.sqrt(1.0 - lit_sine**2))
    return (
        sine,
        cosine,
        out,
        lit_sine,
        lit_cosine,
        1.0 - _fresnel_from_inside(lit_cosine),
    )


@numba.njit(cache=True, fastmath=True)
def _place(film, area, radius, spread, box):  # type: ignore[no-untyped-def] # noqa: ANN001, ANN202
    """Discs at random places, sorted by depth."""
    mean_area = np.pi * radius**2 * np.exp(2.0 * spread**2)
    wanted = area * film * box * box / mean_area
    count = int(wanted + np.random.random())  # noqa: NPY002
    discs = np.empty((count, 4))
    depth = np.sort(np.random.random(count)) * film  # noqa: NPY002
    for i in range(count):
        discs[i, 0] = np.random.random() * box  # noqa: NPY002
        discs[i, 1] = np.random.random() * box  # noqa: NPY002
        discs[i, 2] = depth[i]
        discs[i, 3] = (radius * np.exp(spread * np.random.normal())) ** 2  # noqa: NPY002
    return discs


@numba.njit(cache=True, fastmath=True)
def _next_disc(discs, box, at, way, own):  # type: ignore[no-untyped-def] # noqa: ANN001, ANN202
    """First disc on a ray's way, and the distance to it; -1 where there is none."""
    count = discs.shape[0]
    step = 1 if way[2] > 0.0 else -1
    if own >= 0:
        place = own + step
    else:
        place = np.searchsorted(discs[:, 2], at[2])
        if step < 0:
            place -= 1
    while 0 <= place < count:
        distance = (discs[place, 2] - at[2]) / way[2]
        dx = at[0] + way[0] * distance - discs[place, 0]
        dy = at[1] + way[1] * distance - discs[place, 1]
        dx -= box * np.round(dx / box)
        dy -= box * np.round(dy / box)
        if dx * dx + dy * dy < discs[place, 3]:
            return place, distance
        place += step
    return -1, 1e30


@numba.njit(cache=True, fastmath=True)
def _discs_on_way_out(discs, box, at, view, own, most):  # type: ignore[no-untyped-def] # noqa: ANN001, ANN202
    """How many discs stand between a place and the surface, counted up to most."""
    here = at.copy()
    met = 0
    while met <= most:
        own, distance = _next_disc(discs, box, here, view, own)
        if own < 0:
            break
        met += 1
        for axis in range(3):
            here[axis] += view[axis] * distance
    return met


@numba.njit(cache=True, fastmath=True)
def _add_views(sums, weight, share, at, own, discs, box, passes, lost, views):  # type: ignore[no-untyped-def] # noqa: ANN001, ANN202
    """Add what reaches the views from one meeting; share is by view and wavelength."""
    sine, cosine, out, _, _, _ = views
    waves = weight.size
    most = 0 if passes.max() < 1e-3 else 12
    view = np.zeros(3)
    for v in range(sine.size):
        if share[v].max() <= 0.0:
            continue
        view[0], view[2] = sine[v], -cosine[v]
        met = _discs_on_way_out(discs, box, at, view, own, most)
        if met > most:
            continue
        path = at[2] / cosine[v]
        scale = np.pi * out[v] / cosine[v]
        for w in range(waves):
            through = np.exp(-lost[w] * path) * passes[w] ** met
            sums[v, w] += weight[w] * share[v, w] * scale * through


@numba.njit(cache=True, fastmath=True)
def _turn(way, cosine):  # type: ignore[no-untyped-def] # noqa: ANN001, ANN202
    """A direction at an angle to another, anywhere about it."""
    azimuth = 2.0 * np.pi * np.random.random()  # noqa: NPY002
    sine = np.sqrt(max(0.0, 1.0 - cosine * cosine))
    if abs(way[2]) < 0.999:
        side = np.array([-way[1], way[0], 0.0])
    else:
        side = np.array([1.0, 0.0, 0.0])
    side /= np.sqrt((side * side).sum())
    other = np.cross(way, side)
    turned = (
        cosine * way + sine * np.cos(azimuth) * side + sine * np.sin(azimuth) * other
    )
    return turned / np.sqrt((turned * turned).sum())


@numba.njit(cache=True, fastmath=True)
def _mirrored(way, tilt, cumulated):  # type: ignore[no-untyped-def] # noqa: ANN001, ANN202
    """Direction after a flake whose tilt is drawn by the area that it shows."""
    up = np.array([0.0, 0.0, 1.0])
    while True:
        place = np.searchsorted(cumulated, np.random.random())  # noqa: NPY002
        normal = _turn(up, np.cos(tilt[min(place, tilt.size - 1)]))
        dot = (way * normal).sum()
        if np.random.random() < abs(dot):  # noqa: NPY002
            return way - 2.0 * dot * normal


@numba.njit(cache=True, fastmath=True)
def _phase(cosine, forward):  # type: ignore[no-untyped-def] # noqa: ANN001, ANN202
    g = forward
    return (1.0 - g * g) / (4.0 * np.pi * (1.0 + g * g - 2.0 * g * cosine) ** 1.5)


@numba.njit(cache=True, fastmath=True)
def _scattered(way, forward):  # type: ignore[no-untyped-def] # noqa: ANN001, ANN202
    g = forward
    draw = np.random.random()  # noqa: NPY002
    if abs(g) < 1e-3:
        return _turn(way, 2.0 * draw - 1.0)
    inner = (1.0 - g * g) / (1.0 - g + 2.0 * g * draw)
    return _turn(way, (1.0 + g * g - inner * inner) / (2.0 * g))


@numba.njit(cache=True, fastmath=True)
def _trace(body, kind, spectra, lying, views, films, numbers):  # type: ignore[no-untyped-def] # noqa: ANN001, ANN202, C901, PLR0912, PLR0915
    area, radius, spread = body
    film = films[-1]
    edges, forward = kind
    reflectance, transmittance, lost, scattering = spectra
    tilt, density, cumulated, facing = lying
    sine, cosine, _, lit_sine, lit_cosine, entering = views
    seed, rays, per_placing, orders = numbers
    np.random.seed(seed)  # noqa: NPY002
    box = max(_BOX_RADII * radius, _SMALLEST_BOX_UM)
    waves = lost.size
    reflected = np.zeros((films.size, sine.size, waves))
    leaked = np.zeros((max(orders, 1), sine.size, waves))
    # Shares of one flake: mirrored, passed on, scattered evenly.
    shares = np.stack(
        (
            (1.0 - edges) * reflectance,
            (1.0 - edges) * transmittance,
            edges * (reflectance + transmittance),
        )
    )
    chance = np.array([shares[0].mean(), shares[1].mean(), shares[2].mean()])
    chance = chance / chance.sum()
    passes = shares[1]
    cosines = np.linspace(0.0, 1.0, facing.size)
    share = np.empty((sine.size, waves))
    at, way = np.empty(3), np.empty(3)
    discs = _place(film, area, radius, spread, box)
    for ray in range(rays):
        if ray % per_placing == 0:
            discs = _place(film, area, radius, spread, box)
        at[0], at[1], at[2] = np.random.random() * box, np.random.random() * box, 0.0  # noqa: NPY002
        way[0], way[1], way[2] = lit_sine, 0.0, lit_cosine
        weight = np.full(waves, entering)
        # One wavelength, drawn for each ray, says how far it goes. Weights are shared
        # out over the chances that each wavelength would have had to lead it here
        # (the balance heuristic), so none can grow beyond the number of them.
        leading = scattering[np.random.randint(waves)]  # noqa: NPY002
        likely = np.ones(waves)
        own, order, deepest = -1, 0, 0.0
        sums = reflected[0]
        for _ in range(_MOST_MEETINGS):
            free = -np.log(1.0 - np.random.random()) / leading  # noqa: NPY002
            edge = (film - at[2]) / way[2] if way[2] > 0.0 else -at[2] / way[2]
            disc, distance = _next_disc(discs, box, at, way, own)
            reach = min(free, edge, distance)
            for axis in range(3):
                at[axis] += way[axis] * reach
            weight = weight * np.exp(-lost * reach)
            likely = likely * np.exp(-scattering * reach)
            if free < edge and free < distance:
                weight = weight * scattering
                likely = likely * scattering
            total = likely.mean()
            weight = weight / total
            likely = likely / total
            deepest = max(deepest, at[2])
            if order == 0 and orders == 0:
                sums = reflected[min(np.searchsorted(films, deepest), films.size - 1)]
            told = order > 0 or orders == 0
            if free < edge and free < distance:
                own = -1
                if told:
                    for v in range(sine.size):
                        turned = way[0] * sine[v] - way[2] * cosine[v]
                        share[v] = _phase(turned, forward)
                    _add_views(
                        sums, weight, share, at, own, discs, box, passes, lost, views
                    )
                way = _scattered(way, forward)
            elif distance < edge:
                own = disc
                if told:
                    met = np.interp(abs(way[2]), cosines, facing)
                    for v in range(sine.size):
                        hx, hz = sine[v] - way[0], -cosine[v] - way[2]
                        length = np.sqrt(hx * hx + way[1] * way[1] + hz * hz)
                        leaning = np.arccos(min(1.0, abs(hz) / length))
                        mirror = np.interp(leaning, tilt, density) / (4.0 * met)
                        share[v] = shares[0] * mirror + shares[2] / (4.0 * np.pi)
                    _add_views(
                        sums, weight, share, at, own, discs, box, passes, lost, views
                    )
                draw = np.random.random()  # noqa: NPY002
                if draw < chance[0]:
                    weight = weight * shares[0] / chance[0]
                    way = _mirrored(way, tilt, cumulated)
                elif draw < chance[0] + chance[1]:
                    weight = weight * shares[1] / chance[1]
                else:
                    weight = weight * shares[2] / chance[2]
                    way = _turn(way, 2.0 * np.random.random() - 1.0)  # noqa: NPY002
            elif way[2] < 0.0:
                own = -1
                at[2] = 0.0
                weight = weight * _fresnel(-way[2])
                way[2] = -way[2]
            else:
                own = -1
                at[2] = film
                if order == orders:
                    break
                sums = leaked[order]
                order += 1
                for v in range(sine.size):
                    share[v] = cosine[v] / np.pi
                _add_views(
                    sums, weight, share, at, own, discs, box, passes, lost, views
                )
                up = np.array([0.0, 0.0, -1.0])
                way = _turn(up, np.sqrt(np.random.random()))  # noqa: NPY002
            if abs(way[2]) < 1e-4:
                way[2] = 1e-4 if way[2] >= 0.0 else -1e-4
            if weight.max() < _DIM:
                if np.random.random() > _SURVIVAL:  # noqa: NPY002
                    break
                weight = weight / _SURVIVAL
    return reflected, leaked
