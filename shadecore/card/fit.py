"""From a card's readings to the paint: plausible recipes bent until they fit.

Each recipe is bent smoothly in its K and S until it gives the readings, each with its
own draw of the measuring noise and of the film's error. The bent recipes are then
samples of what the paint may be (randomised maximum likelihood).
"""

from dataclasses import dataclass
from functools import cache
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from shadecore.card.observe import Observed, observe, reading_values
from shadecore.card.reading import Card, Reading, bare_areas, check_card
from shadecore.coats.count import weighted_quantile
from shadecore.coats.estimate import LikelyPaints
from shadecore.coats.film_model import FilmModel
from shadecore.coats.loading import MEASURED_ON_A_CARD, default_loading
from shadecore.colour.appearance import WAVELENGTHS_NM
from shadecore.colour.surface import directional
from shadecore.colour.topcoat import Topcoat
from shadecore.errors import CardError
from shadecore.recipes.library import RecipeLibrary, recipe_library

Array = NDArray[np.float64]

FILM_ERROR: Final = 0.10
"""Relative error of the film on the card; common practice, no source."""
WORST_MISFIT: Final = 4.0
"""Readings that the best paint misses by more are not of one paint. [their noise]"""

_STARTS: Final = 128
_CONSIDERED: Final = 4096
_SEED: Final = 20_261_126
_BEND: Final = 0.5
"""Standard deviation of log K and of log S about a recipe."""
_BEND_REACH_NM: Final = 45.0
"""Distance over which a bend holds together. [nm]"""
_MODES: Final = 9
"""Smooth shapes a bend is made of; more are finer than its reach."""
_LOADINGS: Final = np.linspace(-2.5, 2.5, 11)
"""Loadings that a recipe is tried at, in standard deviations from the usual one."""
_STEPS: Final = 12
_LONGEST_STEP: Final = 2.0
_NUDGE: Final = 0.02


_FORGIVING: Final = 1.5
"""How much more slowly weights fall than noise alone would have it: the recipes that
fit best are not the only ones that could be true."""
_MORE_FORGIVING: Final = 1.5
_LEAST_PAINTS: Final = 40.0
"""Paints that the weights must be worth, as one over the sum of their squares."""
_TRIES: Final = 40


@dataclass(frozen=True)
class CardFit:
    """What a card says about a paint.

    Attributes
    ----------
    paints : LikelyPaints
        Paints that give the readings.
    misfit : float
        How far the best of them stays from the readings, root mean square in units
        of their noise.
    film_factor : float
        Film on the card over the stated one, middle of the paints.
    """

    paints: LikelyPaints
    misfit: float
    film_factor: float


def fit_card(
    topcoat: Topcoat,
    card: Card,
    dry_film_um: float,
    library: RecipeLibrary | None = None,
    film_error: float = FILM_ERROR,
) -> CardFit:
    """Find the paints that give a card's readings.

    Parameters
    ----------
    topcoat : Topcoat
        The colour; taken for the full colour where the card has no reading of it.
    card : Card
        The readings.
    dry_film_um : float
        Dry film of one coat. [um]
    library : RecipeLibrary, optional
        Recipes to start from.
    film_error : float
        Relative error of the film on the card.

    Returns
    -------
    CardFit

    Raises
    ------
    CardError
        If the readings cannot be those of a paint on such a card.

    References
    ----------
    .. [1] D. S. Oliver, N. He and A. C. Reynolds, "Conditioning permeability fields
       to pressure data", 5th European Conference on the Mathematics of Oil Recovery
       (1996): randomised maximum likelihood (from memory).
    """
    library = library or recipe_library()
    problem = problem_of(topcoat, card, dry_film_um, library, film_error)
    rng = np.random.default_rng(_SEED)
    noise = rng.normal(size=(len(problem.log_k), problem.wanted.size))
    film_draw = rng.normal(size=len(problem.log_k))
    place, cost = _bend(problem, noise, film_draw)
    misfits = np.sqrt(np.mean(problem.missed(place) ** 2, axis=1))
    fits = misfits <= WORST_MISFIT
    if not fits.any():
        message = (
            "No paint gives all readings of the card together with the topcoat's "
            "colour; check that both are of the same paint, measured the same way, and "
            "the number of coats."
        )
        raise CardError(message)
    weight = _weights(np.where(fits, cost, np.inf))
    log_k, log_s, log_film = problem.bent(place)
    return CardFit(
        LikelyPaints(
            np.exp(log_k).astype(np.float32),
            np.exp(log_s).astype(np.float32),
            weight,
            float(library.near(np.array([topcoat.lab])).nearest[0]),
            basis="test card",
            loading=MEASURED_ON_A_CARD,
            model=library.model,
        ),
        float(misfits.min()),
        float(np.exp(weighted_quantile(log_film, weight, 0.5))),
    )


