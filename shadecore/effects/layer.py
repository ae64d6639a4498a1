"""A layer with flakes and pigment, averaged over azimuth: what it does with light.

In sums and differences of the light going down and up, the transfer equation becomes
one symmetric eigenproblem of half the size; its modes serve every thickness.

References
----------
.. [1] K. Stamnes and R. A. Swanson, J. Atmos. Sci. 38 (1981) 387 (from memory).
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shadecore.effects.geometry import views
from shadecore.effects.lobe import film_directions
from shadecore.effects.optics import LobeSet, Optics

Array = NDArray[np.float64]

_SMALL = 1e-9


class Modes(NamedTuple):
    """Modes of a layer, of amplitudes whose squares are flux.

    Attributes
    ----------
    rate : array, shape (layers, nodes)
        How fast each mode decays. [1/um]
    net, total : array, shape (layers, nodes, nodes)
        The modes' net flux (down less up) and total; inverse transposes of each other.
    """

    rate: Array
    net: Array
    total: Array


class Readings(NamedTuple):
    """What a layer under its surface shows.

    Attributes
    ----------
    rising : array, shape (layers, nodes)
        Radiance below the surface, lit at 45 degrees by unit irradiance in air.
    through : array, shape (layers, views)
        Product of the ways down to and up from a Lambertian backing.
    below : array, shape (layers,)
        Reflectance of layer and surface, seen from the backing. 0..1
    """

    rising: Array
    through: Array
    below: Array


def solve_modes(optics: Optics, lobes: LobeSet, *, mirrors_only: bool = False) -> Modes:
    """Modes of layers, a layer for each paint and wavelength.

    Parameters
    ----------
    optics : Optics
        The paints.
    lobes : LobeSet
        How their flakes lie.
    mirrors_only : bool
        Whether what scatters evenly counts as lost.

    Returns
    -------
    Modes
        Layers in the order of the paints and, inside it, of the wavelengths.
    """
    ways = film_directions()
    waves = optics.area.shape[1]
    which = np.repeat(optics.lobe, waves)
    area, mirrored, absorption, scattering = (
        np.ravel(each)[:, None]
        for each in (
            optics.area,
            optics.mirrored,
            optics.absorption,
            optics.scattering,
        )
    )
    extinction = area * lobes.shown[which] + (absorption + scattering) / ways.cosine
    unit = np.eye(ways.cosine.size)
    back, on = lobes.back[which], lobes.on[which]
    differs = extinction[..., None] * unit + mirrored[..., None] * (back - on)
    agrees = extinction[..., None] * unit - mirrored[..., None] * (back + on)
    if not mirrors_only:
        # Weights are scaled so that even scattering loses nothing.
        spread = np.sqrt(ways.weight / ways.weight.sum() / ways.cosine)
        agrees -= scattering[..., None] * (spread[:, None] * spread)
    root = np.linalg.cholesky(differs)
    squared, turned = np.linalg.eigh(root.swapaxes(-1, -2) @ agrees @ root)
    total = root @ turned
    # Rounding makes the smallest eigenvalue of a lossless layer negative.
    rate = np.sqrt(np.maximum(squared, 0.0))
    return Modes(rate, np.linalg.inv(total).swapaxes(-1, -2), total)


def reflection(modes: Modes, depth_um: Array) -> tuple[Array, Array]:
    """Reflection and transmission of layers of a given thickness.

    Light that enters both faces alike excites the even solutions alone, light of
    opposite sign the odd ones; both stay finite at any thickness.

    Parameters
    ----------
    modes : Modes
        The layers.
    depth_um : array, shape (layers,)
        Their thickness; infinite for one that hides. [um]

    Returns
    -------
    reflection, transmission : array, shape (layers, nodes, nodes)
    """
    unit = np.eye(modes.rate.shape[-1])
    half = 0.5 * depth_um[:, None]
    bounded = np.tanh(modes.rate * half)
    small = modes.rate * half < _SMALL
    slow = np.where(small, half, bounded / np.where(small, 1.0, modes.rate))
    admits = (modes.net * (modes.rate * bounded)[:, None]) @ modes.net.swapaxes(-1, -2)
    even = np.linalg.inv(unit + admits)
    if np.all(np.isinf(depth_um)):
        return 2.0 * even - unit, np.zeros_like(even)
    impedes = (modes.total * slow[:, None]) @ modes.total.swapaxes(-1, -2)
    odd = np.linalg.inv(unit + impedes)
    return even - odd, even + odd - unit


def _to_views() -> Array:
    """Straight between the escaping directions, shape (views, nodes)."""
    ways = film_directions()
    escaping = np.flatnonzero(ways.reflected < 1.0)
    weights = np.zeros((views().cosine.size, ways.cosine.size))
    for node in escaping:
        one = (escaping == node).astype(float)
        weights[:, node] = np.interp(views().cosine, ways.cosine[escaping], one)
    return weights


TO_VIEWS = _to_views()


def rising(reflected: Array, source: Array) -> Array:
    """Light that comes up under the surface, which sends part of it down again.

    Parameters
    ----------
    reflected : array, shape (layers, nodes, nodes)
        What the layer reflects.
    source : array, shape (layers, nodes, sources)
        Light that comes up at first.

    Returns
    -------
    array, shape (layers, nodes, sources)
    """
    surface = film_directions().reflected
    closed = np.eye(surface.size) - reflected * surface
    return np.asarray(np.linalg.solve(closed, source), dtype=np.float64)


def lit(reflected: Array) -> Array:
    """Radiance below the surface when a layer over black is lit at 45 degrees.

    Parameters
    ----------
    reflected : array, shape (layers, nodes, nodes)
        As :func:`reflection` gives it.

    Returns
    -------
    array, shape (layers, nodes)
        For unit irradiance in air.
    """
    beam, lambertian = _light()
    source = (reflected @ beam)[..., None]
    return np.asarray(rising(reflected, source)[..., 0] / lambertian)


def read(reflected: Array, transmitted: Array) -> Readings:
    """Close layers with the surface above and read them.

    Parameters
    ----------
    reflected, transmitted : array, shape (layers, nodes, nodes)
        As :func:`reflection` gives them.

    Returns
    -------
    Readings
    """
    beam, lambertian = _light()
    surface = film_directions().reflected
    passed_on = transmitted @ lambertian
    source = np.stack([reflected @ beam, passed_on], axis=-1)
    both = rising(reflected, source)
    from_light, from_backing = both[..., 0], both[..., 1]
    # Both matrices are symmetric: what passes one way passes the other.
    arriving = (passed_on * (surface * from_light + beam)).sum(axis=-1)
    sent_back = (passed_on * surface * from_backing).sum(axis=-1)
    seen = (from_backing / lambertian) @ TO_VIEWS.T
    return Readings(
        rising=from_light / lambertian,
        through=views().leaving * seen * arriving[:, None],
        below=(reflected @ lambertian) @ lambertian + sent_back,
    )


def _light() -> tuple[Array, Array]:
    """Amplitudes of the refracted beam and of a Lambertian source of unit radiance."""
    ways = film_directions()
    lambertian = np.sqrt(2.0 * ways.weight * ways.cosine)
    beam = np.zeros_like(lambertian)
    beam[ways.lit] = (1.0 - ways.reflected[ways.lit]) / lambertian[ways.lit]
    return beam, lambertian


def single_reflection(optics: Optics, lobes: LobeSet, depth_um: Array) -> Array:
    """Radiance from a first reflection on a mirror, averaged over azimuth.

    Parameters
    ----------
    optics : Optics
        The paints.
    lobes : LobeSet
        How their flakes lie.
    depth_um : array, shape (layers,)
        Thickness of each paint's and wavelength's layer. [um]

    Returns
    -------
    array, shape (layers, nodes)
        For unit irradiance in air.
    """
    ways = film_directions()
    beam, lambertian = _light()
    which = np.repeat(optics.lobe, optics.area.shape[1])
    path = np.ravel(optics.absorption + optics.scattering)[:, None] / ways.cosine
    extinction = np.ravel(optics.area)[:, None] * lobes.shown[which] + path
    both = extinction + extinction[:, [ways.lit]]
    share = -np.expm1(-both * depth_um[:, None]) / both
    sent = lobes.back[which][:, :, ways.lit] * share * (beam[ways.lit] / lambertian)
    return np.asarray(np.ravel(optics.mirrored)[:, None] * sent)
