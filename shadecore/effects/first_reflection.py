"""Light that a view receives straight from one flake: exact, with finite flakes.

This is most of what makes the face bright, and the only part that depends on the
azimuth; averaging over azimuth would put it into the flop as well.

A ray leaves partly through the gap that it came in by: the two paths meet the same
flakes as long as they are less than a flake apart.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shadecore.effects.geometry import views
from shadecore.effects.optics import LobeSet, Optics

Array = NDArray[np.float64]

_FIRST_NODES, _NEXT_NODES = 16, 4
_LARGEST_STEP = 2.0
"""Two films further apart than this are integrated over in parts."""
_LEAST = 1e-12
_DEEPEST = 30.0
"""Optical depth, in and out together, below which nothing comes back."""


def first_reflection(optics: Optics, lobes: LobeSet, dry_film_um: Array) -> Array:
    """Readings of the light that met one flake's mirror and nothing else.

    Parameters
    ----------
    optics : Optics
        The paints.
    lobes : LobeSet
        How their flakes lie.
    dry_film_um : array, shape (films,)
        Films, ascending, above 0; infinite for one that hides. [um]

    Returns
    -------
    array, shape (paints, wavelengths, films, views)
        Reflectance factors.
    """
    ways = _two_ways(optics, lobes)
    strength = optics.mirrored[..., None] * lobes.density[optics.lobe][:, None]
    return _integral(ways, dry_film_um) * (strength * _geometry())[..., None, :]


def through_gaps(
    optics: Optics, lobes: LobeSet, dry_film_um: Array, apart: Array
) -> Array:
    """Ways down to a backing and up from it, with gaps that both share.

    Light that goes straight down and straight up meets the same flakes near the
    backing. Light that a flake mirrors up on its way down finds the gap that it came
    in by, so less of it is sent down again; how much less is taken at half the depth,
    for a flake that lies flat.

    Parameters
    ----------
    optics : Optics
        The paints.
    lobes : LobeSet
        How their flakes lie.
    dry_film_um : array, shape (films,)
        Films, above 0. [um]
    apart : array, shape (paints, wavelengths, films, views)
        Product of the two ways as if their flakes had nothing in common.

    Returns
    -------
    array, shape (paints, wavelengths, films, views)
    """
    ways = _two_ways(optics, lobes)
    depth = dry_film_um[:, None]
    lost = ways.gone[..., None, :] * depth
    kept = ways.shared[..., None, :] * _overlapped(ways.reach, depth)
    straight = views().passed * np.exp(-lost)
    half = depth / 2.0
    blocked = np.maximum(optics.stopped[..., None, None], _LEAST) * half
    parted = optics.radius_um[:, None, None] / abs(views().lit_tangent)
    shared = (optics.stopped * optics.stopping)[..., None, None]
    still = np.expm1(shared * _overlapped(parted, half) - blocked) / np.expm1(-blocked)
    bounced = np.maximum(apart - straight, 0.0)
    return np.asarray(straight * np.exp(kept) + bounced * still)


class _TwoWays(NamedTuple):
    """The way in and the way out, shapes broadcast to (paints, wavelengths, views).

    Attributes
    ----------
    gone : array
        Light lost on both, as if apart, for each um of depth. [1/um]
    shared : array
        What of it is not lost where both meet the same flakes. [1/um]
    reach : array
        Depth over which two paths part by a flake's diameter. [um]
    """

    gone: Array
    shared: Array
    reach: Array


def _two_ways(optics: Optics, lobes: LobeSet) -> _TwoWays:
    seen = views()
    shown = lobes.shown_to_light[optics.lobe], lobes.shown_to_views[optics.lobe]
    path = optics.absorption + optics.scattering
    return _TwoWays(
        gone=optics.area[..., None] * (shown[0] + shown[1])[:, None]
        + path[..., None] * seen.path,
        # What passes a flake t passes it back t**2: 2 (1 - t) - (1 - t**2).
        shared=(optics.stopped * optics.stopping)[..., None]
        * np.sqrt(shown[0] * shown[1])[:, None],
        reach=2.0 * optics.radius_um[:, None, None] / seen.tangents_together,
    )


def _overlapped(reach: Array, depth: Array) -> Array:
    """Depth over which two paths meet the same flakes, from where they part.

    The share of discs that both meet is the overlap of two discs as far apart as the
    paths, integrated in closed form.
    """
    reach = reach[..., None, :]
    s = np.minimum(depth / reach, 1.0)
    root = np.sqrt(1.0 - s**2)
    return np.asarray(
        reach * (2.0 / np.pi) * (s * np.arccos(s) - root + (2.0 + root**3) / 3.0)
    )


def repeated_reflection(optics: Optics, lobes: LobeSet, dry_film_um: Array) -> Array:
    """First reflection on flakes that lie as much worse as three reflections act.

    Parameters
    ----------
    optics : Optics
        The paints.
    lobes : LobeSet
        How their flakes lie.
    dry_film_um : array, shape (films,)
        Films, above 0; infinite for one that hides. [um]

    Returns
    -------
    array, shape (paints, wavelengths, films, views)
        Reflectance factors, to be scaled by how much of the flux is reflected again.
    """
    shown = lobes.shown_to_light[optics.lobe] + lobes.shown_to_views[optics.lobe]
    path = (optics.absorption + optics.scattering)[..., None] * views().path
    gone = optics.area[..., None] * shown[:, None] + path
    integral = (
        -np.expm1(-gone[..., None, :] * dry_film_um[:, None]) / gone[..., None, :]
    )
    strength = optics.mirrored[..., None] * lobes.density_wide[optics.lobe][:, None]
    return np.asarray(integral * (strength * _geometry())[..., None, :])


def _geometry() -> Array:
    """Reading of one unit of mirroring area facing the right way, shape (views,)."""
    seen = views()
    return np.asarray(np.pi * seen.passed / (4.0 * seen.lit_cosine * seen.cosine))


def _integral(ways: _TwoWays, films: Array) -> Array:
    """Integrate what comes back over depth, from the surface to each film's bottom.

    Gauss-Legendre in each gap between two films; the first is cubed to be dense near
    the surface. Nothing is looked for below the depth that light returns from.
    """
    node, weight = (
        each[:, None] for each in np.polynomial.legendre.leggauss(_FIRST_NODES)
    )
    next_node, next_weight = (
        each[:, None] for each in np.polynomial.legendre.leggauss(_NEXT_NODES)
    )
    gone, shared = ways.gone[..., None, :], ways.shared[..., None, :]
    deepest = _DEEPEST / gone

    def returned(depth: Array) -> Array:
        return np.exp(shared * _overlapped(ways.reach, depth) - gone * depth)

    place = (node + 1.0) / 2.0
    end = np.minimum(films[0], deepest)
    part = returned(end * place**3) * (1.5 * weight * place**2) * end
    sums = [part.sum(axis=-2)]
    ends, wanted = _refined(films)
    for film in ends[1:]:
        start, end = end, np.minimum(film, deepest)
        half = (end - start) / 2.0
        part = returned(start + half * (next_node + 1.0)) * next_weight * half
        sums.append(sums[-1] + part.sum(axis=-2))
    return np.stack([sums[place] for place in wanted], axis=-2)


def _refined(films: Array) -> tuple[Array, NDArray[np.intp]]:
    """Films with others put between them where two lie far apart, and their places."""
    ends = [float(films[0])]
    places = [0]
    for film in films[1:]:
        parts = int(np.ceil(np.log(film / ends[-1]) / np.log(_LARGEST_STEP)))
        ends.extend(np.geomspace(ends[-1], film, max(parts, 1) + 1)[1:])
        places.append(len(ends) - 1)
    return np.array(ends), np.array(places)