class Problem(NamedTuple):
    """Recipes to bend and the readings to reach.

    A place in the space of bends has ``size`` coordinates: K, S, then the film, each
    in units of how far it is expected to stray.

    Attributes
    ----------
    log_k, log_s : array, shape (paints, 31)
        Logarithms of K and S of the unbent recipes.
    readings : tuple of Reading
        The full colour, then black and white of each step.
    wanted : array, shape (values,)
        The readings in units of their noise.
    films_um : array, shape (steps,)
        Stated dry films. [um]
    backing : array, shape (2, 31)
        Bare black and white, seen from inside the film.
    film_error : float
        Relative error of the film.
    model : FilmModel
        The film's optics.
    """

    log_k: Array
    log_s: Array
    readings: tuple[Reading, ...]
    wanted: Array
    films_um: NDArray[np.float32]
    backing: NDArray[np.float32]
    film_error: float
    model: FilmModel

    @property
    def size(self) -> int:
        """Coordinates of a place in the space of bends."""
        return 2 * _MODES + 1

    def only(self, paint: int) -> "Problem":
        """The problem of one recipe."""
        row = slice(paint, paint + 1)
        return self._replace(log_k=self.log_k[row], log_s=self.log_s[row])

    def loaded(self, ln_loading: Array) -> "Problem":
        """The same recipes with more pigment in them, shape (paints,) or (1,)."""
        more = ln_loading[:, None]
        return self._replace(log_k=self.log_k + more, log_s=self.log_s + more)

    def bent(self, place: Array) -> tuple[Array, Array, Array]:
        """Log K, log S and log film factor at a place in the space of bends."""
        shapes = _shapes()
        return (
            self.log_k + place[:, :_MODES] @ shapes.T,
            self.log_s + place[:, _MODES : 2 * _MODES] @ shapes.T,
            self.film_error * place[:, -1],
        )

    def reflectances(self, log_k: Array, log_s: Array, log_film: Array) -> Array:
        """What the readings were taken of, shape (paints, readings, 31)."""
        absorption = np.exp(log_k).astype(np.float32)
        scattering = np.exp(log_s).astype(np.float32)
        # Only K X and S X count, so a thicker film is a stronger paint.
        film = np.exp(log_film).astype(np.float32)[:, None]
        terms = self.model.terms(absorption * film, scattering * film, self.films_um)
        over = np.stack([terms.over(each) for each in self.backing], axis=2)
        full = self.model.masstone(absorption, scattering)[:, None]
        read = np.concatenate([full, over.reshape(len(full), -1, over.shape[-1])], 1)
        return np.asarray(read, dtype=np.float64)

    def observed(self, reflectances: Array) -> Observed:
        """What the instrument would report of them, one after another."""
        each = [
            observe(reflectances[:, i], reading)
            for i, reading in enumerate(self.readings)
        ]
        return Observed(
            np.concatenate([one.value for one in each], axis=-1),
            np.concatenate([one.slope for one in each], axis=-2),
        )

    def missed(self, place: Array) -> Array:
        """Misfit of each value, in units of its noise, shape (paints, values)."""
        return self.observed(self.reflectances(*self.bent(place))).value - self.wanted

    def slopes(self, place: Array) -> tuple[Array, Array]:
        """Misfit and how it moves with the bend, (paints, values, bends)."""
        log_k, log_s, log_film = self.bent(place)
        middle = self.reflectances(log_k, log_s, log_film)
        by_k, by_s = (
            (
                self.reflectances(log_k + k_nudge, log_s + s_nudge, log_film)
                - self.reflectances(log_k - k_nudge, log_s - s_nudge, log_film)
            )
            / (2.0 * _NUDGE)
            for k_nudge, s_nudge in ((_NUDGE, 0.0), (0.0, _NUDGE))
        )
        seen = self.observed(middle)
        sizes = [len(reading) for reading in self.readings]
        along_k = seen.slope * np.repeat(by_k, sizes, axis=1)
        along_s = seen.slope * np.repeat(by_s, sizes, axis=1)
        along_film = (along_k + along_s).sum(axis=-1) * self.film_error
        # The full colour is the same at any film.
        along_film[:, : sizes[0]] = 0.0
        shapes = _shapes()
        moved = [along_k @ shapes, along_s @ shapes, along_film[..., None]]
        return seen.value - self.wanted, np.concatenate(moved, axis=-1)


