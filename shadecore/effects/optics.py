"""What a paint with flakes is made of, as the coefficients that its films need."""

from dataclasses import dataclass, fields, replace
from typing import Self

import numpy as np
from numpy.typing import NDArray

from shadecore.effects.geometry import views
from shadecore.effects.lobe import Lobe, film_directions

Array = NDArray[np.float64]

REFLECTIONS = 3
"""Flakes met by light that is mirrored again and comes up; an odd number of them."""


@dataclass(frozen=True)
class Flakes:
    """Flakes of many paints.

    Attributes
    ----------
    area_per_um : array, shape (paints, 1) or (paints, wavelengths)
        Area of flakes in the volume. [um^2/um^3]
    reflectance, transmittance : array, shape (paints, wavelengths)
        Of one flake, both sides together, inside the film. 0..1, together up to 1.
    edges : array, shape (paints, 1)
        Share of the area that scatters evenly, as edges and corners do. 0..1
    radius_um : array, shape (paints,)
        Radius of the flakes. [um]
    lobe : array of int, shape (paints,)
        How they lie: places in a :class:`LobeSet`.
    """

    area_per_um: Array
    reflectance: Array
    transmittance: Array
    edges: Array
    radius_um: Array
    lobe: NDArray[np.intp]


@dataclass(frozen=True)
class Optics:
    """Coefficients of films of many paints with flakes.

    Flat mirrors take light away by the area they show, at every angle alike; pigment
    takes it away along its path.

    Attributes
    ----------
    area : array, shape (paints, wavelengths)
        Light that mirrors take out of a ray for each um of depth. [1/um]
    mirrored : array, shape (paints, wavelengths)
        Light that they reflect, at most ``area``. [1/um]
    absorption, scattering : array, shape (paints, wavelengths)
        Of pigment and flake edges, for each um of path. [1/um]
    stopped : array, shape (paints, wavelengths)
        Light that flakes keep from passing, edges included. [1/um]
    stopping : array, shape (paints, wavelengths)
        Share that a single flake keeps from passing. 0..1
    radius_um : array, shape (paints,)
        Radius of the flakes. [um]
    lobe : array of int, shape (paints,)
        How the flakes lie: places in a :class:`LobeSet`.
    """

    area: Array
    mirrored: Array
    absorption: Array
    scattering: Array
    stopped: Array
    stopping: Array
    radius_um: Array
    lobe: NDArray[np.intp]

    @property
    def extinction(self) -> Array:
        """All that is taken out of an upright ray, shape (paints, wavelengths)."""
        return self.area + self.absorption + self.scattering

    def __getitem__(self, paints: NDArray[np.intp] | slice) -> Self:
        """Part of the paints."""
        return type(self)(
            *(getattr(self, each.name)[paints] for each in fields(self)),
        )

    def loaded(self, times: Array) -> Self:
        """The same paints with so many times as much in every um.

        Parameters
        ----------
        times : array, shape (paints,)
            Factor, above 0.

        Returns
        -------
        Optics
        """
        rows = times[:, None]
        return replace(
            self,
            area=self.area * rows,
            mirrored=self.mirrored * rows,
            absorption=self.absorption * rows,
            scattering=self.scattering * rows,
            stopped=self.stopped * rows,
        )


def optics(flakes: Flakes, absorption: Array, scattering: Array) -> Optics:
    """Coefficients of flakes in a pigmented binder.

    The share of a flake's area that is edges and corners acts like a pigment; the
    rest mirrors, passes or absorbs.

    Parameters
    ----------
    flakes : Flakes
        The flakes.
    absorption, scattering : array, shape (paints, wavelengths)
        Of what lies between them, for each um of path. [1/um]

    Returns
    -------
    Optics
    """
    lost = 1.0 - flakes.reflectance - flakes.transmittance
    flat = flakes.area_per_um * (1.0 - flakes.edges)
    edges = flakes.area_per_um * flakes.edges
    stopping = 1.0 - (1.0 - flakes.edges) * flakes.transmittance
    return Optics(
        area=flat * (1.0 - flakes.transmittance),
        mirrored=flat * flakes.reflectance,
        absorption=absorption + edges * lost,
        scattering=scattering + edges * (1.0 - lost),
        stopped=flakes.area_per_um * stopping,
        stopping=stopping,
        radius_um=flakes.radius_um,
        lobe=flakes.lobe,
    )


@dataclass(frozen=True)
class LobeSet:
    """Lobes with everything that films need of them, worked out once.

    Attributes
    ----------
    back, on : array, shape (lobes, nodes, nodes)
        Redistribution to the side that light came from, and onward; see
        :attr:`shadecore.effects.lobe.Lobe.redistribution`.
    shown : array, shape (lobes, nodes)
        Area shown to the solver's directions, relative to flat flakes.
    shown_to_light : array, shape (lobes, 1)
        The same for the incoming light.
    shown_to_views : array, shape (lobes, views)
        The same for the five views.
    density : array, shape (lobes, views)
        Flakes that mirror the light into the views. [1/sr]
    density_wide : array, shape (lobes, views)
        The same for light that met three flakes. [1/sr]
    """

    back: Array
    on: Array
    shown: Array
    shown_to_light: Array
    shown_to_views: Array
    density: Array
    density_wide: Array


def lobe_set(lobes: tuple[Lobe, ...]) -> LobeSet:
    """Work out what films need of lobes.

    Parameters
    ----------
    lobes : tuple of Lobe
        The lobes.

    Returns
    -------
    LobeSet
    """
    seen, nodes = views(), film_directions().cosine
    light, tilt = np.array([seen.lit_cosine]), seen.tilt_cosine
    return LobeSet(
        back=np.stack([each.redistribution[0] for each in lobes]),
        on=np.stack([each.redistribution[1] for each in lobes]),
        shown=np.stack([each.area_shown(nodes) for each in lobes]),
        shown_to_light=np.stack([each.area_shown(light) for each in lobes]),
        shown_to_views=np.stack([each.area_shown(seen.cosine) for each in lobes]),
        density=np.stack([each.density(tilt) for each in lobes]),
        density_wide=np.stack(
            [each.repeated(REFLECTIONS).density(tilt) for each in lobes]
        ),
    )
