"""What a spectrum adds to a Lab value."""

import numpy as np
import pytest

import shadecore
from shadecore.coats.estimate import likely_paints
from shadecore.recipes.library import recipe_library

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


def test_a_spectrum_narrows_the_interval_on_average() -> None:
    lab_widths, spectrum_widths = [], []
    for lab, spectrum in with_and_without_spectrum(40):
        lab_widths += [width(each) for each in shadecore.pick(lab, SHELF).outlooks]
        spectrum_widths += [
            width(each) for each in shadecore.pick(spectrum, SHELF).outlooks
        ]
    assert np.mean(spectrum_widths) < np.mean(lab_widths)


def test_a_spectrum_brings_the_count_closer_to_that_of_its_recipe() -> None:
    """Average error of the mean count over all undercoats, in coats."""
    library = recipe_library()
    errors: dict[str, list[float]] = {"Lab alone": [], "spectrum": []}
    places = np.random.default_rng(11).integers(0, len(library.lab), 40)
    pairs = with_and_without_spectrum(40)
    for place, pair in zip(places, pairs, strict=True):
        truth = _coats_of_recipe(int(place))
        for topcoat in pair:
            for outlook in shadecore.pick(topcoat, SHELF).outlooks:
                off = outlook.coats_average - truth[outlook.undercoat.name]
                errors[topcoat.entered].append(abs(off))
    assert np.mean(errors["spectrum"]) < np.mean(errors["Lab alone"])


def _coats_of_recipe(place: int) -> dict[str, int]:
    from shadecore.coats.course import coats_to_hide, course  # noqa: PLC0415
    from shadecore.undercoats.shelf import inside_film  # noqa: PLC0415

    library, settings = recipe_library(), shadecore.Settings()
    run = course(
        library.recipes.absorption[place : place + 1],
        library.recipes.scattering[place : place + 1],
        inside_film(SHELF),
        settings.films_um,
        library.model,
    )
    coats = coats_to_hide(run.difference, settings.tolerance)[0]
    return {each.name: int(n) for each, n in zip(SHELF, coats, strict=True)}


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
        answer = shadecore.pick(flat, SHELF)
        assert np.all(np.isfinite([each.difference for each in answer.outlooks]))
