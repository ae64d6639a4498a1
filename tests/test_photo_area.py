"""Areas read in linear light: averages, highlights, noise, slopes, sparkle."""

import colour
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from photo_scenes import encoded

from shadecore.errors import PhotoError
from shadecore.photo.area import Area, area_between, read_area
from shadecore.photo.picture import Picture
from shadecore.photo.shading import shading_of

WHOLE = Area(0.0, 0.0, 1.0, 1.0)
LINEAR = (0.42, 0.11, 0.06)
LUMINANCE = np.array([0.2126, 0.7152, 0.0722])
"""IEC 61966-2-1."""


def flat(
    linear: tuple[float, ...] = LINEAR, size: tuple[int, int] = (200, 240)
) -> NDArray[np.float64]:
    return np.tile(np.array(linear), (*size, 1))


def deep(linear: NDArray[np.float64]) -> Picture:
    """Sixteen bits, so that rounding plays no part."""
    srgb = colour.models.eotf_inverse_sRGB(np.clip(linear, 0.0, 1.0))
    return Picture("a.png", np.rint(65535.0 * srgb).astype(np.uint16))


def test_an_even_area_is_read_as_it_is() -> None:
    found = read_area(deep(flat()), WHOLE)
    assert found.linear == pytest.approx(LINEAR, rel=1e-3)
    assert found.clipped == found.dark == found.rejected == 0.0
    assert not found.sparkle


def test_light_is_averaged_not_levels() -> None:
    """A fine weave of two tones: the eye sees the average of the light."""
    woven = flat()
    woven[::2] = 0.5 * np.array(LINEAR)
    found = read_area(deep(woven), WHOLE)
    assert found.linear == pytest.approx(0.75 * np.array(LINEAR), rel=1e-3)


@given(
    left=st.integers(20, 120),
    top=st.integers(20, 80),
    radius=st.integers(5, 45),
)
@settings(max_examples=20, deadline=None)
def test_a_highlight_is_left_out(left: int, top: int, radius: int) -> None:
    linear = flat()
    y, x = np.mgrid[0:200, 0:240]
    blob = np.exp(-((x - left) ** 2 + (y - top) ** 2) / (2.0 * (radius / 2.0) ** 2))
    linear = linear + 0.8 * blob[..., None]
    found = read_area(deep(linear), WHOLE)
    assert found.linear == pytest.approx(LINEAR, rel=0.03)
    assert found.rejected > 0.0


def test_dirt_of_another_hue_is_left_out() -> None:
    linear = flat()
    # As bright as the paint, so that its hue alone gives it away.
    linear[50:110, 60:130] = np.array(LINEAR) @ LUMINANCE
    found = read_area(deep(linear), WHOLE)
    assert found.linear == pytest.approx(LINEAR, rel=5e-3)
    assert found.rejected == pytest.approx(60 * 70 / (200 * 240), rel=0.5)


def test_a_spot_a_little_lighter_is_left_out() -> None:
    """Light of 2 percent more than the rest, five times what even areas scatter."""
    linear = flat()
    linear[60:120, 60:140] *= 1.02
    found = read_area(deep(linear), WHOLE)
    assert found.linear == pytest.approx(LINEAR, rel=2e-3)
    assert found.rejected == pytest.approx(60 * 80 / (200 * 240), rel=0.3)


def test_an_area_read_off_its_middle_is_told_for_its_middle() -> None:
    """Under a sloping light, with the brighter third overexposed."""
    x = np.linspace(-0.5, 0.5, 240)[None, :, None]
    linear = flat() * np.exp(0.5 * x)
    linear[:, 170:] = 1.0
    found = read_area(deep(linear), WHOLE)
    assert found.linear == pytest.approx(LINEAR, rel=0.01)


def test_dirt_is_told_by_any_channel() -> None:
    """As bright as the paint and as red; green and blue alone give it away."""
    linear = flat()
    red, green, blue = LINEAR
    more_blue = 0.01 * LUMINANCE[1] / LUMINANCE[2]
    linear[50:110, 60:130] = (red, green - 0.01, blue + more_blue)
    found = read_area(deep(linear), WHOLE)
    assert found.linear == pytest.approx(LINEAR, rel=5e-3)
    assert found.rejected == pytest.approx(60 * 70 / (200 * 240), rel=0.5)


