"""The correction fitted to a chart: which one is taken, and what its errors say."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from photo_scenes import Array, chart_lab, linear_of
from skimage.color import deltaE_ciede2000

from shadecore.photo import chart_fit
from shadecore.photo.chart_fit import fit_patches
from shadecore.photo.rendering import root_terms

STRAIGHT = np.tile(np.log([1e-4, 1.0]), (2, 1))
"""A tone curve that changes nothing."""
OTHERS = np.array([[40, 45, 30], [70, -30, 40], [35, 10, -35], [80, 5, 60], [55, 0, 0]])


def places() -> Array:
    y, x = np.mgrid[0:4, 0:6]
    return np.stack([0.2 + 0.1 * x.ravel(), 0.3 + 0.1 * y.ravel()], axis=1)


def noisy(rng: np.random.Generator, size: float) -> Array:
    """Light of the chart's patches, each channel off by its own factor."""
    known = np.maximum(linear_of(chart_lab()), 1e-3)
    return np.asarray(known * np.exp(size * rng.standard_normal(known.shape)))


@pytest.mark.parametrize("terms", chart_fit._TERMS, ids=["plain", "root"])
def test_left_out_is_what_a_fit_without_the_patch_predicts(
    terms: Callable[[Array], Array],
) -> None:
    """Each patch is left out in fact and the correction fitted again without it."""
    linear = noisy(np.random.default_rng(3), 0.1)
    lab = chart_lab()

    def fitted(kept: Array) -> chart_fit.ChartFit:
        patches = chart_fit._Patches(
            linear[kept], places()[kept], chart_fit.chart_lab()[kept], np.zeros(0, bool)
        )
        return chart_fit._fit(patches, STRAIGHT, terms)

    everything = np.arange(24)
    fit = fitted(everything)
    again, within = [], []
    for patch in everything:
        without = fitted(np.delete(everything, patch))
        again.append(without.lab(linear[patch], places()[patch])[0] - lab[patch])
        within.append(fit.lab(linear[patch], places()[patch])[0] - lab[patch])
    apart = np.linalg.norm(fit.left_out - again, axis=1)
    gained = np.linalg.norm(np.array(within) - again, axis=1)
    # The slope of the light is not fitted again, which leaves a little.
    assert np.median(apart) < 0.5 * np.median(gained)
    told = np.sqrt(np.mean(fit.left_out**2))
    assert told == pytest.approx(np.sqrt(np.mean(np.square(again))), rel=0.15)
    assert told > 1.1 * np.sqrt(np.mean(np.square(within)))


def test_noise_alone_is_no_reason_for_a_richer_correction() -> None:
    """A camera without cross-talk and tone curve: three terms are enough."""
    rich = 0
    for seed in range(20):
        fit = fit_patches(noisy(np.random.default_rng(seed), 0.15), places())
        rich += len(fit.weights) > 3
    assert rich <= 8


def test_what_a_plain_correction_cannot_do_is_done_by_a_richer_one() -> None:
    """Light bent as by a root-polynomial, and by a tone curve."""
    known = np.maximum(linear_of(chart_lab()), 1e-3)
    mixed = known + 0.25 * (np.sqrt(known * np.roll(known, 1, axis=1)) - known)
    fit = fit_patches(mixed, places())
    assert fit.terms is root_terms
    curved = fit_patches(known**1.3, places())
    assert curved.curve.shape[1] > 2
    assert curved.difference < 0.5


def test_doubt_is_that_of_patches_of_like_colour() -> None:
    """Errors of the reds alone: a red is in doubt, a blue and a green hardly."""
    fit = fit_patches(linear_of(chart_lab()), places())
    reds = chart_lab()[:, 1] > 20.0
    errors = np.where(reds[:, None], [3.0, 4.0, 0.0], 0.0)
    spoiled = replace(fit, left_out=errors)
    red, blue, green = (
        np.trace(spoiled.lab(linear_of(np.array(lab)), np.array([0.5, 0.5]))[1])
        for lab in ((45.0, 50.0, 25.0), (40.0, 10.0, -45.0), (60.0, -40.0, 35.0))
    )
    mean = np.mean(np.sum(errors**2, axis=1))
    assert red > 2.0 * mean
    assert green < 0.5 * mean
    assert blue < red / 2.0


def test_doubt_far_from_all_patches_is_the_average() -> None:
    fit = fit_patches(linear_of(chart_lab()), places())
    errors = np.random.default_rng(1).standard_normal((24, 3))
    far = replace(fit, left_out=errors, patch_lab=fit.patch_lab + 500.0)
    _, covariance = far.lab(linear_of(np.array([50.0, 0.0, 0.0])), np.array([0.5, 0.5]))
    assert np.allclose(covariance, errors.T @ errors / 24)


def test_the_slope_of_the_light_is_told_with_its_error() -> None:
    """Light that rises over the chart is found, and is surer on it than beside it."""
    rise = 0.3 * places()[:, 0] - 0.2 * places()[:, 1]
    errors, told = [], []
    for seed in range(30):
        rng = np.random.default_rng(seed)
        grain = np.exp(0.03 * rng.standard_normal((24, 1)))
        light = linear_of(chart_lab()) * np.exp(rise)[:, None] * grain
        fit = fit_patches(np.maximum(light, 1e-3), places())
        errors.append(fit.light[1:] - [0.3, -0.2])
        told.append(np.sqrt(np.diag(fit.light_covariance))[1:])
    assert np.abs(np.mean(errors, axis=0)).max() < 0.05
    assert np.mean(told, axis=0) == pytest.approx(np.std(errors, axis=0), rel=0.6)
    middle, corner = (fit.light_sd(np.array(at)) for at in ([0.45, 0.45], [1.0, 1.0]))
    assert corner > 2.0 * middle


def test_a_spoiled_patch_hardly_moves_the_light() -> None:
    known = linear_of(chart_lab())
    spoiled = known.copy()
    spoiled[0] = 0.3 * known[0]
    fit = fit_patches(np.maximum(spoiled, 1e-3), places())
    assert np.abs(fit.light[1:]).max() < 0.1
    errors = deltaE_ciede2000(
        [fit.lab(linear_of(each), np.array([0.5, 0.5]))[0] for each in OTHERS], OTHERS
    )
    assert errors.max() < 2.0
