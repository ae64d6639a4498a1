"""The fit of a card against a closed form, and on simulated cards."""

from functools import cache

import numpy as np
import pytest
from cards_read import COAT_UM, SEED, films_over, read
from validation.card_report import CardValidation, validate_cards
from validation.cards import STANDARD_CARD
from validation.paints import draw_paints
from validation.truth import NINE_GREYS, grey_reflectance, simulate

from shadecore.card.fit import CardFit, fit_card
from shadecore.card.reading import Card, Step, bare_areas
from shadecore.coats.count import weighted_quantile
from shadecore.coats.film_model import FilmModel
from shadecore.colour.appearance import lab_from_reflectance
from shadecore.colour.surface import directional
from shadecore.colour.topcoat import Topcoat
from shadecore.film.two_flux import TwoFluxFilm
from shadecore.recipes.draw import draw_recipes
from shadecore.recipes.library import RecipeLibrary, recipe_library

# The closed form ---------------------------------------------------------------------


def white_read_by(model: FilmModel) -> tuple[np.ndarray, Topcoat, Card]:
    """S X of two coats of a white, its full colour, and its card in spectra."""
    scattering = np.linspace(0.17, 0.12, 31, dtype=np.float32)[None]
    absorption = 0.004 * scattering
    seen = films_over(absorption, scattering, 2, model)
    full = model.masstone(absorption, scattering)[0]
    lab = lab_from_reflectance(full.astype(np.float64)).tolist()
    return (
        2.0 * COAT_UM * scattering[0],
        Topcoat((lab[0], lab[1], lab[2]), "white"),
        Card(
            (Step(2, read(seen[0, 0], "spectrum"), read(seen[0, 1], "spectrum")),),
            full=read(full, "spectrum"),
        ),
    )


def closed_form(card: Card) -> np.ndarray:
    """S X by Kubelka's formula, the readings carried inside the film.

    J. Opt. Soc. Am. 38 (1948) 448, from memory: b coth(b S X) is
    (1 + R Rg - a (R + Rg)) / (R - Rg) over both backings, which leaves one linear
    equation for a; then b is the root of a^2 - 1.
    """
    surface = directional()
    (step,) = card.steps
    black, white = surface.inside(bare_areas(card))
    low, high = surface.inside(step.over_black), surface.inside(step.over_white)
    top = (1.0 + low * black) * (high - white) - (1.0 + high * white) * (low - black)
    bottom = (low + black) * (high - white) - (high + white) * (low - black)
    a = top / bottom
    b = np.sqrt(a**2 - 1.0)
    b_coth = (1.0 + low * black - a * (low + black)) / (low - black)
    return np.asarray(np.arctanh(b / b_coth) / b)


def fitted_power(fit: CardFit) -> np.ndarray:
    middle = weighted_quantile(fit.paints.scattering.T, fit.paints.weight, 0.5)
    return np.asarray(2.0 * COAT_UM * middle)


def test_the_fit_agrees_with_the_closed_form() -> None:
    """Both on the two-flux film, where the formula is exact, and the film known."""
    model = TwoFluxFilm()
    rng = np.random.default_rng(SEED + 1)
    library = RecipeLibrary(draw_recipes(8192, rng), model)
    power, topcoat, card = white_read_by(model)
    np.testing.assert_allclose(closed_form(card), power, rtol=1e-4)
    fit = fit_card(topcoat, card, COAT_UM, library, film_error=0.001)
    np.testing.assert_allclose(fitted_power(fit), power, rtol=0.10)
    assert np.mean(fitted_power(fit)) == pytest.approx(float(power.mean()), rel=0.04)


def test_the_fit_agrees_roughly_with_the_closed_form_of_an_exact_film() -> None:
    """Light in an exact film is not Lambertian: the formula is some tenths off.

    The fit knows such films, so it is nearer.
    """
    power, topcoat, card = white_read_by(recipe_library().model)
    closed = closed_form(card)
    fit = fit_card(topcoat, card, COAT_UM, film_error=0.001)
    np.testing.assert_allclose(closed, power, rtol=0.4)
    np.testing.assert_allclose(fitted_power(fit), power, rtol=0.15)
    assert np.abs(fitted_power(fit) - power).mean() < np.abs(closed - power).mean()


# Simulated paints and cards -----------------------------------------------------------


@cache
def simulated() -> tuple[CardValidation, ...]:
    """Mixtures of measured pigments by another solver, read with 0.3 of noise.

    The film is a tenth off what was stated.
    """
    paints = draw_paints(24, np.random.default_rng(41))
    truth = simulate(paints, grey_reflectance(NINE_GREYS), COAT_UM, 20)["45/0"]
    rng = np.random.default_rng(42)
    return tuple(validate_cards(paints, truth, (1.0, 2.0), rng, STANDARD_CARD))


def test_picks_with_simulated_cards_are_good() -> None:
    for each in simulated():
        assert each.picks.mean_regret <= 0.25
        assert each.picks.within_one >= 0.9


def test_intervals_with_simulated_cards_hold() -> None:
    """They are to hold 90 percent; of 24 paints three quarters may be chance."""
    for each in simulated():
        assert 0.75 <= each.pick_counts.coverage <= 1.0
        assert 0.75 <= each.all_counts.coverage <= 1.0
        assert abs(each.all_counts.bias) < 0.75
        assert each.all_counts.within_one >= 0.6
