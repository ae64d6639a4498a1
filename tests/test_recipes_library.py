"""Recipes: plausible, repeatable, and found again by their colour."""

import numpy as np
import pytest

from shadecore.colour.appearance import colour_difference, lab_from_reflectance
from shadecore.film.table import film_table
from shadecore.film.two_flux import TwoFluxFilm
from shadecore.recipes.draw import draw_recipes
from shadecore.recipes.families import chromatic_families
from shadecore.recipes.library import (
    BANDWIDTH_RANK,
    NEIGHBOURS,
    SMALLEST_BANDWIDTH,
    RecipeLibrary,
    recipe_library,
)


def rng() -> np.random.Generator:
    return np.random.default_rng(80)


def test_a_seed_draws_the_same_recipes() -> None:
    first, again = draw_recipes(500, rng()), draw_recipes(500, rng())
    np.testing.assert_array_equal(first.absorption, again.absorption)
    np.testing.assert_array_equal(first.scattering, again.scattering)
    other = draw_recipes(500, np.random.default_rng(81))
    assert not np.allclose(first.absorption, other.absorption)


def test_recipes_are_possible_paints() -> None:
    recipes = draw_recipes(5000, rng())
    for values in (recipes.absorption, recipes.scattering):
        assert values.shape == (5000, 31)
        assert values.dtype == np.float32
        assert np.all(np.isfinite(values) & (values > 0.0))
    # Titanium white scatters 0.2 per um (from memory) and nothing scatters more,
    # but for how much pigment one paint has and how its S falls with wavelength.
    assert np.percentile(recipes.scattering.max(axis=1), 99) < 0.2 * 2.0
    assert recipes.scattering.max() < 0.2 * 3.0


def colours(families: tuple[str, ...] | None) -> tuple[np.ndarray, np.ndarray]:
    """Chroma and hue of recipes that hide, drawn from some families."""
    recipes = draw_recipes(3000, rng(), families)
    masstone = film_table().masstone(recipes.absorption, recipes.scattering)
    lab = lab_from_reflectance(masstone)
    hue = np.degrees(np.arctan2(lab[:, 2], lab[:, 1])) % 360.0
    return np.hypot(lab[:, 1], lab[:, 2]), hue


def test_all_families_go_all_the_way_round() -> None:
    chroma, hue = colours(None)
    counts, _ = np.histogram(hue[chroma > 15.0], bins=12, range=(0.0, 360.0))
    assert counts.min() > 10


@pytest.mark.parametrize(
    ("family", "hues"),
    [
        ("phthalo_blue", (190.0, 325.0)),
        ("phthalo_green", (130.0, 230.0)),
        ("yellow", (60.0, 160.0)),
        ("orange_red", (8.0, 90.0)),
        ("iron_oxide", (20.0, 110.0)),
    ],
)
def test_one_family_alone_keeps_to_its_hue(
    family: str, hues: tuple[float, float]
) -> None:
    """Hue angles of single pigments with white and black (common knowledge)."""
    chroma, hue = colours((family,))
    strong = hue[chroma > 20.0]
    assert strong.size > 100
    assert np.mean((strong > hues[0]) & (strong < hues[1])) > 0.99


def test_a_removed_family_is_gone() -> None:
    warm = ("yellow", "orange_red", "iron_oxide")
    rest = tuple(name for name in chromatic_families() if name not in warm)
    for families, some in ((None, True), (rest, False)):
        chroma, hue = colours(families)
        oranges = (chroma > 30.0) & (hue > 45.0) & (hue < 105.0)
        assert bool(np.any(oranges)) is some


def test_neutrals_whites_and_blacks_are_among_them() -> None:
    library = recipe_library()
    lightness = library.lab[:, 0]
    chroma = np.hypot(library.lab[:, 1], library.lab[:, 2])
    grey = lightness[chroma < 3.0]
    assert grey.size > 300
    assert grey.min() < 12.0
    assert grey.max() > 93.0


def test_the_library_holds_the_colour_that_each_recipe_hides_with() -> None:
    recipes = draw_recipes(200, rng())
    for model in (film_table(), TwoFluxFilm()):
        library = RecipeLibrary(recipes, model)
        thick = model.terms(recipes.absorption, recipes.scattering, np.array([2e4]))
        hidden = lab_from_reflectance(thick.over(0.5)[:, 0])
        np.testing.assert_allclose(library.lab, hidden, atol=0.05)


def test_a_recipe_finds_itself() -> None:
    library = recipe_library()
    chosen = rng().choice(library.lab.shape[0], 200, replace=False)
    near = library.near(library.lab[chosen])
    assert np.all(np.any(near.index == chosen[:, None], axis=1))
    np.testing.assert_allclose(near.nearest, 0.0, atol=1e-6)
    own = near.index == chosen[:, None]
    heaviest = near.weight.max(axis=1)
    np.testing.assert_allclose(near.weight[own], heaviest, rtol=1e-9)


def test_weights_are_shares() -> None:
    lab = rng().uniform([5, -60, -60], [95, 60, 80], (300, 3))
    near = recipe_library().near(lab)
    assert near.index.shape == near.weight.shape == (300, NEIGHBOURS)
    assert np.all(near.weight >= 0.0)
    np.testing.assert_allclose(near.weight.sum(axis=1), 1.0, atol=1e-12)
    assert all(np.unique(row).size == NEIGHBOURS for row in near.index)


def test_nearer_recipes_weigh_more() -> None:
    lab = np.array([[45.0, 60.0, 35.0], [30.0, 2.0, -38.0], [58.0, 0.0, 2.0]])
    library = recipe_library()
    near = library.near(lab)
    off = colour_difference(library.lab[near.index].astype(float), lab[:, None])
    np.testing.assert_allclose(near.nearest, off.min(axis=1), atol=0.02)
    for distance, weight in zip(off, near.weight, strict=True):
        order = np.argsort(distance)
        assert np.all(np.diff(weight[order]) <= 2e-3 * weight.max())


def test_a_crowd_of_recipes_is_not_told_apart() -> None:
    """All within a reading's uncertainty weigh at least exp(-1/2) of the best."""
    library = recipe_library()
    lab = library.lab[:400].astype(float)
    near = library.near(lab)
    off = colour_difference(library.lab[near.index].astype(float), lab[:, None])
    close = off < SMALLEST_BANDWIDTH
    share = near.weight / near.weight.max(axis=1, keepdims=True)
    assert close.sum() > 400
    assert share[close].min() > np.exp(-0.5) - 0.02


def test_distant_recipes_count_for_less() -> None:
    """Beyond the neighbour that sets the width, at most exp(-1/2) of the best."""
    library = recipe_library()
    lab = library.lab[:400].astype(float)
    near = library.near(lab)
    off = colour_difference(library.lab[near.index].astype(float), lab[:, None])
    width = np.maximum(np.sort(off, axis=1)[:, BANDWIDTH_RANK], SMALLEST_BANDWIDTH)
    distant = off > width[:, None] + 0.02
    share = near.weight / near.weight.max(axis=1, keepdims=True)
    assert distant.sum() > 400
    assert share[distant].max() < np.exp(-0.5) + 0.02


def test_a_colour_outside_the_paints_says_how_far() -> None:
    """No pigment mixture reaches a* = 140 at L* = 50."""
    near = recipe_library().near([[50.0, 140.0, -20.0], [50.0, 0.0, 0.0]])
    assert near.nearest[0] > 5.0
    assert near.nearest[1] < 2.0
