"""What an instrument reports, how it moves with the reflectance, and its noise."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.card.observe import READING_NOISE, observe, reading_values
from shadecore.card.reading import Reading
from shadecore.colour.appearance import (
    colour_difference,
    lab_from_reflectance,
    tristimulus_weights,
)

SOME = settings(deadline=None, derandomize=True, max_examples=40)
NUDGE = 1e-6


def spectra(seed: int, count: int, dark: float = 1.0) -> np.ndarray:
    """Smooth spectra, scaled down where dark ones are wanted."""
    rng = np.random.default_rng(seed)
    waves = np.sin(np.linspace(0.0, 3.0, 31) * rng.uniform(0.3, 2.5, (count, 1)))
    level = rng.uniform(0.05, 0.9, (count, 1))
    return dark * np.clip(
        level * (1.0 + rng.uniform(-0.9, 0.9, (count, 1)) * waves), 0.001, 1.0
    )


def readings_of(reflectance: np.ndarray) -> tuple[Reading, ...]:
    """One reflectance as Y, as Lab and as a spectrum."""
    return (
        (float(reflectance @ tristimulus_weights()[:, 1]),),
        tuple(lab_from_reflectance(reflectance).tolist()),
        tuple(reflectance.tolist()),
    )


@SOME
@given(
    st.integers(0, 1000),
    st.sampled_from([1.0, 0.05, 0.003]),
    st.sampled_from([0, 1, 2]),
)
def test_slopes_are_derivatives(seed: int, dark: float, kind: int) -> None:
    """Central differences; the darkest spectra lie on the straight part of Lab.

    That is below a ratio of (6/29)^3 = 0.0089 to the white (ISO/CIE 11664-4).
    """
    given_, *looked_at = spectra(seed, 4, dark)
    reading = readings_of(given_)[kind]
    reflectance = np.array(looked_at)
    slope = observe(reflectance, reading).slope
    assert slope.shape == (3, len(reading), 31)
    for band in (0, 7, 15, 22, 30):
        step = np.zeros(31)
        step[band] = NUDGE * dark
        above = observe(reflectance + step, reading).value
        below = observe(reflectance - step, reading).value
        expected = (above - below) / (2.0 * NUDGE * dark)
        np.testing.assert_allclose(slope[..., band], expected, rtol=1e-5, atol=1e-5)


def test_slopes_at_nothing_are_those_of_the_straight_part() -> None:
    """There L* rises by 116 (29/6)^2 / 3 = 903.3 for Y of 1 (ISO/CIE 11664-4)."""
    slope = observe(np.zeros(31), (0.0, 0.0, 0.0)).slope
    # S_L of CIEDE2000 at L* = 0 by hand: 1 + 0.015 2500 / sqrt(2520).
    rise = slope[0].sum() * READING_NOISE * 1.747018
    assert rise == pytest.approx(903.2963, rel=1e-6)
    np.testing.assert_allclose(slope[1:].sum(axis=-1), 0.0, atol=1e-9)


@SOME
@given(st.integers(0, 1000), st.sampled_from([1.0, 0.01]), st.sampled_from([0, 1, 2]))
def test_a_reading_observed_is_the_reading(seed: int, dark: float, kind: int) -> None:
    """The instrument reports what was read, of the reflectance it was read from."""
    (reflectance,) = spectra(seed, 1, dark)
    reading = readings_of(reflectance)[kind]
    found = observe(reflectance, reading).value
    assert found.shape == (len(reading),)
    np.testing.assert_allclose(found, reading_values(reading), rtol=1e-9, atol=1e-9)


def test_y_in_units_of_noise_by_hand() -> None:
    """dL* = 116/3 Y^(-2/3) dY at white 1, so at Y = 1/8 L* of 0.24 is 0.1552 of Y."""
    noise = READING_NOISE * 3.0 / 116.0 * 0.125 ** (2.0 / 3.0) * 100.0
    (value,) = reading_values((12.5,))
    assert value == pytest.approx(12.5 / noise)
    step = (
        observe(np.full(31, 0.125), (12.5,)).value
        - observe(np.full(31, 0.120), (12.5,)).value
    )
    assert float(step[0]) == pytest.approx(0.5 / noise, rel=1e-4)


def test_a_spectrum_in_units_of_noise() -> None:
    """Each wavelength by itself; more noise where more is reflected."""
    spectrum = tuple(np.linspace(0.01, 0.9, 31).tolist())
    value = reading_values(spectrum)
    noise = np.array(spectrum) / value
    assert np.all(np.diff(noise) > 0.0)
    # An instrument repeats within hundredths of what it reads, and not below 0.1 %.
    assert np.all((noise > 0.001) & (noise < 0.02))
    slope = observe(np.zeros(31), spectrum).slope
    np.testing.assert_allclose(slope, np.diag(1.0 / noise))


def test_no_noise_vanishes_in_the_dark() -> None:
    for dark in ((0.0,), (0.0, 0.0, 0.0), (0.0,) * 31):
        moved = (
            observe(np.full(31, 0.01), dark).value - observe(np.zeros(31), dark).value
        )
        assert np.all(np.isfinite(moved))
        assert np.abs(moved).max() < 60.0


def test_lab_along_chroma_and_hue() -> None:
    """CIE94 (CIE 116, from memory): S_C = 1 + 0.045 C, S_H = 1 + 0.015 C, S_L = 1."""
    reading = (50.0, 30.0, 40.0)
    there = reading_values(reading)
    along, across = np.array([0.0, 0.6, 0.8]), np.array([0.0, -0.8, 0.6])
    for way, size in (
        (np.array([1.0, 0.0, 0.0]), 1.0),
        (along, 1.0 + 0.045 * 50.0),
        (across, 1.0 + 0.015 * 50.0),
    ):
        # At a chroma beside it the axes stay those of the reading.
        moved = moved_value(reading, way)
        distance = float(np.linalg.norm(moved - there))
        assert distance == pytest.approx(1.0 / (READING_NOISE * size), rel=1e-9)


def moved_value(reading: Reading, way: np.ndarray) -> np.ndarray:
    """Value of Lab one unit away, by the axes of the reading.

    They are linear in Lab, so differences of observed spectra give them.
    """
    rng = np.random.default_rng(17)
    some = rng.uniform(0.1, 0.8, (4, 31))
    lab, value = lab_from_reflectance(some), observe(some, reading).value
    axes = np.linalg.solve(lab[1:] - lab[0], value[1:] - value[0]).T
    return np.asarray(reading_values(reading) + axes @ way)


def test_noise_is_about_that_of_ciede2000() -> None:
    """Pairs 0.3 CIEDE2000 apart, of mid lightness and of any hue and chroma up to 90.

    CIE94 stands in for CIEDE2000 here: 0.3 apart comes out as 0.3 / 0.24 within
    30 percent for nine pairs of ten, and on the average within 15 percent. A factor
    of two is never reached.
    """
    ratio = scaled_against_ciede2000(lightness=(30.0, 70.0))
    low, high = np.quantile(ratio, [0.05, 0.95])
    assert 0.70 < low < high < 1.30
    assert np.exp(np.log(ratio).mean()) == pytest.approx(1.0, abs=0.15)
    assert 0.5 < ratio.min() < ratio.max() < 2.0


def test_noise_of_whites_and_blacks_is_ciede2000s() -> None:
    """CIEDE2000 counts lightness less near white and black (S_L up to 1.75)."""
    for lightness in ((2.0, 15.0), (88.0, 98.0)):
        ratio = scaled_against_ciede2000(lightness)
        assert 0.85 < np.median(ratio) < 1.2


def scaled_against_ciede2000(lightness: tuple[float, float]) -> np.ndarray:
    """Distance in units of noise, over CIEDE2000 of 0.3 by the noise."""
    rng = np.random.default_rng(18)
    ratios = []
    for _ in range(300):
        hue, chroma = rng.uniform(0.0, 2.0 * np.pi), rng.uniform(0.0, 90.0)
        lab = np.array(
            [rng.uniform(*lightness), chroma * np.cos(hue), chroma * np.sin(hue)]
        )
        way = rng.normal(size=3)
        way /= np.linalg.norm(way)
        # So close by CIEDE2000 grows in proportion.
        way *= 0.3 / float(colour_difference(lab, lab + 0.05 * way)) * 0.05
        reading = (float(lab[0]), float(lab[1]), float(lab[2]))
        apart = moved_value(reading, way) - reading_values(reading)
        seen = float(colour_difference(lab, lab + way))
        ratios.append(np.linalg.norm(apart) / (seen / READING_NOISE))
    return np.array(ratios)
