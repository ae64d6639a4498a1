"""Plausible effect paints solved once for their full colour at five angles."""

from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, fields
from itertools import pairwise
from pathlib import Path
from threading import Lock
from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.colour.appearance import colour_difference
from shadecore.datafiles import data_file
from shadecore.effects.appearance import angle_lab
from shadecore.effects.films import EffectFilms
from shadecore.effects.loading import loading
from shadecore.effects.optics import LobeSet, Optics
from shadecore.effects.recipes import draw_effects, draw_lobes
from shadecore.effects.stored import Arrays, stored_arrays
from shadecore.kept import content_key

Array = NDArray[np.float64]
Progress = Callable[[float], None]

LOBES = 36
PER_LOBE = 600
LIBRARY_SEED = 20_261_126
BLOCK = 60
"""Paints solved together: their matrices stay in the processor's cache."""
WORKERS = 2

NEIGHBOURS = 64
"""Paints an answer rests on."""
_CANDIDATES = 4 * NEIGHBOURS
BANDWIDTH_RANK = 16
"""The neighbour whose distance sets how fast weights fall off."""
SMALLEST_BANDWIDTH = 1.0
"""A reading at several angles is not surer than this. [CIEDE2000]"""

_CODE = ("effects", "film", "recipes", "colour")
_DATA = (
    "effect-families.toml",
    "colorant-families.toml",
    "tristimulus-weights-d65-10deg-10nm.csv",
)
_CHROMA_GROWTH, _LIGHTNESS_GROWTH = 0.045, 0.015
_MIDDLE_LIGHTNESS = 50.0


@dataclass(frozen=True)
class EffectNeighbours:
    """Paints whose full colour is near a reading.

    Attributes
    ----------
    index : array of int, shape (paints,)
        Places in the library, nearest first.
    weight : array, shape (paints,)
        Weights, summing to 1.
    difference : array, shape (paints,)
        Root mean square CIEDE2000 over the angles read.
    """

    index: NDArray[np.intp]
    weight: Array
    difference: Array


@dataclass(frozen=True)
class EffectLibrary:
    """Plausible effect paints with the colour each has when it hides.

    Attributes
    ----------
    optics : Optics
        Coefficients of their films.
    kind : array of int, shape (n,)
        As in :mod:`shadecore.effects.recipes`.
    lab : array, shape (n, angles, 3)
        L*, a*, b* of films that hide, at the five standard angles.
    lobes : LobeSet
        How their flakes lie.
    """

    optics: Optics
    kind: NDArray[np.intp]
    lab: Array
    lobes: LobeSet

    def near(
        self, lab: Array, angles: NDArray[np.intp], kinds: tuple[int, ...]
    ) -> EffectNeighbours:
        """Find the paints whose full colour is near a reading.

        Parameters
        ----------
        lab : array, shape (read, 3)
            L*, a*, b* at the angles read.
        angles : array of int, shape (read,)
            Which of the standard angles these are.
        kinds : tuple of int
            Kinds of paint that come into question.

        Returns
        -------
        EffectNeighbours
        """
        fitting = np.flatnonzero(np.isin(self.kind, kinds))
        own = self.lab[fitting][:, angles]
        apart = ((evenly(own) - evenly(lab)) ** 2).sum(axis=(1, 2))
        wanted = min(_CANDIDATES, len(fitting) - 1)
        nearest = fitting[np.argpartition(apart, wanted)[:wanted]]
        squared = colour_difference(self.lab[nearest][:, angles], lab) ** 2
        difference = np.sqrt(squared.mean(axis=1))
        order = np.argsort(difference)[:NEIGHBOURS]
        difference = difference[order]
        width = max(float(difference[BANDWIDTH_RANK]), SMALLEST_BANDWIDTH)
        weight = np.exp(-0.5 * (difference / width) ** 2)
        return EffectNeighbours(nearest[order], weight / weight.sum(), difference)


def evenly(lab: Array) -> Array:
    """Stretch L*, a*, b* so that plain distance is roughly CIEDE2000.

    Parameters
    ----------
    lab : array, shape (..., 3)
        L*, a*, b*; L* may exceed 100.

    Returns
    -------
    array, shape (..., 3)
        The weights S_L and S_C of CIEDE2000 integrated from mid grey outward.

    References
    ----------
    .. [1] ISO/CIE 11664-6.
    """
    given = np.asarray(lab, dtype=np.float64)
    from_middle = given[..., 0] - _MIDDLE_LIGHTNESS
    growth = np.log1p(_LIGHTNESS_GROWTH * np.abs(from_middle)) / _LIGHTNESS_GROWTH
    chroma = np.hypot(given[..., 1], given[..., 2])
    least = np.finfo(np.float64).tiny
    shrink = np.log1p(_CHROMA_GROWTH * chroma) / (_CHROMA_GROWTH * chroma + least)
    shrink = np.where(chroma > 0.0, shrink, 1.0)
    return np.stack(
        [np.sign(from_middle) * growth, given[..., 1] * shrink, given[..., 2] * shrink],
        axis=-1,
    )