@pytest.mark.parametrize("noise", [0.02, 0.08])
@pytest.mark.parametrize("channels", [1, 3])
def test_noise_averages_out_as_its_error_says(noise: float, channels: int) -> None:
    """Over many areas the channels err, alike or apart, as is stated."""
    rng = np.random.default_rng(3)
    errors, stated = [], []
    for _ in range(60):
        grain = 1.0 + noise * rng.standard_normal((120, 120, channels))
        found = read_area(deep(flat(size=(120, 120)) * grain), WHOLE)
        errors.append(np.array(found.linear) / LINEAR - 1.0)
        stated.append(np.array(found.noise) / np.outer(LINEAR, LINEAR))
        assert not found.sparkle
        if channels == 1:
            assert found.texture == pytest.approx(noise, rel=0.2)
    scatter, told = np.cov(np.array(errors).T), np.mean(stated, axis=0)
    assert np.diag(told) == pytest.approx(np.diag(scatter), rel=0.6)
    # What independent pixels come to, each with its own or one common error.
    expected = noise**2 / 120**2
    assert np.diag(told) == pytest.approx(expected, rel=0.35)
    alike = told[0, 1] / np.sqrt(told[0, 0] * told[1, 1])
    assert alike == pytest.approx(1.0 if channels == 1 else 0.0, abs=0.1)


def test_noise_that_neighbouring_pixels_share_is_told() -> None:
    """Grains as wide as several blocks: fewer of them average out."""
    rng = np.random.default_rng(4)
    errors, stated = [], []
    for _ in range(60):
        coarse = rng.standard_normal((24, 24, 1)).repeat(10, 0).repeat(10, 1)
        found = read_area(deep(flat(size=(240, 240)) * (1.0 + 0.005 * coarse)), WHOLE)
        errors.append(found.linear[1] / LINEAR[1] - 1.0)
        stated.append(found.noise[1][1] / LINEAR[1] ** 2)
    assert np.mean(stated) == pytest.approx(np.var(errors), rel=0.6)
    assert np.mean(stated) == pytest.approx((0.005 / 24) ** 2, rel=0.35)


def test_the_slope_of_the_light_is_found() -> None:
    x = np.linspace(-0.5, 0.5, 240)[None, :, None]
    y = np.linspace(-0.5, 0.5, 200)[:, None, None]
    found = read_area(deep(flat() * np.exp(0.20 * x - 0.10 * y)), WHOLE)
    assert found.slope == pytest.approx((0.20, -0.10), abs=0.01)
    assert found.linear == pytest.approx(LINEAR, rel=5e-3)


def test_a_slope_is_told_per_picture_not_per_area() -> None:
    x = np.linspace(-0.5, 0.5, 240)[None, :, None]
    part = Area(0.25, 0.25, 0.75, 0.75)
    found = read_area(deep(flat() * np.exp(0.20 * x)), part)
    assert found.slope[0] == pytest.approx(0.20, abs=0.02)
    assert found.extent == (0.5, 0.5)


def test_slopes_of_areas_are_joined() -> None:
    x = np.linspace(-0.5, 0.5, 240)[None, :, None]
    picture = deep(flat() * np.exp(0.30 * x))
    areas = (Area(0.05, 0.1, 0.45, 0.9), Area(0.55, 0.1, 0.95, 0.9))
    shading = shading_of(tuple(read_area(picture, each) for each in areas))
    rise, variance = shading.between(np.array([0.5, 0.0]))
    assert rise == pytest.approx(0.15, abs=0.01)
    assert 0.0 < variance < 0.15**2


def test_clipped_and_dark_pixels_are_counted() -> None:
    linear = flat()
    linear[:50] = 1.0
    linear[150:] = 0.0005
    found = read_area(deep(linear), WHOLE)
    assert found.clipped == pytest.approx(0.25)
    assert found.dark == pytest.approx(0.25)
    assert found.linear == pytest.approx(LINEAR, rel=5e-3)


