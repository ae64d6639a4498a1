"""From a card to the paint: known paints, read exactly."""

from functools import cache
from typing import NamedTuple

import numpy as np
import pytest
from cards_read import COAT_UM, SEED, films_over, read

from shadecore.card.fit import FILM_ERROR, WORST_MISFIT, CardFit, fit_card, problem_of
from shadecore.card.reading import Card, Step
from shadecore.coats.belief import count_over
from shadecore.coats.count import weighted_quantile
from shadecore.coats.estimate import LikelyPaints, likely_paints
from shadecore.coats.evidence import believe
from shadecore.coats.settings import Settings
from shadecore.coats.thickness import ln_thickness_of_solids
from shadecore.colour.appearance import (
    colour_difference,
    lab_from_reflectance,
    tristimulus_weights,
)
from shadecore.colour.topcoat import Topcoat
from shadecore.errors import CardError
from shadecore.recipes.draw import Recipes, draw_recipes
from shadecore.recipes.library import recipe_library
from shadecore.undercoats.shelf import inside_film, undercoat

PAINTS = 10
GREYS = tuple(undercoat(f"Grey {each}", (each, 0, 0)) for each in (95, 80, 60, 40, 25))
SETTINGS = Settings(1.0)
TWO, THREE = (2,), (1, 2, 3)
KINDS = ("Y", "Lab", "spectrum")


@cache
def drawn() -> Recipes:
    """Paints that the engine does not know."""
    return draw_recipes(PAINTS, np.random.default_rng(SEED))


def card_of(paint: int, coats: tuple[int, ...], kind: str) -> Card:
    """Read a card without any error."""
    row = slice(paint, paint + 1)
    recipes, model = drawn(), recipe_library().model
    steps = []
    for count in coats:
        seen = films_over(
            recipes.absorption[row], recipes.scattering[row], count, model
        )
        steps.append(Step(count, read(seen[0, 0], kind), read(seen[0, 1], kind)))
    return Card(tuple(steps))


def full_of(paint: int) -> np.ndarray:
    recipes = drawn()
    return recipe_library().model.masstone(
        recipes.absorption[paint], recipes.scattering[paint]
    )


def topcoat_of(paint: int) -> Topcoat:
    lab = lab_from_reflectance(full_of(paint)).tolist()
    return Topcoat((lab[0], lab[1], lab[2]), f"paint {paint}")


@cache
def fitted(coats: tuple[int, ...], kind: str) -> tuple[CardFit, ...]:
    """Every paint's card, fitted once for all tests."""
    return tuple(
        fit_card(topcoat_of(paint), card_of(paint, coats, kind), COAT_UM)
        for paint in range(PAINTS)
    )


class Found(NamedTuple):
    """Counts of every paint over every grey, shape (paints, greys) each."""

    coats: np.ndarray
    low: np.ndarray
    high: np.ndarray

    @property
    def width(self) -> float:
        """Mean width of the intervals."""
        return float((self.high - self.low).mean())

    @property
    def off(self) -> float:
        """Mean error of the counts."""
        return float(np.abs(self.coats.astype(int) - true_coats()).mean())

    @property
    def held(self) -> float:
        """Share of true counts inside their intervals."""
        inside = (self.low <= true_coats()) & (true_coats() <= self.high)
        return float(inside.mean())


@cache
def true_coats() -> np.ndarray:
    recipes = drawn()
    ln_film = ln_thickness_of_solids(
        recipes.absorption,
        recipes.scattering,
        inside_film(GREYS),
        SETTINGS.tolerance,
        recipe_library().model,
    )
    coats = np.ceil(np.exp(ln_film) / COAT_UM)
    return np.minimum(coats, SETTINGS.coat_cap + 1).astype(int)


def counted(paints: tuple[LikelyPaints, ...]) -> Found:
    counts = [count_over(believe(each, SETTINGS), GREYS, SETTINGS) for each in paints]
    return Found(
        *(
            np.concatenate([getattr(each, name) for each in counts])
            for name in ("coats", "low", "high")
        )
    )


@cache
def with_card(coats: tuple[int, ...], kind: str) -> Found:
    return counted(tuple(fit.paints for fit in fitted(coats, kind)))


@cache
def from_colour() -> Found:
    library = recipe_library()
    return counted(tuple(likely_paints(topcoat_of(i), library) for i in range(PAINTS)))


# Paints of the same families, read without error --------------------------------------


