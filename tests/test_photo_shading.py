"""The slope of the light over a picture, joined from the areas marked on it."""

from dataclasses import replace

import numpy as np
import pytest

from shadecore.photo.area import AreaReading
from shadecore.photo.shading import (
    CURVATURE,
    LEFT_OVER,
    SURFACE_SLOPE,
    USUAL_SLOPE,
    Shading,
    shading_of,
)

SLOPING = AreaReading(
    linear=(0.4, 0.2, 0.1),
    noise=((0.0,) * 3,) * 3,
    extent=(0.25, 0.5),
    slope=(0.4, -0.2),
    slope_error=(0.03, 0.01),
    clipped=0.0,
    dark=0.0,
    rejected=0.0,
    texture=0.01,
    sparkle=False,
    at_limit=(False, False, False),
    at_floor=(False, False, False),
)


def test_without_areas_the_light_is_even_with_its_usual_slope() -> None:
    found = shading_of(())
    assert found.slope == (0.0, 0.0)
    assert found.variance == pytest.approx((USUAL_SLOPE**2, USUAL_SLOPE**2))


def test_one_area_is_weighed_against_the_usual_slope() -> None:
    """Two readings of one number: the mean and variance of inverse-variance weights."""
    found = shading_of((SLOPING,))
    for axis in range(2):
        own = SLOPING.slope_error[axis] ** 2
        own += (SURFACE_SLOPE / SLOPING.extent[axis]) ** 2
        usual = USUAL_SLOPE**2
        wanted = SLOPING.slope[axis] * usual / (usual + own)
        assert found.slope[axis] == pytest.approx(wanted)
        assert found.variance[axis] == pytest.approx(1.0 / (1.0 / usual + 1.0 / own))


def test_more_areas_tell_more_and_better_ones_most() -> None:
    worse = replace(SLOPING, slope=(0.0, 0.0), slope_error=(0.3, 0.3))
    one, two, mixed = (
        shading_of(each) for each in ((SLOPING,), (SLOPING,) * 2, (SLOPING, worse))
    )
    assert two.variance[0] < one.variance[0]
    assert two.slope[0] > one.slope[0]
    assert 0.8 * one.slope[0] < mixed.slope[0] < one.slope[0]


def test_light_is_carried_along_the_slope_with_its_error() -> None:
    """By hand: errors of both slopes, of the curvature, and of what is left over."""
    shading = Shading((0.4, -0.2), (0.01, 0.02))
    rise, variance = shading.between(np.array([0.5, 0.25]))
    assert rise == pytest.approx(0.4 * 0.5 - 0.2 * 0.25)
    slopes = 0.5**2 * 0.01 + 0.25**2 * 0.02
    rest = (CURVATURE * rise) ** 2 + LEFT_OVER**2
    assert variance == pytest.approx(slopes + rest)
    back, same = shading.between(np.array([-0.5, -0.25]))
    assert (back, same) == pytest.approx((-rise, variance))
    assert shading.between(np.zeros(2)) == pytest.approx((0.0, LEFT_OVER**2))
