"""The tabulated film against the exact one, and its inverse."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from validation import transport as ordinates

from shadecore.colour.surface import directional
from shadecore.film.table import albedo_and_depth_per_um, film_table
from shadecore.film.transport import solve_films
from shadecore.film.two_flux import TwoFluxFilm

BACKINGS = (0.0, 0.2, 0.5, 0.9)


def two_flux(albedo: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """K and S of unit optical depth: mu_a = K / 2 and mu_s' = 4 S / 3."""
    return 2.0 * (1.0 - albedo), 0.75 * albedo


def test_coefficients_by_hand() -> None:
    """K = 0.2 and S = 0.3 absorb 0.1 and scatter 0.4 of an optical depth of 0.5."""
    loss, depth = albedo_and_depth_per_um(np.array([0.2, 0.0]), np.array([0.3, 0.0]))
    np.testing.assert_allclose(loss, [0.2, 1.0])
    np.testing.assert_allclose(depth, [0.5, 0.0])


def test_look_ups_between_the_nodes_are_close_to_solved_films() -> None:
    """A reflectance unit of 0.0005 is a fifth of what a good instrument repeats."""
    rng = np.random.default_rng(60)
    albedo = 1.0 - rng.random(50) ** 4
    depth, exact = solve_films(albedo, 27, 3)
    looked_up = film_table().terms(*(c[None, :] for c in two_flux(albedo)), depth)
    assert looked_up.below.shape == (1, depth.size, albedo.size)
    np.testing.assert_allclose(looked_up.below[0].T, exact.below, atol=5e-4)
    for backing in BACKINGS:
        off = np.abs(looked_up.over(backing)[0].T - exact.over(backing))
        assert off.max() < 6e-4
        assert off.mean() < 5e-5


def test_films_of_paints_agree_with_discrete_ordinates() -> None:
    """K and S per um of likely paints, at films of one to eight coats."""
    rng = np.random.default_rng(61)
    scattering = np.exp(rng.uniform(np.log(0.005), np.log(0.3), 30))
    absorption = scattering * np.exp(rng.uniform(np.log(1e-3), np.log(20.0), 30))
    coats = np.array([10.0, 20.0, 37.0, 80.0])
    looked_up = film_table().terms(absorption, scattering, coats)
    # The other solver counts mu_a / 4 into what scatters: take it out again.
    expected = ordinates.solve(
        absorption,
        scattering - absorption / 8.0,
        coats,
        ordinates.quadrature(16, 8, 8),
    )["45/0"]
    for backing in BACKINGS:
        np.testing.assert_allclose(
            looked_up.over(backing), expected.over(backing).T, atol=6e-4
        )


def test_no_film_is_a_clear_skin() -> None:
    skin = directional()
    nothing = film_table().terms(
        np.array([0.1, 0.0]), np.array([0.2, 0.0]), np.array([0.0, 1e-9])
    )
    np.testing.assert_allclose(nothing.over(0.5), skin.measured(0.5), atol=3e-4)
    np.testing.assert_allclose(nothing.below, skin.returned, atol=3e-4)


def test_nothing_in_the_film_is_a_clear_skin_at_any_thickness() -> None:
    empty = film_table().terms(np.zeros(1), np.zeros(1), np.array([1.0, 100.0]))
    np.testing.assert_allclose(
        empty.over(0.5), float(directional().measured(0.5)), atol=3e-4
    )


def test_a_thick_film_reads_as_the_masstone() -> None:
    absorption = np.array([0.002, 0.05, 1.0, 0.3])
    scattering = np.array([0.2, 0.2, 0.02, 0.0])
    thick = film_table().terms(absorption, scattering, np.array([1e6]))
    masstone = film_table().masstone(absorption, scattering)
    for backing in BACKINGS:
        np.testing.assert_allclose(thick.over(backing)[0], masstone, atol=1e-4)


def test_only_the_ratio_counts_for_the_masstone() -> None:
    absorption, scattering = np.array([0.01, 0.3]), np.array([0.2, 0.1])
    np.testing.assert_allclose(
        film_table().masstone(7.0 * absorption, 7.0 * scattering),
        film_table().masstone(absorption, scattering),
        atol=1e-6,
    )


@settings(deadline=None, derandomize=True, max_examples=150)
@given(st.floats(0.002, 0.98))
def test_the_masstone_tells_its_ratio(reading: float) -> None:
    ratio = film_table().absorption_to_scattering(np.array([reading]))
    assert ratio[0] > 0.0
    again = film_table().masstone(ratio, np.ones(1))
    assert again[0] == pytest.approx(reading, abs=1e-5)


def test_readings_out_of_reach_take_the_nearest_end() -> None:
    ratio = film_table().absorption_to_scattering(np.array([-0.1, 0.0, 1.5]))
    assert np.all(np.isfinite(ratio))
    assert ratio[0] == ratio[1]
    assert ratio[2] == 0.0
    dark = film_table().masstone(ratio[:1], np.ones(1))
    assert dark[0] == pytest.approx(0.0, abs=1e-5)


def test_the_two_flux_film_is_near_and_hides_too_early() -> None:
    """Light inside a film is not Lambertian, which costs the closed form up to 0.06.

    Computed independently with iadpython: the two-flux film with Saunderson's
    correction reads 0.01 to 0.06 higher than the exact film.
    """
    ratio = np.array([0.01, 0.05, 0.2, 1.0, 5.0])
    scattering = np.full(5, 0.1)
    coats = np.array([10.0, 20.0, 40.0, 100.0])
    exact = film_table().terms(ratio * scattering, scattering, coats)
    closed = TwoFluxFilm().terms(ratio * scattering, scattering, coats)
    for backing in BACKINGS:
        off = closed.over(backing) - exact.over(backing)
        assert np.all(off[2:] > 0.0)
        assert np.all(np.abs(off[2:]) < 0.06)
    seen_exact = exact.over(0.8)[0] - exact.over(0.1)[0]
    seen_closed = closed.over(0.8)[0] - closed.over(0.1)[0]
    assert np.all(seen_exact > seen_closed)


def test_broadcasts_over_recipes() -> None:
    rng = np.random.default_rng(62)
    absorption, scattering = rng.uniform(0.01, 0.5, (2, 4, 31)).astype(np.float32)
    coats = np.array([8.0, 16.0, 24.0])
    together = film_table().terms(absorption, scattering, coats)
    assert together.over_black.shape == (4, 3, 31)
    alone = film_table().terms(absorption[2], scattering[2], coats[1:2])
    for one, other in zip(together, alone, strict=True):
        np.testing.assert_allclose(one[2, 1], other[0], atol=1e-6)