@pytest.mark.parametrize("kind", KINDS)
def test_the_fitted_paints_give_the_readings(kind: str) -> None:
    """Readings without error are met well within their noise."""
    for fit in fitted(TWO, kind):
        assert fit.misfit < 1.5
        assert fit.misfit < WORST_MISFIT
        assert 0.7 < fit.film_factor < 1.3
        assert fit.paints.weight.sum() == pytest.approx(1.0)
        assert np.all(fit.paints.weight >= 0.0)
        assert np.all(fit.paints.absorption > 0.0)
        assert np.all(fit.paints.scattering > 0.0)


@pytest.mark.parametrize("paint", [0, 5, 8])
def test_their_films_look_like_the_readings(paint: int) -> None:
    """Sprayed anew on the card, with the film known to a thousandth.

    Each fitted paint meets its own draw of noise, 0.3 CIEDE2000 on average with 0.15
    for the film's model; their mean is nearer.
    """
    card, model = card_of(paint, TWO, "Lab"), recipe_library().model
    paints = fit_card(topcoat_of(paint), card, COAT_UM, film_error=0.001).paints
    seen = lab_from_reflectance(
        films_over(paints.absorption, paints.scattering, 2, model)
    )
    full = lab_from_reflectance(model.masstone(paints.absorption, paints.scattering))
    for found, wanted in (
        (seen[:, 0], card.steps[0].over_black),
        (seen[:, 1], card.steps[0].over_white),
        (full, topcoat_of(paint).lab),
    ):
        apart = colour_difference(found, np.array(wanted, dtype=found.dtype))
        assert float(paints.weight @ apart) < 0.6
        mean = paints.weight @ found
        assert float(colour_difference(mean, np.array(wanted))) < 0.3


@pytest.mark.parametrize(
    ("kind", "least"), [("Y", 0.90), ("Lab", 0.90), ("spectrum", 0.85)]
)
def test_the_true_counts_lie_mostly_in_the_interval(kind: str, least: float) -> None:
    """Readings without error of paints like the library's, so nearly all should.

    Intervals of spectra rest on few paints (their weights fall fast), so less is
    asked of them.
    """
    assert with_card(TWO, kind).held >= least


@pytest.mark.parametrize("kind", KINDS)
def test_a_card_tells_more_than_the_colour(kind: str) -> None:
    assert with_card(TWO, kind).width < 0.75 * from_colour().width
    assert with_card(TWO, kind).off < from_colour().off


def test_more_is_told_by_more_numbers() -> None:
    """A spectrum has 31 numbers, Lab 3 and Y 1."""
    widths = [with_card(TWO, kind).width for kind in KINDS]
    assert widths == sorted(widths, reverse=True)


def test_more_steps_are_not_worse() -> None:
    """A tenth of a coat is left to the draw of noise."""
    one, three = with_card(TWO, "Lab"), with_card(THREE, "Lab")
    assert three.width <= one.width + 0.1
    assert three.off <= one.off + 0.1


@pytest.mark.parametrize("paint", [2, 9])
def test_the_same_card_gives_the_same_paints(paint: int) -> None:
    first = fitted(TWO, "Lab")[paint]
    again = fit_card(topcoat_of(paint), card_of(paint, TWO, "Lab"), COAT_UM)
    assert again.misfit == first.misfit
    np.testing.assert_array_equal(again.paints.weight, first.paints.weight)
    np.testing.assert_array_equal(again.paints.scattering, first.paints.scattering)


def test_the_order_of_steps_does_not_matter() -> None:
    card = card_of(3, (1, 3), "Lab")
    there, back = (
        fit_card(topcoat_of(3), Card(steps), COAT_UM)
        for steps in (card.steps, card.steps[::-1])
    )
    np.testing.assert_array_equal(there.paints.scattering, back.paints.scattering)


# Kinds of readings -------------------------------------------------------------------


def test_kinds_may_be_mixed() -> None:
    """Y over the areas with the colour in Lab, or in full as a spectrum."""
    for paint in (1, 4, 7):
        luminance = card_of(paint, TWO, "Y")
        for full in (
            None,
            read(full_of(paint), "Lab"),
            read(full_of(paint), "spectrum"),
        ):
            card = Card(luminance.steps, full=full)
            fit = fit_card(topcoat_of(paint), card, COAT_UM)
            assert fit.misfit < 1.5
            seen = films_over(
                fit.paints.absorption, fit.paints.scattering, 2, recipe_library().model
            )
            # As thick as was stated within the film's error.
            luminous = seen @ tristimulus_weights()[:, 1]
            middle = weighted_quantile(luminous.T, fit.paints.weight, 0.5)
            wanted = [
                luminance.steps[0].over_black[0],
                luminance.steps[0].over_white[0],
            ]
            np.testing.assert_allclose(middle, wanted, rtol=FILM_ERROR, atol=0.5)


