"""Test cards: stated noise, films that follow the hand, and what a card must show."""

from __future__ import annotations

from dataclasses import replace

import colour
import numpy as np
import pytest
from scipy.special import elliprg

from .cards import MEAN_RADIUS, Card, FloatArray, noise_deviation, read_lab, spray_cards
from .paints import WAVELENGTHS, Paints, draw_paints
from .transport import Geometry
from .truth import grey_reflectance, reflectance_to_lab, simulate

# Neutral, dark, pale and saturated, and the blue where CIEDE2000 turns its ellipses.
COLOURS = np.array(
    [
        [60.0, 0.0, 0.0],
        [5.0, 0.2, -0.3],
        [95.0, -1.0, 3.0],
        [85.0, 8.0, 95.0],
        [47.0, 54.0, 27.0],
        [30.0, 20.0, -55.0],
        [45.0, -50.0, 5.0],
    ]
)

EXACT = Card(coats=(1, 2, 3), film_error=0.0, lab_noise=0.0)


def seen_apart(first: FloatArray, second: FloatArray) -> FloatArray:
    """Return CIEDE2000."""
    return np.asarray(colour.delta_E(first, second, method="CIE 2000"))


def some_paints(count: int = 40, seed: int = 8) -> Paints:
    """Return a fixed draw of paints."""
    return draw_paints(count, np.random.default_rng(seed))


def only(paints: Paints, row: int) -> Paints:
    """Return one of the paints."""
    rows = slice(row, row + 1)
    return Paints(
        paints.amounts[rows], paints.absorption[rows], paints.scattering[rows]
    )


def contrast(black: FloatArray, white: FloatArray) -> FloatArray:
    """Return Y over black divided by Y over white, from Lab."""
    return grey_reflectance(black[..., 0]) / grey_reflectance(white[..., 0])


@pytest.mark.parametrize("mean", [0.1, 0.3])
def test_noise_is_as_strong_as_stated_at_every_colour(mean: float) -> None:
    true = np.repeat(COLOURS[:, None], 4000, axis=1)
    read = read_lab(true, mean, np.random.default_rng(2))
    errors = seen_apart(true, read).mean(axis=1)
    # one error scatters by about half its mean, so this is some three deviations
    np.testing.assert_allclose(errors, mean, rtol=0.025)


def test_noise_is_isotropic_and_unbiased() -> None:
    true = np.repeat(COLOURS[3][None], 20_000, axis=0)
    error = read_lab(true, 0.3, np.random.default_rng(4)) - true
    covariance = np.cov(error.T) / noise_deviation(COLOURS[3], 0.3) ** 2
    np.testing.assert_allclose(covariance, np.eye(3), atol=0.04)
    np.testing.assert_allclose(error.mean(axis=0), 0.0, atol=0.01)


def test_noise_of_a_saturated_colour_follows_from_its_ellipsoid() -> None:
    """Close by, CIEDE2000 is a quadratic form; its mean is an elliptic integral."""
    red = np.array([50.0, 60.0, 30.0])
    step = 0.01
    axes = step * np.eye(3)

    def squared(vector: FloatArray) -> float:
        return float(
            seen_apart(red, red + vector) ** 2 + seen_apart(red, red - vector) ** 2
        )

    form = np.array([[squared(a + b) - squared(a - b) for b in axes] for a in axes]) / (
        8.0 * step**2
    )
    mean = MEAN_RADIUS * elliprg(*np.linalg.eigvalsh(form))
    assert noise_deviation(red, 0.3) == pytest.approx(0.3 / mean, rel=5e-3)


def test_noise_of_a_mid_grey_by_hand() -> None:
    """At L* 50, S_L is 1; on the grey axis a* counts 1.5 times and b* once."""
    expected = 0.3 / (MEAN_RADIUS * elliprg(1.0, 1.5**2, 1.0))
    assert noise_deviation([50.0, 0.0, 0.0], 0.3) == pytest.approx(expected, rel=5e-3)


def test_no_lightness_is_read_below_black() -> None:
    read = read_lab(np.zeros((500, 3)), 0.3, np.random.default_rng(6))
    assert read[:, 0].min() == 0.0
    assert read[:, 1].min() < 0.0


def test_readings_of_cards_carry_the_stated_noise_and_nothing_else() -> None:
    paints = some_paints(400)
    noisy = spray_cards(paints, np.random.default_rng(1), Card(coats=(1, 3)))
    clean = spray_cards(
        paints, np.random.default_rng(1), Card(coats=(1, 3), lab_noise=0.0)
    )
    np.testing.assert_array_equal(noisy.film_factor, clean.film_factor)
    np.testing.assert_array_equal(noisy.spectra_white, clean.spectra_white)
    for name in ("over_black", "over_white", "hidden"):
        error = seen_apart(getattr(clean, name), getattr(noisy, name))
        assert error.mean() == pytest.approx(0.3, rel=0.075)
    # the readings of one card err each on its own
    lightness = np.stack(
        [
            (getattr(noisy, name) - getattr(clean, name)).reshape(400, -1, 3)[:, 0, 0]
            for name in ("over_black", "over_white", "hidden")
        ]
    )
    assert np.abs(np.corrcoef(lightness) - np.eye(3)).max() < 0.15


