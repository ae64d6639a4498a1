"""What a spectrum adds to a Lab value."""

import numpy as np
import pytest

import shadecore
from shadecore.coats.estimate import library_paints, likely_paints
from shadecore.coats.pick import pick
from shadecore.coats.thickness import ln_thickness
from shadecore.recipes.library import recipe_library
from shadecore.undercoats.shelf import inside_film

SHELF = shadecore.demo_shelf()


def with_and_without_spectrum(
    count: int,
) -> list[tuple[shadecore.Topcoat, shadecore.Topcoat]]:
    """Full colours of known recipes, by Lab alone and by their whole spectrum."""
    library = recipe_library()
    places = np.random.default_rng(11).integers(0, len(library.lab), count)
    masstone = library.model.masstone(
        library.recipes.absorption[places], library.recipes.scattering[places]
    )
    pairs = []
    for place, reflectance in zip(places, masstone, strict=True):
        lab = tuple(float(each) for each in library.lab[place])
        assert len(lab) == 3
        spectrum = tuple(float(each) for each in reflectance)
        pairs.append(
            (
                shadecore.Topcoat(lab, "Lab alone"),
                shadecore.Topcoat(lab, "spectrum", spectrum),
            )
        )
    return pairs


def width(outlook: shadecore.Outlook) -> int:
    beyond = len(outlook.count.chance) + 1
    return (outlook.count.high or beyond) - (outlook.count.low or beyond)


def test_a_spectrum_brings_the_film_closer_to_that_of_its_recipe() -> None:
    """Error of the mean logarithm of the film over all undercoats.

    At the recipe's own loading, which neither tells.
    """
    library = recipe_library()
    errors: dict[str, list[float]] = {"Lab alone": [], "spectrum": []}
    places = np.random.default_rng(11).integers(0, len(library.lab), 40)
    backing = inside_film(SHELF)
    for place, pair in zip(places, with_and_without_spectrum(40), strict=True):
        one = library_paints(library, np.array([place]), np.ones(1), 0.0)
        truth = ln_thickness(one, backing, 2.0)[0]
        for topcoat in pair:
            paints = likely_paints(topcoat, library)
            found = paints.weight @ ln_thickness(paints, backing, 2.0)
            errors[topcoat.entered].append(float(np.abs(found - truth).mean()))
    assert np.mean(errors["spectrum"]) < np.mean(errors["Lab alone"])


def test_all_likely_paints_have_the_measured_spectrum() -> None:
    library = recipe_library()
    for _, topcoat in with_and_without_spectrum(10):
        paints = likely_paints(topcoat, library)
        read = library.model.masstone(paints.absorption, paints.scattering)
        expected = np.broadcast_to(np.array(topcoat.reflectance), read.shape)
        np.testing.assert_allclose(read, expected, atol=2e-3)


def test_weights_are_shares() -> None:
    library = recipe_library()
    for pair in with_and_without_spectrum(5):
        for topcoat in pair:
            paints = likely_paints(topcoat, library)
            assert paints.weight.sum() == pytest.approx(1.0)
            assert np.all(paints.weight >= 0.0)
            assert np.all(paints.scattering > 0.0)
            assert np.all(np.isfinite(paints.absorption))


def test_the_recipe_itself_is_the_nearest() -> None:
    library = recipe_library()
    for lab, _ in with_and_without_spectrum(5):
        assert likely_paints(lab, library).nearest == pytest.approx(0.0, abs=1e-3)


def test_a_spectrum_at_the_ends_of_the_scale_still_gives_weights() -> None:
    library = recipe_library()
    for level, lightness in ((0.0, 0.0), (1.0, 100.0)):
        flat = shadecore.Topcoat((lightness, 0.0, 0.0), "flat", (level,) * 31)
        paints = likely_paints(flat, library)
        assert np.all(np.isfinite(paints.weight))
        assert np.all(np.isfinite(paints.absorption))
        answer = pick(flat, SHELF)
        assert np.all(np.isfinite([each.difference for each in answer.outlooks]))