def test_a_measured_topcoat_serves_as_the_full_colour() -> None:
    lab, spectrum = topcoat_of(6).lab, read(full_of(6), "spectrum")
    card = card_of(6, TWO, "spectrum")
    by_topcoat = fit_card(Topcoat(lab, "measured", spectrum), card, COAT_UM)
    by_card = fit_card(Topcoat(lab, "typed"), Card(card.steps, full=spectrum), COAT_UM)
    np.testing.assert_array_equal(by_topcoat.paints.weight, by_card.paints.weight)
    # The spectrum where it hides is met at each wavelength, within its noise.
    paints = by_topcoat.paints
    full = recipe_library().model.masstone(paints.absorption, paints.scattering)
    np.testing.assert_allclose(paints.weight @ full, spectrum, rtol=0.05, atol=0.01)


def test_a_surer_film_tells_more() -> None:
    """What is not known of the film is not known of K and S."""
    widths = []
    for error in (0.001, 0.3):
        paints = tuple(
            fit_card(
                topcoat_of(i), card_of(i, TWO, "Lab"), COAT_UM, film_error=error
            ).paints
            for i in range(8)
        )
        widths.append(counted(paints).width)
    assert widths[0] < widths[1]


def test_only_the_product_with_the_film_is_known() -> None:
    """The same readings of twice the film are of a paint of half the strength."""
    card = card_of(8, TWO, "Lab")
    power = [
        film_um
        * float(weighted_quantile(fit.paints.scattering[:, 15], fit.paints.weight, 0.5))
        for film_um in (COAT_UM, 1.1 * COAT_UM)
        for fit in [fit_card(topcoat_of(8), card, film_um)]
    ]
    # The recipes' own strength pulls a little against it.
    assert power[1] == pytest.approx(power[0], rel=0.12)


@pytest.mark.parametrize("kind", KINDS)
def test_slopes_along_the_bends_are_derivatives(kind: str) -> None:
    """Central differences at the recipe and at a place beside it.

    Films are looked up in single precision, and the slopes bend over their nudge.
    """
    problem = problem_of(
        topcoat_of(4), card_of(4, (1, 3), kind), COAT_UM, recipe_library()
    ).only(0)
    rng = np.random.default_rng(SEED + 2)
    for place in (np.zeros((1, problem.size)), rng.normal(0.0, 0.3, (1, problem.size))):
        missed, slope = problem.slopes(place)
        np.testing.assert_allclose(missed, problem.missed(place), atol=1e-9)
        nudges = 0.02 * np.eye(problem.size)
        expected = (
            np.stack(
                [
                    problem.missed(place + each) - problem.missed(place - each)
                    for each in nudges
                ],
                axis=-1,
            )
            / 0.04
        )
        largest = np.abs(expected).max()
        np.testing.assert_allclose(slope, expected, atol=0.03 * largest)
        # The full colour, Lab here, knows no film.
        np.testing.assert_allclose(expected[:, :3, -1], 0.0, atol=1e-3 * largest)
        np.testing.assert_array_equal(slope[:, :3, -1], 0.0)


def test_a_film_factor_is_a_thickness() -> None:
    """A film a fifth thicker than stated reads as the paint sprayed a fifth thicker."""
    problem = problem_of(
        topcoat_of(4), card_of(4, TWO, "Lab"), COAT_UM, recipe_library()
    ).only(0)
    log_k, log_s = problem.log_k, problem.log_s
    found = problem.reflectances(log_k, log_s, np.log([1.2]))
    thick = problem._replace(films_um=problem.films_um * np.float32(1.2))
    expected = thick.reflectances(log_k, log_s, np.zeros(1))
    np.testing.assert_allclose(found, expected, atol=1e-5)


# Refusals ----------------------------------------------------------------------------


def test_the_card_of_another_paint_is_refused() -> None:
    """Any two of the paints whose full colours lie 20 CIEDE2000 and more apart."""
    refused = 0
    for paint in range(PAINTS):
        other = (paint + 5) % PAINTS
        apart = colour_difference(
            np.array(topcoat_of(paint).lab), np.array(topcoat_of(other).lab)
        )
        if float(apart) < 20.0:
            continue
        with pytest.raises(CardError, match="No paint gives all readings"):
            fit_card(topcoat_of(other), card_of(paint, TWO, "Lab"), COAT_UM)
        refused += 1
    assert refused >= 5


def test_a_wrong_card_is_refused_before_it_is_fitted() -> None:
    (step,) = card_of(0, TWO, "Lab").steps
    swapped = Card((Step(2, step.over_white, step.over_black),))
    with pytest.raises(CardError, match="swapped"):
        fit_card(topcoat_of(0), swapped, COAT_UM)
