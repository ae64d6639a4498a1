"""The ray tracer's compiled part: where rays go among discs, and what views receive.

:mod:`validation.flakes` says what is traced and how it is called.
"""

# Compiled functions carry no annotations: numba infers their types.
from __future__ import annotations

import numba
import numpy as np

INDEX = 1.5
"""Refractive index of the binder."""
_BOX_RADII = 9.0
_SMALLEST_BOX_UM = 60.0
_MOST_MEETINGS = 400
_DIM, _SURVIVAL = 2e-3, 0.1


def fresnel_from_inside(cosine: float) -> float:
    sine = np.sqrt(max(0.0, 1.0 - cosine * cosine)) * INDEX
    if sine >= 1.0:
        return 1.0
    out = np.sqrt(1.0 - sine * sine)
    across = (INDEX * cosine - out) / (INDEX * cosine + out)
    along = (INDEX * out - cosine) / (INDEX * out + cosine)
    return 0.5 * (across * across + along * along)


_fresnel = numba.njit(cache=True)(fresnel_from_inside)


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
def _add_views(sums, weight, share, at, own, discs, box, passes, lost, views):  # type: ignore[no-untyped-def] # noqa: ANN001, ANN202, PLR0913, PLR0917
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
def follow(body, kind, spectra, lying, views, films, numbers):  # type: ignore[no-untyped-def] # noqa: ANN001, ANN201, C901, PLR0912, PLR0913, PLR0915, PLR0917
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