def test_flakes_are_seen_as_sparkle() -> None:
    """Bright points on a darker ground, as aluminium flakes in sunlight."""
    rng = np.random.default_rng(5)
    flakes = rng.random((200, 240, 1)) < 0.03
    assert read_area(deep(flat() * np.where(flakes, 2.0, 1.0)), WHOLE).sparkle


def test_a_larger_area_than_is_read_whole_gives_the_same() -> None:
    rng = np.random.default_rng(6)
    linear = flat(size=(1500, 1500)) * (
        1.0 + 0.03 * rng.standard_normal((1500, 1500, 1))
    )
    found = read_area(Picture("a", encoded(linear)), WHOLE)
    assert found.linear == pytest.approx(LINEAR, rel=5e-3)


@pytest.mark.parametrize(
    ("linear", "area", "said"),
    [
        (flat(), Area(0.5, 0.5, 0.51, 0.6), "smaller than 8 pixels"),
        (flat(), Area(1.2, 0.0, 1.5, 1.0), "smaller than 8 pixels or lies outside"),
        (flat((1.0, 1.0, 1.0)), WHOLE, "overexposed"),
        (flat((0.0, 0.0, 0.0)), WHOLE, "black"),
    ],
)
def test_what_cannot_be_read_is_said(
    linear: NDArray[np.float64], area: Area, said: str
) -> None:
    with pytest.raises(PhotoError, match=said):
        read_area(deep(linear), area)


def test_a_long_narrow_area_is_read() -> None:
    found = read_area(deep(flat(size=(16, 6000))), WHOLE)
    assert found.linear == pytest.approx(LINEAR, rel=1e-3)
    assert found.texture < 0.01


def test_a_channel_that_is_clipped_all_over_is_told() -> None:
    """A strong red: its red light is at least what was read, the rest is known."""
    found = read_area(deep(flat((1.0, 0.2, 0.1))), WHOLE)
    assert found.at_limit == (True, False, False)
    assert found.linear == pytest.approx((1.0, 0.2, 0.1), rel=1e-3)
    assert read_area(deep(flat()), WHOLE).at_limit == (False, False, False)


def test_a_channel_that_is_black_all_over_is_told() -> None:
    """A strong yellow, whose blue the picture cannot hold."""
    found = read_area(deep(flat((0.6, 0.4, 0.0))), WHOLE)
    assert found.at_floor == (False, False, True)
    assert read_area(deep(flat()), WHOLE).at_floor == (False, False, False)


@pytest.mark.parametrize(("level", "black"), [(0, True), (1, True), (3, False)])
def test_the_lowest_level_of_eight_bits_is_black(level: int, *, black: bool) -> None:
    levels = encoded(flat((0.6, 0.4, 0.1)))
    levels[..., 2] = level
    found = read_area(Picture("a", levels), WHOLE)
    assert found.at_floor == (False, False, black)


def test_noise_about_black_is_not_black_all_over() -> None:
    """One pixel in ten at the lowest level is noise, not a colour out of reach."""
    levels = encoded(flat((0.6, 0.4, 0.02)))
    levels[::10, :, 2] = 0
    assert read_area(Picture("a", levels), WHOLE).at_floor == (False, False, False)


def test_an_area_may_be_given_by_any_two_corners() -> None:
    assert area_between((0.1, 0.2, 0.5, 0.6)) == Area(0.1, 0.2, 0.5, 0.6)
    assert area_between((0.5, 0.6, 0.1, 0.2)) == Area(0.1, 0.2, 0.5, 0.6)
    assert area_between((0.0, 0.0, 1.0, 1.0)) == WHOLE


@pytest.mark.parametrize(
    "shares", [(0.1, 0.2, 0.5), (0.1, 0.2, 0.5, 1.01), (-0.01, 0.2, 0.5, 0.6)]
)
def test_an_area_that_is_not_on_the_picture_is_refused(
    shares: tuple[float, ...],
) -> None:
    with pytest.raises(PhotoError, match="from 0 to 100 percent"):
        area_between(shares)