def build_library(
    per_lobe: int = PER_LOBE,
    lobes: int = LOBES,
    seed: int = LIBRARY_SEED,
    progress: Progress | None = None,
) -> EffectLibrary:
    """Draw plausible paints, set how heavily they are loaded and solve them.

    Parameters
    ----------
    per_lobe : int
        Paints for each lobe.
    lobes : int
        Ways in which flakes lie.
    seed : int
        Of the random numbers.
    progress : callable, optional
        Told the share that is done, 0..1.

    Returns
    -------
    EffectLibrary
    """
    rng = np.random.default_rng(seed)
    lying = draw_lobes(lobes, rng)
    recipes = draw_effects(lobes * per_lobe, lobes, rng)
    count = len(recipes.kind)
    times, lab = np.empty(count), np.empty((count, lying.density.shape[1], 3))
    seeds = rng.integers(0, 2**32, count // BLOCK + 1)

    def solve(rows: slice) -> int:
        films = EffectFilms(recipes.optics[rows], lying)
        own = np.random.default_rng(seeds[rows.start // BLOCK])
        times[rows] = loading(films.optics, films.masstone(), own)
        lab[rows] = angle_lab(films.masstone(times[rows]))
        return int(rows.stop)

    with ThreadPoolExecutor(WORKERS) as pool:
        for done in pool.map(solve, _blocks(count)):
            if progress is not None:
                progress(done / count)
    return EffectLibrary(recipes.optics.loaded(times), recipes.kind, lab, lying)


def _blocks(count: int) -> Iterator[slice]:
    for start, stop in pairwise([*range(0, count, BLOCK), count]):
        yield slice(start, stop)


def _to_arrays(library: EffectLibrary) -> Arrays:
    arrays: dict[str, NDArray[np.generic]] = {
        "kind": library.kind,
        "lab": library.lab,
    }
    for name, part in (("optics", library.optics), ("lobes", library.lobes)):
        for each in fields(part):
            arrays[f"{name}-{each.name}"] = getattr(part, each.name)
    return arrays


def _from_arrays(arrays: Arrays) -> EffectLibrary:
    return EffectLibrary(
        Optics(*(arrays[f"optics-{each.name}"] for each in fields(Optics))),  # type: ignore[arg-type]
        arrays["kind"],  # type: ignore[arg-type]
        arrays["lab"],  # type: ignore[arg-type]
        LobeSet(*(arrays[f"lobes-{each.name}"] for each in fields(LobeSet))),  # type: ignore[arg-type]
    )


def library_key() -> str:
    """Key of everything that the library is worked out from.

    Returns
    -------
    str
    """
    package = Path(__file__).resolve().parent.parent
    code = [each for room in _CODE for each in (package / room).glob("*.py")]
    return content_key([*code, *(data_file(name) for name in _DATA)])


class _Held:
    """The library of this process; whoever asks while it is made waits for it."""

    def __init__(self) -> None:
        self._lock = Lock()
        self.library: EffectLibrary | None = None

    def get(self, progress: Progress | None) -> EffectLibrary:
        with self._lock:
            if self.library is None:
                self.library = prepare_library(progress)
            return self.library


_HELD: Final = _Held()


def effect_library(progress: Progress | None = None) -> EffectLibrary:
    """The library, read from the user's cache folder or built, once in a process.

    Parameters
    ----------
    progress : callable, optional
        Told the share that is done, 0..1, where it has to be built.

    Returns
    -------
    EffectLibrary
    """
    return _HELD.get(progress)


def effect_library_is_ready() -> bool:
    """Whether this process has the library.

    Returns
    -------
    bool
    """
    return _HELD.library is not None


def prepare_library(
    progress: Progress | None, folder: Path | None = None
) -> EffectLibrary:
    """Read the library from a folder, or build and keep it there.

    Parameters
    ----------
    progress : callable, optional
        Told the share that is done, 0..1, while it is built.
    folder : pathlib.Path, optional
        Where it is kept; the user's cache folder unless given.

    Returns
    -------
    EffectLibrary
    """
    arrays = stored_arrays(
        "effect-library",
        library_key(),
        lambda: _to_arrays(build_library(progress=progress)),
        folder,
    )
    return _from_arrays(arrays)
