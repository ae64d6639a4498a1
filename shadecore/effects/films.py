"""Films of effect paints at any thickness, over any Lambertian backing.

A reading at an angle is ``A + B Rg / (1 - C Rg)``. The light that met one flake is
worked out film by film; the rest is solved at a few thicknesses and interpolated.
"""

from concurrent.futures import ThreadPoolExecutor

import numpy as np
from numpy.typing import NDArray

from shadecore.effects.first_reflection import (
    first_reflection,
    repeated_reflection,
    through_gaps,
)
from shadecore.effects.geometry import views
from shadecore.effects.layer import (
    TO_VIEWS,
    lit,
    read,
    reflection,
    single_reflection,
    solve_modes,
)
from shadecore.effects.lobe import film_directions
from shadecore.effects.optics import LobeSet, Optics
from shadecore.film.two_flux import FilmTerms

Array = NDArray[np.float64]

FIRST_DEPTH = 0.1
"""Optical depth up to which films change in proportion to it, roughly."""
DEPTHS = 12
"""Thicknesses solved; each adds an octave. The last has an optical depth of 205."""
WORKERS = 2
_THINNEST = 1e-4
"""Optical depth that stands for no film."""
_LEAST_THROUGH = 1e-9
"""Below this the way to the backing and back drowns in rounding."""
_TINY = 1e-300


class EffectFilms:
    """Films of many paints, solved for any thickness.

    Parameters
    ----------
    optics : Optics
        The paints.
    lobes : LobeSet
        How their flakes lie.
    """

    def __init__(self, optics: Optics, lobes: LobeSet) -> None:
        self.optics = optics
        self.lobes = lobes
        self._shape = optics.area.shape
        self._extinction = np.ravel(optics.extinction)
        self._full = solve_modes(optics, lobes)
        self._mirrors = solve_modes(optics, lobes, mirrors_only=True)
        self._nodes: tuple[Array, ...] | None = None
        self._endless: tuple[Array, Array] | None = None

    def masstone(self, loading: Array | None = None) -> Array:
        """Readings of films that hide.

        Parameters
        ----------
        loading : array, shape (paints,), optional
            Solve the paints as if they held so many times as much in every um. Of a
            film that hides this changes only how far apart flakes lie for their size.

        Returns
        -------
        array, shape (paints, views, wavelengths)
            Reflectance factors.
        """
        if self._endless is None:
            endless = np.full(self._extinction.shape, np.inf)
            whole = lit(reflection(self._full, endless)[0])
            self._endless = self._even_and_again(whole, endless)
        even, again = self._endless
        return self._seen(
            self.optics if loading is None else self.optics.loaded(loading),
            np.array([np.inf]),
            even.reshape(*self._shape, 1, -1),
            again.reshape(*self._shape, 1),
        )[:, 0]

    def terms(self, dry_film_um: Array) -> FilmTerms:
        """Readings of films over any backing.

        Parameters
        ----------
        dry_film_um : array, shape (films,)
            Dry films, ascending, above 0. [um]

        Returns
        -------
        FilmTerms
            Arrays of shape (paints, films, views, wavelengths).
        """
        films = np.asarray(dry_film_um, dtype=np.float64)
        depth = self._extinction.reshape(self._shape)[..., None] * films
        even, again, decay, below = self._between(depth)
        through = views().passed * np.exp(-decay * depth[..., None])
        through = through_gaps(self.optics, self.lobes, films, through)
        behind = np.broadcast_to(below[..., None], through.shape)
        return FilmTerms(
            self._seen(self.optics, films, even, again),
            np.ascontiguousarray(np.moveaxis(through, 1, -1)),
            np.ascontiguousarray(np.moveaxis(behind, 1, -1)),
        )

    def _seen(self, optics: Optics, films: Array, even: Array, again: Array) -> Array:
        """Reading over black, shape (paints, films, views, wavelengths)."""
        once = first_reflection(optics, self.lobes, films)
        repeated = repeated_reflection(optics, self.lobes, films)
        seen = even + once + again[..., None] * repeated
        return np.ascontiguousarray(np.moveaxis(seen, 1, -1))

    def _solve(self, depth_um: Array) -> tuple[Array, ...]:
        """Solve a film of each paint and wavelength.

        Returns what is scattered evenly into each view, how much of the mirrors' flux
        is reflected again, the way through to the backing and the reflectance below.
        """
        whole = read(*reflection(self._full, depth_um))
        even, again = self._even_and_again(whole.rising, depth_um)
        return even, again, whole.through, whole.below

    def _even_and_again(self, whole: Array, depth_um: Array) -> tuple[Array, Array]:
        """Part what comes up into even light and repeated mirror reflections."""
        mirrors = lit(reflection(self._mirrors, depth_um)[0])
        ways = film_directions()
        even = ((whole - mirrors) @ TO_VIEWS.T) * views().leaving
        # What is mirrored back at the surface would be counted each time it comes up.
        leaves = 2.0 * ways.weight * ways.cosine * (1.0 - ways.reflected)
        single = single_reflection(self.optics, self.lobes, depth_um) @ leaves
        flux = mirrors @ leaves
        again = np.divide(
            flux - single, single, out=np.zeros_like(flux), where=single > _TINY
        )
        return even, again

    def _solved(self) -> tuple[Array, ...]:
        """Films at all depths that are interpolated between, films last."""
        if self._nodes is None:
            depths = _node_depths()
            with ThreadPoolExecutor(WORKERS) as pool:
                solved = list(
                    pool.map(lambda deep: self._solve(deep / self._extinction), depths)
                )
            even, again, through, below = (
                np.stack(each, axis=1) for each in zip(*solved, strict=True)
            )
            decay = _decay(through, depths)
            self._nodes = (even, again, decay, below)
        return self._nodes

    def _between(self, depth: Array) -> tuple[Array, ...]:
        """Interpolate what was solved, along the octaves of depth."""
        weights, first = _cubic(_octave(depth).reshape(len(self._extinction), -1))
        row = np.arange(len(self._extinction))[:, None]
        found = []
        for nodes in self._solved():
            wide = nodes if nodes.ndim == depth.ndim else nodes[..., None]
            total = sum(
                weights[k][..., None] * wide[row, first + k]
                for k in range(len(weights))
            )
            shaped = np.asarray(total).reshape(*depth.shape, -1)
            found.append(shaped if nodes.ndim == depth.ndim else shaped[..., 0])
        return tuple(found)


