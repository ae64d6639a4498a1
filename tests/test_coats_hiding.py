"""Contrast ratio over black and white: its limits, its course and its rating."""

import numpy as np
import pytest
from numpy.typing import NDArray

import shadecore
from shadecore.coats.contrast import (
    LN_FILMS,
    contrast_of_solids,
    contrast_ratios,
    ratios_at,
)
from shadecore.coats.estimate import LikelyPaints
from shadecore.coats.film_model import FilmModel
from shadecore.coats.hiding import rating
from shadecore.coats.pick import pick
from shadecore.colour.surface import directional
from shadecore.film.two_flux import FilmTerms
from shadecore.recipes.library import recipe_library

Floats = NDArray[np.floating]
SHELF = shadecore.demo_shelf()


def contrast_ratio(
    absorption: Floats, scattering: Floats, film_um: float, model: FilmModel
) -> Floats:
    """Of solid paints at one film."""
    weight = np.full(len(absorption), 1.0 / len(absorption))
    paints = LikelyPaints(absorption, scattering, weight, 0.0, model=model)
    return contrast_ratios(paints, np.array([film_um]))[:, 0]


def some_recipes(count: int) -> tuple[np.ndarray, np.ndarray]:
    recipes = recipe_library().recipes
    places = np.random.default_rng(6).integers(0, len(recipes.absorption), count)
    return recipes.absorption[places], recipes.scattering[places]


class KnownFilm:
    """A grey film whose three numbers are given."""

    def __init__(self, over_black: float, through: float, below: float) -> None:
        self.numbers = over_black, through, below

    def masstone(self, absorption: Floats, scattering: Floats) -> Floats:
        """Is not looked at for a contrast ratio."""
        return np.zeros_like(absorption + scattering)

    def terms(
        self, absorption: Floats, scattering: Floats, dry_film_um: Floats
    ) -> FilmTerms:
        """Give the same film everywhere."""
        shape = (len(absorption + scattering), len(dry_film_um), 31)
        black, through, below = (np.full(shape, each) for each in self.numbers)
        return FilmTerms(black, through, below)


def test_a_known_film_by_hand() -> None:
    """R = A + B Rg / (1 - C Rg), black reflecting nothing, white reading 0.80."""
    flat = np.ones((1, 31))
    white = float(directional().inside(0.80))
    found = contrast_ratio(flat, flat, 30.0, KnownFilm(0.4, 0.3, 0.5))
    over_white = 0.4 + 0.3 * white / (1.0 - 0.5 * white)
    assert found == pytest.approx([0.4 / over_white])


def test_a_film_that_lets_nothing_through_hides() -> None:
    flat = np.ones((2, 31))
    found = contrast_ratio(flat, flat, 30.0, KnownFilm(0.4, 0.0, 0.5))
    assert found == pytest.approx([1.0, 1.0])


def test_no_film_shows_the_card_and_a_thick_one_hides_it() -> None:
    model = recipe_library().model
    recipes = some_recipes(200)
    bare = contrast_ratio(*recipes, 1e-6, model)
    assert np.all(bare < 0.01)
    hidden = contrast_ratio(*recipes, 1e6, model)
    np.testing.assert_allclose(hidden, 1.0, atol=1e-3)


def test_more_film_never_shows_more_of_the_card() -> None:
    model = recipe_library().model
    recipes = some_recipes(200)
    films = np.geomspace(0.5, 500.0, 25)
    ratio = np.array([contrast_ratio(*recipes, float(um), model) for um in films])
    assert np.all(np.diff(ratio, axis=0) >= -1e-5)
    assert np.all((ratio > 0.0) & (ratio <= 1.0 + 1e-5))
    assert np.all(ratio[-1] > ratio[0])


def test_many_solids_get_the_ratios_of_each() -> None:
    model = recipe_library().model
    absorption, scattering = some_recipes(50)
    on_films = contrast_of_solids(absorption, scattering, model)
    for film_um in (2.0, 30.0, 200.0):
        expected = contrast_ratio(absorption, scattering, film_um, model)
        found = ratios_at(on_films, np.log([film_um]))[:, 0]
        np.testing.assert_allclose(found, expected, atol=0.01)
    ends = ratios_at(on_films, np.array([-9.0, 99.0]))
    np.testing.assert_allclose(ends, on_films[:, [0, LN_FILMS.size - 1]])


def test_an_answer_states_it_for_its_film() -> None:
    colour = shadecore.parse_topcoat("45 60 35")
    thin, thick = (
        pick(colour, SHELF, shadecore.Settings(hiding_film_um=um)).hiding
        for um in (15.0, 60.0)
    )
    assert (thin.film_um, thick.film_um) == (15.0, 60.0)
    assert thin.contrast_ratio < thick.contrast_ratio
    assert thin.low <= thin.contrast_ratio <= thin.high


@pytest.mark.parametrize(
    ("ratio", "expected"),
    [
        (1.0, "good"),
        (0.98, "good"),
        (0.9799, "fair"),
        (0.95, "fair"),
        (0.9499, "poor"),
        (0.0, "poor"),
    ],
)
def test_complete_hiding_is_from_98_hundredths(ratio: float, expected: str) -> None:
    """ISO 6504-3 and ASTM D2805 take 0.98 as complete; 0.95 is the tool's own."""
    assert str(rating(np.array(ratio))) == expected


def test_many_are_rated_at_once() -> None:
    assert rating(np.array([0.99, 0.96, 0.5])).tolist() == ["good", "fair", "poor"]


def test_a_black_hides_better_than_a_clear_yellow() -> None:
    """Carbon black hides in a few micrometres; clear yellows are the poorest."""
    black, yellow = (
        pick(shadecore.parse_topcoat(text), SHELF).hiding
        for text in ("5 0 0", "80 5 100")
    )
    assert black.rating == "good"
    assert yellow.rating == "poor"
