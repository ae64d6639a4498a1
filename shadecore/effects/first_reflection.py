"""Light that a view receives straight from one flake: exact, with finite flakes.

This is most of what makes the face bright, and the only part that depends on the
azimuth; averaging over azimuth would put it into the flop as well.
"""

import numpy as np
from numpy.typing import NDArray

from shadecore.effects.geometry import views
from shadecore.effects.optics import LobeSet, Optics

Array = NDArray[np.float64]

_FIRST_NODES, _NEXT_NODES = 16, 4
_DEEPEST = 30.0
"""Optical depth, in and out together, below which nothing comes back."""


def first_reflection(optics: Optics, lobes: LobeSet, dry_film_um: Array) -> Array:
    """Readings of the light that met one flake's mirror and nothing else.

    A ray leaves partly through the gap that it came in by: flakes of radius r leave
    the way out free as long as the two paths are less than about r apart, which is
    the case down to ``r / (tan in + tan out)``.

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
    seen = views()
    shown = lobes.shown_to_light[optics.lobe], lobes.shown_to_views[optics.lobe]
    area, path = optics.area[..., None], (optics.absorption + optics.scattering)
    gone = area * (shown[0] + shown[1])[:, None] + path[..., None] * seen.path
    shared = area * np.sqrt(shown[0] * shown[1])[:, None]
    reach = optics.radius_um[:, None, None] / seen.tangents_together
    integral = _integral(gone, shared, reach, dry_film_um)
    strength = optics.mirrored[..., None] * lobes.density[optics.lobe][:, None]
    return integral * (strength * _geometry())[..., None, :]


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


def _integral(gone: Array, shared: Array, reach: Array, films: Array) -> Array:
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
    gone, shared, reach = (each[..., None, :] for each in (gone, shared, reach))
    deepest = _DEEPEST / gone
    hold = shared * reach

    def returned(depth: Array) -> Array:
        return np.exp(-gone * depth - hold * np.expm1(-depth / reach))

    place = (node + 1.0) / 2.0
    end = np.minimum(films[0], deepest)
    part = returned(end * place**3) * (1.5 * weight * place**2) * end
    sums = [part.sum(axis=-2)]
    for film in films[1:]:
        start, end = end, np.minimum(film, deepest)
        half = (end - start) / 2.0
        part = returned(start + half * (next_node + 1.0)) * next_weight * half
        sums.append(sums[-1] + part.sum(axis=-2))
    return np.stack(sums, axis=-2)
