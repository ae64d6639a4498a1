"""The closed-form film against tables, limits and its differential equation."""

import numpy as np
import pytest
from check_values import numbers
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from shadecore.colour.surface import directional, saunderson
from shadecore.film.two_flux import (
    FilmTerms,
    TwoFluxFilm,
    absorption_to_scattering,
    film_reflectance,
    film_terms,
    masstone_reflectance,
)

BACKINGS = np.array([0.0, 0.2, 0.5, 0.8, 1.0])
COEFFICIENT = st.floats(1e-6, 5.0)
THICKNESS = st.floats(0.0, 200.0)
REFLECTANCE = st.floats(0.0, 1.0)


@pytest.mark.parametrize("row", numbers("kubelka-munk-films.csv"))
def test_films_of_the_table(row: np.ndarray) -> None:
    """Computed independently, eight decimals."""
    s, k, x, masstone = row[:4]
    np.testing.assert_allclose(film_reflectance(k, s, x, BACKINGS), row[4:], atol=1e-8)
    assert float(masstone_reflectance(k, s)) == pytest.approx(masstone, abs=1e-6)


@pytest.mark.parametrize("row", numbers("hiding-thickness.csv"))
def test_thickness_that_hides(row: np.ndarray) -> None:
    """S X for a contrast ratio over black and Rg = 0.80, computed independently."""
    masstone, ratio, sx_98, sx_95, black = (float(value) for value in row)
    assert float(absorption_to_scattering(masstone)) == pytest.approx(ratio, rel=1e-3)
    exact = (1.0 - masstone) ** 2 / (2.0 * masstone)

    def short_of(contrast: float, sx: float) -> float:
        over_black, over_white = film_reflectance(exact, 1.0, sx, [0.0, 0.8])
        return float(over_black / over_white) - contrast

    for contrast, expected in ((0.98, sx_98), (0.95, sx_95)):
        found = brentq(lambda sx, c=contrast: short_of(c, sx), 0.01, 30.0)
        assert found == pytest.approx(expected, abs=2e-5)
    at_hiding = float(film_terms(exact, 1.0, sx_98).over_black)
    assert at_hiding == pytest.approx(black, abs=2e-6)


def test_a_case_by_hand() -> None:
    """At a masstone of 0.80 the film over Rg = 0.80 is 0.80, so black is 0.784."""
    k = 0.2**2 / 1.6
    assert float(film_reflectance(k, 1.0, 6.50069, 0.8)) == pytest.approx(0.8)
    black = float(film_reflectance(k, 1.0, 6.50069, 0.0))
    assert black == pytest.approx(0.98 * 0.8, abs=1e-6)


@pytest.mark.parametrize(
    ("k", "s", "x"),
    [(0.02, 0.2, 10.0), (0.5, 0.05, 12.0), (0.001, 0.1, 60.0), (2.0, 0.3, 3.0)],
)
def test_the_differential_equation(k: float, s: float, x: float) -> None:
    """Kubelka's dR/dx = S - 2 (K + S) R + S R^2 from the backing up, by Runge-Kutta."""
    solved = solve_ivp(
        lambda _, r: s - 2.0 * (k + s) * r + s * r**2,
        (0.0, x),
        BACKINGS,
        rtol=1e-10,
        atol=1e-12,
    ).y[:, -1]
    np.testing.assert_allclose(film_reflectance(k, s, x, BACKINGS), solved, atol=1e-8)


def test_the_hyperbolic_formula() -> None:
    """Kubelka (1948), from memory: [1 - Rg (a - b coth)] / [a - Rg + b coth]."""
    rng = np.random.default_rng(50)
    k, s = rng.uniform(0.001, 1.0, (2, 100))
    x, rg = rng.uniform(1.0, 15.0, 100), rng.uniform(0.0, 1.0, 100)
    a = 1.0 + k / s
    b = np.sqrt(a**2 - 1.0)
    coth = b / np.tanh(b * s * x)
    expected = (1.0 - rg * (a - coth)) / (a - rg + coth)
    np.testing.assert_allclose(film_reflectance(k, s, x, rg), expected, atol=1e-12)


@pytest.mark.parametrize("row", numbers("two-flux-in-transport.csv"))
def test_films_fitted_to_exact_transport(row: np.ndarray) -> None:
    """S X and K X that iadpython's diffuse films were fitted with give them again."""
    reflectance = film_reflectance(row[3], row[2], 1.0, [0.0, 0.2, 0.8])
    np.testing.assert_allclose(reflectance, row[4:], atol=3e-5)


# Limits -------------------------------------------------------------------------


@pytest.mark.parametrize(("k", "s"), [(0.3, 0.1), (0.0, 0.2), (0.1, 0.0), (0.0, 0.0)])
def test_no_film_shows_its_backing(k: float, s: float) -> None:
    np.testing.assert_allclose(film_reflectance(k, s, 0.0, BACKINGS), BACKINGS)


def test_a_film_without_absorption() -> None:
    """R = [(1 - Rg) S X + Rg] / [(1 - Rg) S X + 1] (algebra)."""
    for sx in (0.01, 1.0, 50.0):
        uncovered = (1.0 - BACKINGS) * sx
        np.testing.assert_allclose(
            film_reflectance(0.0, sx / 10.0, 10.0, BACKINGS),
            (uncovered + BACKINGS) / (uncovered + 1.0),
            rtol=1e-12,
        )


def test_a_film_without_scattering_obeys_beer_and_lambert() -> None:
    for kx in (0.01, 1.0, 8.0):
        np.testing.assert_allclose(
            film_reflectance(kx / 10.0, 0.0, 10.0, BACKINGS),
            BACKINGS * np.exp(-2.0 * kx),
            rtol=1e-12,
        )