def _octave(depth: Array) -> Array:
    """Place of an optical depth among the nodes: even in it, then in its logarithm."""
    return np.minimum(np.log2(1.0 + depth / FIRST_DEPTH), DEPTHS)


def _node_depths() -> Array:
    depths = FIRST_DEPTH * (2.0 ** np.arange(DEPTHS) - 1.0)
    depths[0] = _THINNEST
    # The film that hides comes last, an octave behind the thickest.
    return np.append(depths, np.inf)


def _decay(through: Array, depths: Array) -> Array:
    """Mean loss on the way to the backing and back, for one unit of depth."""
    share = np.maximum(through / views().passed, _TINY)
    decay = -np.log(share) / np.where(np.isinf(depths), 1.0, depths)[:, None]
    for node in range(1, depths.size):
        lost = through[:, node] < _LEAST_THROUGH
        decay[:, node] = np.where(lost, decay[:, node - 1], decay[:, node])
    return decay


def _cubic(place: Array) -> tuple[list[Array], NDArray[np.intp]]:
    """Weights of the four nodes about each place, and the first of them."""
    first = np.clip(place.astype(np.intp) - 1, 0, DEPTHS - 3)
    t = place - first
    weights = [
        -(t - 1.0) * (t - 2.0) * (t - 3.0) / 6.0,
        t * (t - 2.0) * (t - 3.0) / 2.0,
        -t * (t - 1.0) * (t - 3.0) / 2.0,
        t * (t - 1.0) * (t - 2.0) / 6.0,
    ]
    return weights, first
