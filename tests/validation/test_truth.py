"""True colours and coat counts: hand-computed cases and what must always hold."""

from __future__ import annotations

import colour
import numpy as np
import pytest

from .paints import WAVELENGTHS, Paints, draw_paints, pigments
from .transport import solve
from .truth import (
    NINE_GREYS,
    coats_to_hide,
    grey_reflectance,
    reflectance_to_lab,
    simulate,
)


def single(name: str, white: float = 0.0) -> Paints:
    """Return one paint of a pigment with a share of white."""
    known = pigments()
    amounts = np.zeros((1, len(known.names)))
    amounts[0, known.names.index(name)] += 1.0 - white
    amounts[0, known.having("white")[0]] += white
    return Paints(amounts, amounts @ known.absorption, amounts @ known.scattering)


@pytest.mark.parametrize(
    ("difference", "expected"),
    [
        ([3.0, 2.0, 0.9, 0.4], 3),
        ([3.0, 0.5, 1.5, 0.4], 4),  # passes through the right colour at coat 2
        ([0.9, 0.8, 0.2, 0.1], 1),
        ([3.0, 2.5, 2.0, 1.0], 4),  # on the tolerance is within it
        ([3.0, 2.5, 2.0, 1.1], 5),  # does not hide: cap + 1
    ],
)
def test_hiding_means_staying_within_tolerance(
    difference: list[float], expected: int
) -> None:
    assert coats_to_hide(difference, 1.0, 4) == expected


def test_the_cap_hides_later_coats_but_not_a_late_excess() -> None:
    assert coats_to_hide([2.0, 2.0, 2.0, 0.1], 1.0, 2) == 3
    assert coats_to_hide([0.5, 0.5, 2.0, 0.1], 1.0, 2) == 3
    with pytest.raises(ValueError, match="4 coats were simulated"):
        coats_to_hide([1.0, 1.0, 1.0, 1.0], 1.0, 5)


def test_white_is_white_and_greys_have_their_lightness() -> None:
    flat = np.ones(WAVELENGTHS.size)
    np.testing.assert_allclose(reflectance_to_lab(flat), [100.0, 0.0, 0.0], atol=1e-9)
    lightness = np.array(NINE_GREYS)
    greys = grey_reflectance(lightness)[:, None] * flat
    np.testing.assert_allclose(reflectance_to_lab(greys)[:, 0], lightness, atol=1e-9)
    # (50 + 16) / 116 cubed
    assert grey_reflectance(50.0) == pytest.approx(0.184187, abs=1e-6)


def test_chart_red_has_its_published_colour() -> None:
    """Lab of the red patch for D65, 10 degrees, computed independently."""
    red = next(iter(colour.SDS_COLOURCHECKERS.values()))["red"]
    spectrum = np.array([red[nm] for nm in WAVELENGTHS])
    np.testing.assert_allclose(
        reflectance_to_lab(spectrum), [40.038, 46.607, 24.836], atol=0.05
    )


def test_no_film_shows_the_undercoat_and_much_film_hides_it() -> None:
    greys = np.array([90.0, 30.0])
    thin = simulate(single("PR254"), grey_reflectance(greys), 1e-6, 1)
    thick = simulate(single("PR254"), grey_reflectance(greys), 2000.0, 1)
    for geometry in thin:
        shown = thin[geometry].lab[0, :, 0]
        np.testing.assert_allclose(shown[:, 0], greys, atol=1e-3)
        np.testing.assert_allclose(thick[geometry].difference, 0.0, atol=0.02)


def test_truth_is_the_film_solved_alone() -> None:
    """The batch equals one film, one backing, spelled out."""
    paint = single("PB15", white=0.7)
    outside = 0.3
    truth = simulate(paint, [0.05, outside], 12.0, 3)["d/8"]
    skin = solve(0.0, 0.0, [0.0])["d/8"]
    inside = outside / (float(skin.through[0]) + float(skin.back[0]) * outside)
    film = solve(paint.absorption[0], paint.scattering[0], [24.0])["d/8"]
    expected = reflectance_to_lab(film.over(inside)[:, 0])
    np.testing.assert_allclose(truth.lab[0, 1, 1], expected, atol=1e-9)
    apart = colour.delta_E(truth.hidden[0], expected, method="CIE 2000")
    assert truth.difference[0, 1, 1] == pytest.approx(float(apart))


def test_a_clear_red_hides_sooner_over_a_light_grey_than_over_its_own() -> None:
    truth = simulate(
        single("PR254", white=0.05), grey_reflectance([90.0, 50.0]), 10.0, 20
    )
    for seen in truth.values():
        light, own = seen.coats_to_hide(1.0, 15)[0]
        assert light < own


def test_colours_approach_full_hide_and_counts_grow_with_strictness() -> None:
    paints = draw_paints(25, np.random.default_rng(3))
    for seen in simulate(paints, grey_reflectance(NINE_GREYS), 10.0, 12).values():
        assert seen.lab.shape == (25, 9, 12, 3)
        assert np.all(np.isfinite(seen.difference))
        assert np.all(seen.difference[..., -1] <= seen.difference[..., 0] + 1e-9)
        strict, loose = seen.coats_to_hide(1.0, 10), seen.coats_to_hide(2.0, 10)
        assert np.all(loose <= strict)
        assert strict.min() >= 1
        assert strict.max() <= 11
