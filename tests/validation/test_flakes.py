"""The ray tracer of discrete flakes: closed cases that it must meet."""

import numpy as np
import pytest

from .flakes import FlakePaint, normalised, over, tilts_rad, trace_leak, trace_reflected

ONE = np.ones(1)
UPRIGHT = normalised(np.exp(-((tilts_rad() / 0.15) ** 2)))


def paint(area: float, reflectance: float, absorption: float) -> FlakePaint:
    """Small flakes that pass nothing, at one wavelength."""
    return FlakePaint(
        area_per_um=area,
        radius_um=1.0,
        radius_spread=0.0,
        reflectance=reflectance * ONE,
        transmittance=0.0 * ONE,
        edges=0.0,
        absorption=absorption * ONE,
        scattering=1e-6 * ONE,
        forward=0.0,
        tilt_density=UPRIGHT,
    )


def test_a_clear_film_is_its_skin() -> None:
    """Share in and out over n^2, and k2 of n = 1.5: Fresnel, computed independently."""
    leak = trace_leak(paint(0.0, 0.5, 0.0), 5.0, 1, 20_000)
    expected = [0.40459, 0.40512, 0.40523, 0.40459, 0.37125]
    np.testing.assert_allclose(leak[0, :, 0], expected, rtol=1e-3)
    np.testing.assert_allclose(leak[1, :, 0] / leak[0, :, 0], 0.596, atol=0.02)
    reading = over(np.zeros((5, 1)), leak, 0.5)
    assert reading[2, 0] == pytest.approx(0.2887, rel=0.01)


def test_a_clear_absorbing_film_obeys_beer_and_lambert() -> None:
    leak = trace_leak(paint(0.0, 0.5, 0.05), 5.0, 2, 4_000)
    assert leak[0, 2, 0] == pytest.approx(0.40523 * np.exp(-0.25 * 2.1339), rel=1e-3)


def test_black_flakes_leave_gaps_by_their_area() -> None:
    """exp(-c) once, exp(-2c) in and out, for flakes much smaller than the film."""
    leak = trace_leak(paint(0.05, 1e-9, 0.0), 14.0, 3, 20_000)
    assert leak[0, 2, 0] == pytest.approx(0.40523 * np.exp(-1.4), rel=0.15)


def test_thicker_films_of_one_trace_are_brighter() -> None:
    films = np.array([5.0, 10.0, 40.0])
    black = trace_reflected(paint(0.1, 0.8, 0.0), films, 4, 4_000)
    assert np.all(np.diff(black[:, :, 0], axis=0) > 0.0)
    assert black[-1, 0, 0] > black[-1, 2, 0] > black[-1, 4, 0]