def problem_of(
    topcoat: Topcoat,
    card: Card,
    dry_film_um: float,
    library: RecipeLibrary,
    film_error: float = FILM_ERROR,
) -> Problem:
    """Set the readings up and choose the recipes that come nearest to them.

    Parameters
    ----------
    topcoat : Topcoat
        The colour.
    card : Card
        The readings.
    dry_film_um : float
        Dry film of one coat. [um]
    library : RecipeLibrary
        Recipes to start from.
    film_error : float
        Relative error of the film on the card.

    Returns
    -------
    Problem

    Raises
    ------
    CardError
        If the readings cannot be those of a paint on such a card.
    """
    card = check_card(card)
    full = card.full
    if full is None:
        full = topcoat.lab if topcoat.reflectance is None else topcoat.reflectance
    readings = [full]
    for step in card.steps:
        readings += [step.over_black, step.over_white]
    films = [step.coats * dry_film_um for step in card.steps]
    near = library.near(np.array([topcoat.lab]), _CONSIDERED).index[0]
    everything = Problem(
        np.log(library.recipes.absorption[near].astype(np.float64)),
        np.log(library.recipes.scattering[near].astype(np.float64)),
        tuple(readings),
        np.concatenate([reading_values(reading) for reading in readings]),
        np.array(films, dtype=np.float32),
        directional().inside(bare_areas(card)).astype(np.float32),
        film_error,
        library.model,
    )
    return _loaded(everything)


def _loaded(recipes: Problem) -> Problem:
    """The recipes that come nearest to the readings, each at its best loading."""
    loading = default_loading()
    unbent = np.zeros((len(recipes.log_k), recipes.size))
    cost = []
    for steps in _LOADINGS:
        at = recipes.loaded(np.array([loading.mean + steps * loading.spread]))
        cost.append(np.sum(at.missed(unbent) ** 2, axis=1) + steps**2)
    best_loading = np.argmin(cost, axis=0)
    best = np.argsort(np.min(cost, axis=0))[:_STARTS]
    ln_loading = loading.mean + _LOADINGS[best_loading[best]] * loading.spread
    chosen = recipes._replace(log_k=recipes.log_k[best], log_s=recipes.log_s[best])
    return chosen.loaded(ln_loading)


def _weights(cost: Array) -> Array:
    """Weights that fall with the cost, but never leave too few paints to go by.

    The cost holds each recipe's own draw of the noise. With the many values of a
    spectrum its spread alone would leave a single paint, so it is forgiven as far as
    it takes to keep the weights spread out.
    """
    forgiving = _FORGIVING
    for _ in range(_TRIES):
        weight = np.exp(-0.5 * (cost - cost.min()) / forgiving)
        weight /= weight.sum()
        if 1.0 / np.sum(weight**2) >= _LEAST_PAINTS:
            break
        forgiving *= _MORE_FORGIVING
    return np.asarray(weight)


def _bend(problem: Problem, noise: Array, film_draw: Array) -> tuple[Array, Array]:
    """Bend every recipe to its own noisy readings (Levenberg and Marquardt).

    Returns the place of each in the space of bends, and its cost there.
    """
    count, size = len(problem.log_k), problem.size
    prior = np.zeros((count, size))
    prior[:, -1] = film_draw
    place, damping = np.zeros((count, size)), np.ones(count)
    missed, slope = problem.slopes(place)
    cost = _cost(missed + noise, place - prior)
    for _ in range(_STEPS):
        curve = np.einsum("pvi,pvj->pij", slope, slope)
        curve += np.eye(size) * (1.0 + damping[:, None, None])
        uphill = np.einsum("pvi,pv->pi", slope, missed + noise) + place - prior
        step = -np.linalg.solve(curve, uphill[..., None])[..., 0]
        longest = np.abs(step).max(axis=1, keepdims=True)
        step *= np.minimum(1.0, _LONGEST_STEP / np.maximum(longest, _LONGEST_STEP))
        tried_missed, tried_slope = problem.slopes(place + step)
        tried = _cost(tried_missed + noise, place + step - prior)
        better = tried < cost
        place[better] += step[better]
        missed[better], slope[better] = tried_missed[better], tried_slope[better]
        cost[better] = tried[better]
        damping = np.clip(np.where(better, damping / 5.0, damping * 5.0), 1e-3, 1e4)
    return place, cost


def _cost(missed: Array, strayed: Array) -> Array:
    return np.asarray(np.sum(missed**2, axis=1) + np.sum(strayed**2, axis=1))


@cache
def _shapes() -> Array:
    """Smooth shapes along the spectrum, scaled to the size of a bend, (31, modes)."""
    apart = WAVELENGTHS_NM[:, None] - WAVELENGTHS_NM
    covariance = _BEND**2 * np.exp(-0.5 * (apart / _BEND_REACH_NM) ** 2)
    value, vector = np.linalg.eigh(covariance)
    return np.asarray(vector[:, -_MODES:] * np.sqrt(np.maximum(value[-_MODES:], 0.0)))