def test_shapes_and_the_colours_of_the_spectra() -> None:
    paints = some_paints(7)
    readings = spray_cards(paints, np.random.default_rng(0), EXACT)
    assert readings.over_black.shape == readings.over_white.shape == (7, 3, 3)
    assert readings.spectra_black.shape == (7, 3, WAVELENGTHS.size)
    assert readings.spectra_white.shape == (7, 3, WAVELENGTHS.size)
    assert readings.hidden.shape == (7, 3)
    assert readings.film_factor.shape == (7,)
    for spectra, lab in (
        (readings.spectra_black, readings.over_black),
        (readings.spectra_white, readings.over_white),
    ):
        np.testing.assert_allclose(reflectance_to_lab(spectra), lab, atol=1e-9)


def test_one_step_of_two_coats_unless_stated() -> None:
    readings = spray_cards(some_paints(3), np.random.default_rng(0))
    assert readings.over_black.shape == (3, 1, 3)
    card = Card(lab_noise=0.0, film_error=0.0)
    default = spray_cards(some_paints(3), np.random.default_rng(0), card)
    stepped = spray_cards(some_paints(3), np.random.default_rng(0), EXACT)
    np.testing.assert_allclose(
        default.over_white[:, 0], stepped.over_white[:, 1], atol=1e-9
    )


@pytest.mark.parametrize("geometry", ["45/0", "d/8"])
def test_the_film_factor_is_a_thickness(geometry: Geometry) -> None:
    """Each card equals that one paint sprayed with coats of its true thickness."""
    paints = some_paints(5)
    card = replace(EXACT, film_error=0.3)
    readings = spray_cards(paints, np.random.default_rng(12), card, geometry)
    assert np.ptp(readings.film_factor) > 0.1
    for row, factor in enumerate(readings.film_factor):
        coat = 10.0 * float(factor)
        truth = simulate(only(paints, row), [0.005, 0.80], coat, 3)[geometry]
        np.testing.assert_allclose(readings.over_black[row], truth.lab[0, 0], atol=1e-6)
        np.testing.assert_allclose(readings.over_white[row], truth.lab[0, 1], atol=1e-6)
        np.testing.assert_allclose(readings.hidden[row], truth.hidden[0], atol=1e-6)


def test_the_hand_scatters_as_stated_about_the_film_that_was_meant() -> None:
    readings = spray_cards(some_paints(1500), np.random.default_rng(14))
    hand = np.log(readings.film_factor)
    assert hand.std() == pytest.approx(0.10, rel=0.06)
    assert np.abs(hand.mean()) < 0.01


def test_more_coats_raise_the_contrast_ratio() -> None:
    readings = spray_cards(
        some_paints(200), np.random.default_rng(0), replace(EXACT, coats=(1, 2, 3, 6))
    )
    ratio = contrast(readings.over_black, readings.over_white)
    assert np.all(np.diff(ratio, axis=1) > -1e-12)
    assert np.all(ratio > 0.0)
    assert np.all(ratio <= 1.0 + 1e-12)
    assert ratio[:, -1].mean() > ratio[:, 0].mean() + 0.1


def test_a_heavy_hand_raises_the_contrast_ratio() -> None:
    paint = some_paints(1)
    many = Paints(
        np.repeat(paint.amounts, 30, axis=0),
        np.repeat(paint.absorption, 30, axis=0),
        np.repeat(paint.scattering, 30, axis=0),
    )
    card = Card(lab_noise=0.0)
    readings = spray_cards(many, np.random.default_rng(3), card)
    ratio = contrast(readings.over_black, readings.over_white)[:, 0]
    order = readings.film_factor.argsort()
    assert np.all(np.diff(ratio[order]) > 0.0)


def test_no_film_shows_the_card_and_much_film_hides_it() -> None:
    paints = some_paints(10)
    rng = np.random.default_rng(0)
    bare = spray_cards(paints, rng, replace(EXACT, coats=(0,)))
    np.testing.assert_allclose(bare.spectra_black, 0.005, atol=1e-9)
    np.testing.assert_allclose(bare.spectra_white, 0.80, atol=1e-9)
    thick = spray_cards(paints, rng, replace(EXACT, film_per_coat=1e5))
    for over in (thick.over_black, thick.over_white):
        np.testing.assert_allclose(seen_apart(over[:, 0], thick.hidden), 0.0, atol=0.01)


def test_spectral_noise_is_relative_and_leaves_the_colours_alone() -> None:
    paints = some_paints(60)
    card = Card(coats=(1, 2))
    clean = spray_cards(paints, np.random.default_rng(5), card)
    noisy = spray_cards(
        paints, np.random.default_rng(5), replace(card, spectral_noise=0.01)
    )
    for name in ("spectra_black", "spectra_white"):
        ratio = np.log(getattr(noisy, name) / getattr(clean, name))
        assert ratio.std() == pytest.approx(0.01, rel=0.05)
        assert np.abs(ratio.mean()) < 1e-3
    for name in ("over_black", "over_white", "hidden"):
        np.testing.assert_array_equal(getattr(noisy, name), getattr(clean, name))


def test_a_seed_fixes_the_cards_and_the_steps_do_not_change_the_hand() -> None:
    paints = some_paints(12)
    first, again, other = (
        spray_cards(paints, np.random.default_rng(seed)) for seed in (5, 5, 6)
    )
    np.testing.assert_array_equal(first.over_black, again.over_black)
    assert not np.array_equal(first.over_black, other.over_black)
    stepped = spray_cards(paints, np.random.default_rng(5), Card(coats=(1, 2, 3)))
    np.testing.assert_array_equal(first.film_factor, stepped.film_factor)
    np.testing.assert_allclose(first.hidden, stepped.hidden, atol=1e-9)
