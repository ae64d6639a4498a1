"""Mid-coats of a three-stage colour without a panel: from plausible pearls.

How much pearl a coat carries is not known from the car's colour, so the number comes
with a wide interval; a let-down panel (:mod:`shadecore.effects.midcoats`) settles it.
"""

from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from shadecore.colour.angles import AngleReadings
from shadecore.colour.appearance import colour_difference
from shadecore.colour.surface import internal_diffuse_reflectance
from shadecore.effects.appearance import angle_lab
from shadecore.effects.films import EffectFilms
from shadecore.effects.geometry import views
from shadecore.effects.library import library_key
from shadecore.effects.recipes import STEP, draw_lobes, draw_midcoats, effect_ranges
from shadecore.effects.stored import Arrays, stored_arrays
from shadecore.film.two_flux import FilmTerms

Array = NDArray[np.float64]

PEARLS = 960
LOBES = 24
SEED = 20_261_127
MOST_COATS = 6
INTERVAL = 0.90
_RANK = 24
_SMALLEST_BANDWIDTH = 1.0
_BLOCK = 40


@dataclass(frozen=True)
class MidcoatEstimate:
    """Mid-coats that plausible pearls need to look like a car.

    Attributes
    ----------
    coats : int
        Middle of what is likely, 1 to ``MOST_COATS``.
    low, high : int
        Ends of the 90 percent interval.
    chance : tuple of float
        Probability of 1, 2, ... coats.
    difference : float
        Largest CIEDE2000 over the angles read of the pearl that comes nearest.
    angles : tuple of float
        Aspecular angles read. [degrees]
    step_more, step_less : tuple of float
        What one coat more or less than ``coats`` changes at each angle, on average
        over the likely pearls. [CIEDE2000]
    """

    coats: int
    low: int
    high: int
    chance: tuple[float, ...]
    difference: float
    angles: tuple[float, ...]
    step_more: tuple[float, ...]
    step_less: tuple[float, ...]


def estimate_midcoats(
    car: AngleReadings,
    ground: NDArray[np.floating],
    films: FilmTerms | None = None,
) -> MidcoatEstimate:
    """Estimate the mid-coats of a car over a ground that hides.

    Parameters
    ----------
    car : AngleReadings
        The car, under clear.
    ground : array, shape (31,)
        Reflectance of the ground seen from inside the film, 0..1.
    films : FilmTerms, optional
        Films of plausible pearls; see :func:`midcoat_films`.

    Returns
    -------
    MidcoatEstimate
    """
    inside = np.asarray(ground, dtype=np.float64)[::STEP]
    terms = midcoat_films() if films is None else films
    lab = angle_lab(np.asarray(terms.over(inside)))
    seen = lab[:, :, car.places]
    apart = colour_difference(seen[:, 1:-1], np.array(car.lab))
    rms = np.sqrt((apart**2).mean(axis=-1))
    width = max(float(np.partition(rms.ravel(), _RANK)[_RANK]), _SMALLEST_BANDWIDTH)
    weight = np.exp(-0.5 * (rms / width) ** 2)
    weight /= weight.sum()
    chance = weight.sum(axis=0)
    reached = np.cumsum(chance)
    tail = (1.0 - INTERVAL) / 2.0
    low, coats, high = (
        1 + min(int((reached < share).sum()), MOST_COATS - 1)
        for share in (tail, 0.5, 1.0 - tail)
    )
    likely = weight[:, coats - 1]
    likely = likely / likely.sum()
    steps = [
        tuple(
            float(each)
            for each in likely @ colour_difference(seen[:, coats], seen[:, other])
        )
        for other in (coats + 1, coats - 1)
    ]
    nearest = np.unravel_index(int(rms.argmin()), rms.shape)
    return MidcoatEstimate(
        coats=coats,
        low=low,
        high=high,
        chance=tuple(map(float, chance)),
        difference=float(apart[nearest].max()),
        angles=car.angles,
        step_more=steps[0],
        step_less=steps[1],
    )


def build_midcoat_films(count: int = PEARLS, lobes: int = LOBES) -> FilmTerms:
    """Solve plausible pearl mid-coats, from none to one more than is counted.

    Parameters
    ----------
    count : int
        How many pearls.
    lobes : int
        Ways in which their flakes lie.

    Returns
    -------
    FilmTerms
        Arrays of shape (pearls, coats, views, wavelengths), coats from 0.
    """
    rng = np.random.default_rng(SEED)
    lying = draw_lobes(lobes, rng)
    optics = draw_midcoats(count, lobes, rng)
    thick = effect_ranges()["midcoat"]["coat_um"] * np.arange(1, MOST_COATS + 2)
    parts = [
        EffectFilms(optics[start : start + _BLOCK], lying).terms(thick)
        for start in range(0, count, _BLOCK)
    ]
    clear = views().passed[None, None, :, None]
    bare = (np.zeros_like(clear), clear, internal_diffuse_reflectance() + 0.0 * clear)
    solved = []
    for name, none in zip(FilmTerms._fields, bare, strict=True):
        films = np.concatenate([getattr(part, name) for part in parts])
        start_bare = np.broadcast_to(none, (count, 1, *films.shape[2:]))
        solved.append(np.concatenate([start_bare, films], axis=1))
    return FilmTerms(*solved)


@cache
def midcoat_films(folder: Path | None = None) -> FilmTerms:
    """Films of plausible pearls, read from the user's cache folder or built there.

    Parameters
    ----------
    folder : pathlib.Path, optional
        Where they are kept; the user's cache folder unless given.

    Returns
    -------
    FilmTerms
    """

    def build() -> Arrays:
        return dict(zip(FilmTerms._fields, build_midcoat_films(), strict=True))

    arrays = stored_arrays("midcoat-films", library_key(), build, folder)
    return FilmTerms(
        *(np.asarray(arrays[name], dtype=np.float64) for name in FilmTerms._fields)
    )