@pytest.mark.parametrize(
    ("k", "s"), [(0.02, 0.2), (1.0, 0.01), (1e-4, 0.3), (5.0, 0.0)]
)
def test_a_thick_film_hides(k: float, s: float) -> None:
    thick = film_reflectance(k, s, 1e5, BACKINGS)
    np.testing.assert_allclose(thick, masstone_reflectance(k, s), atol=1e-9)


def test_little_absorption_joins_onto_none() -> None:
    none = film_reflectance(0.0, 0.2, 10.0, BACKINGS)
    little = film_reflectance(1e-13, 0.2, 10.0, BACKINGS)
    np.testing.assert_allclose(little, none, atol=1e-9)


@settings(deadline=None, derandomize=True, max_examples=200)
@given(st.floats(1e-4, 1.0))
def test_masstone_and_ratio_are_inverse(masstone: float) -> None:
    ratio = absorption_to_scattering(masstone)
    back = float(masstone_reflectance(ratio, 1.0))
    assert back == pytest.approx(masstone, rel=1e-6, abs=1e-9)


def test_masstone_of_extremes() -> None:
    """No scattering reflects nothing, no absorption everything, K/S = 1e6 little.

    For large K/S the masstone tends to S / (2 K).
    """
    np.testing.assert_allclose(
        masstone_reflectance([1.0, 0.0, 0.0], [0.0, 1.0, 0.0]), [0.0, 1.0, 0.0]
    )
    tiny = float(masstone_reflectance(1e6, 1.0))
    assert tiny == pytest.approx(0.5e-6, rel=1e-5)


# What every film does -------------------------------------------------------------


@settings(deadline=None, derandomize=True, max_examples=200)
@given(COEFFICIENT, COEFFICIENT, THICKNESS, REFLECTANCE)
def test_films_give_back_no_more_than_they_get(
    k: float, s: float, x: float, rg: float
) -> None:
    terms = film_terms(k, s, x)
    transmitted = np.sqrt(terms.through)
    assert float(terms.over_black + transmitted) <= 1.0 + 1e-12
    assert 0.0 <= float(terms.over(rg)) <= 1.0 + 1e-12


@settings(deadline=None, derandomize=True, max_examples=200)
@given(COEFFICIENT, COEFFICIENT, st.floats(0.01, 100.0), REFLECTANCE)
def test_a_film_lies_between_its_backing_and_its_masstone(
    k: float, s: float, x: float, rg: float
) -> None:
    full = float(masstone_reflectance(k, s))
    film = film_reflectance(k, s, np.array([x, 2.0 * x, 4.0 * x]), rg)
    low, high = min(rg, full), max(rg, full)
    assert np.all((film >= low - 1e-9) & (film <= high + 1e-9))
    distance = np.abs(film - full)
    assert np.all(np.diff(distance) <= 1e-9)


@settings(deadline=None, derandomize=True, max_examples=200)
@given(COEFFICIENT, COEFFICIENT, THICKNESS, st.floats(1.01, 3.0))
def test_more_pigment_acts_its_way(k: float, s: float, x: float, more: float) -> None:
    film = film_reflectance(k, s, x, BACKINGS)
    assert np.all(film_reflectance(k * more, s, x, BACKINGS) <= film + 1e-12)
    over_black = film_terms(k, s * more, x).over_black
    assert float(over_black) >= float(film_terms(k, s, x).over_black) - 1e-12
    assert np.all(np.diff(film) >= -1e-12)


@settings(deadline=None, derandomize=True, max_examples=100)
@given(COEFFICIENT, COEFFICIENT, st.floats(0.1, 50.0), REFLECTANCE)
def test_coats_stack(k: float, s: float, x: float, rg: float) -> None:
    """A coat over a coated backing is a film of both thicknesses."""
    first = film_reflectance(k, s, x, rg)
    twice = float(film_reflectance(k, s, x, first))
    assert twice == pytest.approx(float(film_reflectance(k, s, 2 * x, rg)), abs=1e-9)


def test_only_products_with_thickness_count() -> None:
    thin = film_reflectance(0.4, 0.8, 5.0, BACKINGS)
    np.testing.assert_allclose(film_reflectance(0.04, 0.08, 50.0, BACKINGS), thin)


# The film model -----------------------------------------------------------------


def test_the_model_reads_in_air() -> None:
    """Terms in air are the reading of the film inside, for any backing and surface."""
    k, s = np.array([0.01, 0.3, 0.0]), np.array([0.2, 0.05, 0.1])
    x = np.array([0.0, 8.0, 40.0])
    for surface in (None, saunderson(0.04, 0.6, specular_included=True)):
        film = TwoFluxFilm(surface)
        seen = surface or directional()
        terms = film.terms(k, s, x)
        assert terms.over_black.shape == (3, 3)
        for rg in BACKINGS:
            inside = film_reflectance(k, s, x[:, None], rg)
            np.testing.assert_allclose(
                terms.over(rg), seen.measured(inside), atol=1e-12
            )


def test_the_model_inverts_its_masstone() -> None:
    film = TwoFluxFilm()
    reading = np.linspace(0.005, 0.95, 40)
    ratio = film.absorption_to_scattering(reading)
    assert np.all(np.diff(ratio) < 0.0)
    np.testing.assert_allclose(
        film.masstone(ratio, np.ones_like(ratio)), reading, atol=1e-9
    )
    assert np.isfinite(film.absorption_to_scattering(np.array([0.0]))).all()


def test_terms_by_hand() -> None:
    """0.1 + 0.4 * 0.5 / (1 - 0.6 * 0.5)."""
    terms = FilmTerms(np.array(0.1), np.array(0.4), np.array(0.6))
    assert float(terms.over(0.5)) == pytest.approx(0.1 + 0.2 / 0.7)
