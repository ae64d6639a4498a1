"""How flakes lie: their tilts, the area they show, and where they send light."""

from dataclasses import dataclass
from functools import cache, cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shadecore.film.transport import Directions, directions

Matrix = NDArray[np.float64]

TRAPPED_NODES = 4
"""Directions beyond the critical angle. Fewer than the solid engine takes, since every
plausible paint is solved afresh; ``tests/test_effects_layer.py`` states the cost."""
ESCAPING_NODES = 2
"""Directions in each of the two cones that reach the air."""

_TILTS, _TURNS = 400, 64
"""Normals that stand for the lobe when it is binned."""
_SCALINGS = 300
"""Rounds of symmetric scaling; flux is then conserved to the last digits."""


@cache
def film_directions() -> Directions:
    """Directions that films with flakes are solved on.

    Returns
    -------
    Directions
    """
    return directions(trapped_nodes=TRAPPED_NODES, escaping_nodes=ESCAPING_NODES)


@dataclass(frozen=True)
class Lobe:
    """Flakes lying nearly flat, as two Gaussian distributions of slope.

    Attributes
    ----------
    slope : float
        Root mean square slope of most flakes, above 0.
    tail : float
        Share of the flakes' area that lies worse, 0..1.
    tail_slope : float
        Root mean square slope of those.
    """

    slope: float
    tail: float
    tail_slope: float

    def density(self, tilt_cosine: ArrayLike) -> Matrix:
        """Flake area facing a direction, per solid angle.

        Parameters
        ----------
        tilt_cosine : array
            Cosine of the angle between a flake's normal and the film's.

        Returns
        -------
        array, same shape
            Its integral over the half sphere is 1. [1/sr]
        """
        cosine = np.asarray(tilt_cosine, dtype=np.float64)
        squared = 1.0 / cosine**2 - 1.0
        total = np.zeros_like(cosine)
        for share, slope in (
            (1.0 - self.tail, self.slope),
            (self.tail, self.tail_slope),
        ):
            gauss = np.exp(-squared / slope**2) / (np.pi * slope**2)
            total += share * gauss / cosine**3
        return np.asarray(total)

    def repeated(self, reflections: int) -> "Lobe":
        """Single flakes that send light as a row of reflections does.

        Each reflection adds its flake's slope, so variances add up; a row is in the
        tail as soon as one of its flakes is.

        Parameters
        ----------
        reflections : int
            How many flakes are met in a row.

        Returns
        -------
        Lobe
        """
        others = (reflections - 1) * self.slope**2
        return Lobe(
            slope=float(np.sqrt(self.slope**2 + others)),
            tail=1.0 - (1.0 - self.tail) ** reflections,
            tail_slope=float(np.sqrt(self.tail_slope**2 + others)),
        )

    def _normals(self) -> tuple[Matrix, Matrix, Matrix]:
        """Normals (across, along) that stand for the lobe, with their shares."""
        share = (np.arange(_TILTS) + 0.5) / _TILTS
        turn = 2.0 * np.pi * (np.arange(_TURNS) + 0.5) / _TURNS
        tangent = np.concatenate(
            [slope * np.sqrt(-np.log(share)) for slope in (self.slope, self.tail_slope)]
        )
        weight = np.repeat([1.0 - self.tail, self.tail], _TILTS) / (_TILTS * _TURNS)
        along = 1.0 / np.sqrt(1.0 + tangent**2)
        across = (tangent * along)[:, None] * np.cos(turn)
        return (
            across.ravel(),
            np.repeat(along, _TURNS),
            np.repeat(weight, _TURNS),
        )

    def area_shown(self, cosine: ArrayLike) -> Matrix:
        """Area that flakes show to a ray, relative to flat ones; about 1.

        Parameters
        ----------
        cosine : array, shape (rays,)
            Cosine of the ray's angle to the film's normal, above 0.

        Returns
        -------
        array, shape (rays,)
            Mean of ``|n . w|`` over the cosine.
        """
        ray = np.asarray(cosine, dtype=np.float64)[..., None]
        across, along, weight = self._normals()
        facing = np.abs(np.sqrt(1.0 - ray**2) * across + ray * along)
        return np.asarray(facing @ weight / ray[..., 0])

    @cached_property
    def redistribution(self) -> tuple[Matrix, Matrix]:
        """Where mirroring flakes send light, averaged over azimuth.

        Returns
        -------
        back, on : array, shape (nodes, nodes)
            To the half space that the light came from, and onward; of flux
            amplitudes, so both are symmetric. A layer of mirrors sends back
            ``back * dz`` for each unit of flake area in the volume.
        """
        ways = film_directions()
        flux = ways.weight * ways.cosine
        back, on = (self._binned(ways, sign) for sign in (-1.0, 1.0))
        # A quadrature cannot resolve a lobe: scale both alike until each column sums
        # to the light that the flakes take out of its direction.
        shown = self.area_shown(ways.cosine) * flux
        scale = np.ones_like(shown)
        for _ in range(_SCALINGS):
            scale = np.sqrt(scale * shown / ((back + on) @ scale))
        per = scale / np.sqrt(flux)
        return per[:, None] * back * per, per[:, None] * on * per

    def _binned(self, ways: Directions, sign: float) -> Matrix:
        """Mirrored light by directions in and out, split between neighbours."""
        nodes = ways.cosine
        across, along, weight = self._normals()
        binned = np.zeros((nodes.size, nodes.size))
        for column, cosine in enumerate(nodes):
            facing = np.sqrt(1.0 - cosine**2) * across + cosine * along
            leaving = cosine - 2.0 * facing * along
            kept = np.sign(leaving) == sign
            size = np.clip(np.abs(leaving[kept]), nodes[0], nodes[-1])
            low = np.clip(np.searchsorted(nodes, size) - 1, 0, nodes.size - 2)
            part = (size - nodes[low]) / (nodes[low + 1] - nodes[low])
            amount = (weight * np.abs(facing))[kept]
            for row, share in ((low, 1.0 - part), (low + 1, part)):
                binned[:, column] += np.bincount(row, amount * share, nodes.size)
        weighed = binned * ways.weight
        return np.asarray((weighed + weighed.T) / 2.0)
