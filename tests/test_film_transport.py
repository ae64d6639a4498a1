"""The exact film against other solvers, closed cases and conservation laws."""

import iadpython
import numpy as np
import pytest
from check_values import numbers
from validation import transport as ordinates

from shadecore.colour.surface import directional, internal_diffuse_reflectance
from shadecore.film.transport import (
    STARTING_DEPTH,
    _doubled,
    _starting_layer,
    directions,
    solve_films,
)
from shadecore.film.two_flux import FilmTerms

FILMS = (
    (0.3, 0),
    (0.5, -2),
    (0.8, 3),
    (0.95, 1),
    (0.99, 1),
    (0.99, 3),
    (0.999, 3),
    (0.9999, 5),
)
"""Albedo, and optical depth as a power of two: a thin stain to a thick white."""
BACKINGS = (0.0, 0.2, 0.8, 1.0)


def film(albedo: float, power: int) -> FilmTerms:
    """Film at an optical depth of a power of two, which doubling meets exactly."""
    octaves = power - round(np.log2(STARTING_DEPTH)) + 1
    depth, terms = solve_films(np.array([albedo]), octaves)
    assert depth[-1] == 2.0**power
    return FilmTerms(*(term[0, -1] for term in terms))


def read_by_adding_doubling(albedo: float, depth: float, backing: float) -> float:
    """Reading at 45/0 from iadpython's layer matrices over a Lambertian backing.

    Its second cone of directions begins at the angle given as ``nu_0``, so that 45
    degrees in air is a node, and ends upright.
    """
    count = 48
    sample = iadpython.Sample(
        a=albedo, b=depth, g=0, n=1.5, n_above=1, n_below=1, quad_pts=count
    )
    sample.nu_0 = np.cos(np.radians(45.0))
    sample.update_quadrature()
    layer, passed = iadpython.simple_layer_matrices(sample)
    base, dark = np.full_like(layer, backing), np.zeros_like(layer)
    on_base, *_ = iadpython.add_layers(
        sample, layer, layer, passed, passed, base, base, dark, dark
    )
    skin = iadpython.boundary_layer(sample, top=True)
    seen, *_ = iadpython.add_slide_above(sample, *skin, on_base, on_base, dark, dark)
    lit = 2 * (count // 3) - 1
    assert sample.nu[lit] == pytest.approx(np.sqrt(1.0 - 0.5 / 1.5**2))
    return float(seen[-1, lit]) / 1.5**2


@pytest.mark.parametrize(("albedo", "power"), FILMS)
def test_agrees_with_iadpython(albedo: float, power: int) -> None:
    exact = film(albedo, power)
    for backing in BACKINGS:
        expected = read_by_adding_doubling(albedo, 2.0**power, backing)
        assert float(exact.over(backing)) == pytest.approx(expected, abs=6e-5)


@pytest.mark.parametrize(("albedo", "power"), FILMS)
def test_agrees_with_discrete_ordinates(albedo: float, power: int) -> None:
    """An eigenvalue solver with directions of its own, so no error in common."""
    absorbed, depth = 1.0 - albedo, 2.0**power
    expected = ordinates.solve(
        2.0 * absorbed,
        0.75 * albedo - absorbed / 4.0,
        [depth],
        ordinates.quadrature(32, 12, 12),
    )["45/0"]
    exact = film(albedo, power)
    assert float(exact.over_black) == pytest.approx(expected.black[0], abs=3e-5)
    assert float(exact.through) == pytest.approx(expected.through[0], abs=3e-5)
    assert float(exact.below) == pytest.approx(expected.back[0], abs=3e-5)


@pytest.mark.parametrize("row", numbers("two-flux-in-transport.csv"))
def test_diffuse_films_without_a_surface(row: np.ndarray) -> None:
    """With an index of 1 the film from below is iadpython's diffuse reflectance.

    Computed independently with 32 directions; the depth is met within one step.
    """
    albedo, depth, over_black = row[0], row[1], row[4]
    depths, terms = solve_films(np.array([albedo]), 19, 8, index=1.0 + 1e-9)
    below = np.interp(np.log(depth), np.log(depths), terms.below[0])
    assert float(below) == pytest.approx(over_black, abs=5e-4)


# Closed cases ---------------------------------------------------------------------


def test_no_film_is_a_clear_skin() -> None:
    """(1 - r(45)) (1 - r(0)) / n^2 and k2 of n = 1.5, computed independently."""
    depth, terms = solve_films(np.array([0.0, 0.5, 1.0]), 1)
    assert depth[0] < 1e-4
    beam = (1.0 - 0.05024) * (1.0 - 0.04) / 1.5**2
    np.testing.assert_allclose(terms.through, beam, atol=2e-4)
    np.testing.assert_allclose(terms.below, 0.59635, atol=2e-4)
    np.testing.assert_allclose(terms.over_black, 0.0, atol=1e-4)


def test_an_absorbing_film_obeys_beer_and_lambert() -> None:
    """Down along the refracted ray, up along the normal: exp(-t (1 / mu + 1))."""
    power = -1
    exact = film(0.0, power)
    slant = np.sqrt(1.0 - 0.5 / 1.5**2)
    beam = (1.0 - 0.05024) * (1.0 - 0.04) / 1.5**2
    expected = beam * np.exp(-(2.0**power) * (1.0 / slant + 1.0))
    assert float(exact.through) == pytest.approx(expected, abs=2e-5)
    assert float(exact.over_black) == pytest.approx(0.0, abs=1e-12)


def test_a_thick_film_hides_and_a_white_one_returns_everything() -> None:
    depth, terms = solve_films(np.array([0.5, 0.99, 0.9999, 1.0]), 31)
    assert depth[-1] > 1e4
    np.testing.assert_allclose(terms.through[:3, -1], 0.0, atol=1e-9)
    assert terms.below[3, -1] == pytest.approx(1.0, abs=1e-3)


def test_thicker_films_show_less_of_the_backing() -> None:
    _, terms = solve_films(1.0 - np.linspace(0.0, 1.0, 12) ** 4, 27)
    # Within rounding once the film is too thick to pass any light.
    assert np.all(np.diff(terms.through, axis=1) < 1e-12)
    assert np.all(np.diff(terms.over_black, axis=1) > -1e-9)
    white, black = terms.over(1.0), terms.over(0.0)
    assert np.all(white >= black - 1e-12)
    assert np.all(terms.below <= 1.0 + 1e-9)


def test_more_absorption_makes_every_film_darker() -> None:
    _, terms = solve_films(np.linspace(0.0, 1.0, 21), 20)
    for backing in BACKINGS[1:]:
        assert np.all(np.diff(terms.over(backing), axis=0) > 0.0)


def test_a_rayless_surface_leaves_the_two_flux_masstone_near() -> None:
    """Without a surface both theories are within a few hundredths when thick.

    The diffusion limit joins them; strong absorption parts them most.
    """
    albedo = np.array([0.99, 0.999, 0.9999])
    _, terms = solve_films(albedo, 30, index=1.0 + 1e-9)
    k, s = 2.0 * (1.0 - albedo), 0.75 * albedo
    two_flux = 1.0 + k / s - np.sqrt((k / s) ** 2 + 2.0 * k / s)
    np.testing.assert_allclose(terms.below[:, -1], two_flux, atol=0.03)


# Conservation ---------------------------------------------------------------------


def bare_layer(albedo: float, doublings: int) -> tuple[np.ndarray, np.ndarray]:
    """Reflection and transmission of a layer without a surface."""
    layer = _starting_layer(np.array([albedo]), STARTING_DEPTH, directions())
    for _ in range(doublings):
        layer = _doubled(*layer)
    return layer[0][0], layer[1][0]


def flux_shares(albedo: float, doublings: int) -> np.ndarray:
    """Share of each direction's light that a bare layer gives back, both ways."""
    ways = directions()
    flux = ways.weight * ways.cosine
    return np.asarray(flux @ np.add(*bare_layer(albedo, doublings)) / flux)


@pytest.mark.parametrize("doublings", [0, 8, 14, 20])
def test_no_light_is_lost_without_absorption(doublings: int) -> None:
    """Summed over all directions out, whatever the direction in."""
    np.testing.assert_allclose(flux_shares(1.0, doublings), 1.0, atol=2e-6)


def test_light_is_lost_with_absorption() -> None:
    shares = np.array([flux_shares(0.98, doublings) for doublings in (6, 10, 14, 18)])
    assert np.all((shares > 0.0) & (shares < 1.0))
    assert np.all(np.diff(shares, axis=0) < 0.0)


@pytest.mark.parametrize("doublings", [0, 14])
def test_layers_are_reciprocal(doublings: int) -> None:
    """Helmholtz: swapping the ways in and out changes nothing, per unit of flux."""
    ways = directions()
    for matrix in bare_layer(0.9, doublings):
        weighed = (ways.weight * ways.cosine)[:, None] * matrix
        off = np.abs(weighed - weighed.T).max()
        assert off < 1e-12 * weighed.max()


@pytest.mark.parametrize("index", [1.33, 1.5, 1.6])
def test_directions_integrate_over_the_half_space(index: float) -> None:
    """Weights sum to 1, flux to 1/2, and reflected flux to k2 of the surface."""
    ways = directions(index)
    assert ways.weight.sum() == pytest.approx(1.0, abs=1e-6)
    flux = 2.0 * ways.weight * ways.cosine
    assert flux.sum() == pytest.approx(1.0, abs=1e-9)
    returned = internal_diffuse_reflectance(index)
    assert flux @ ways.reflected == pytest.approx(returned, abs=1e-5)
    lit = np.sqrt(1.0 - 0.5 / index**2)
    assert ways.cosine[ways.lit] == pytest.approx(lit)
    assert ways.cosine[ways.viewed] == pytest.approx(1.0)


def test_a_clear_skin_of_another_index() -> None:
    _, terms = solve_films(np.array([0.5]), 1, index=1.6)
    surface = directional(1.6)
    assert terms.through[0, 0] == pytest.approx(surface.through, abs=2e-4)
    assert terms.below[0, 0] == pytest.approx(surface.returned, abs=2e-4)
