"""From the light of a scene to daylight: what stays, what improves."""

import colour
import numpy as np
import pytest
from photo_scenes import Array, chart_lab
from skimage.color import deltaE_ciede2000

from shadecore.colour.convert import lab_from_linear_srgb
from shadecore.errors import PhotoError
from shadecore.photo.rendering import (
    LIGHTS,
    check_light,
    cone_matrix,
    rendered,
    root_terms,
)


def in_light(illuminant: str) -> Array:
    """The chart of ISO 17321-1 as a white-balanced camera shows it in a light.

    Linear sRGB of the 2 degree observer, the light adapted to D65 by CAT16; all by
    colour-science.
    """
    shape = colour.SpectralShape(380, 780, 5)
    observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy()
    light = colour.SDS_ILLUMINANTS[illuminant].copy().align(shape)
    xyz = [
        colour.sd_to_XYZ(each, observer.align(shape), light, method="Integration")
        for each in colour.SDS_COLOURCHECKERS["ISO 17321-1"].values()
    ]
    white = colour.sd_to_XYZ(
        colour.sd_ones(shape), observer.align(shape), light, method="Integration"
    )
    screen = colour.RGB_COLOURSPACES["sRGB"]
    adapted = colour.chromatic_adaptation(
        np.array(xyz) / 100.0,
        white / 100.0,
        colour.xy_to_XYZ(screen.whitepoint),
        method="Von Kries",
        transform="CAT16",
    )
    return np.asarray(adapted @ np.linalg.inv(screen.matrix_RGB_to_XYZ).T)


@pytest.mark.parametrize(
    ("illuminant", "light"),
    [("A", "bulb"), ("A", "unknown"), ("LED-B3", "led"), ("LED-B3", "unknown")],
)
def test_colours_come_nearer_to_those_of_daylight(illuminant: str, light: str) -> None:
    """Surfaces of the chart, which the correction was not learned from."""
    shown = in_light(illuminant)
    before, after = (
        deltaE_ciede2000(lab_from_linear_srgb(each), chart_lab()).mean()
        for each in (shown, rendered(shown, light))
    )
    assert after < 0.85 * before


def test_daylight_is_hardly_changed() -> None:
    """Only the observer differs: within what 2 and 10 degrees differ by."""
    shown = in_light("D65")
    changed = lab_from_linear_srgb(rendered(shown, "daylight"))
    assert deltaE_ciede2000(changed, chart_lab()).mean() < 1.5


@pytest.mark.parametrize("light", LIGHTS)
def test_greys_stay_grey_and_exposure_stays_out(light: str) -> None:
    grey = np.linspace(0.05, 1.0, 5)[:, None] * np.ones(3)
    assert rendered(grey, light) == pytest.approx(grey, abs=1e-3)
    colours = np.array([[0.5, 0.2, 0.1], [0.1, 0.3, 0.6]])
    assert rendered(0.3 * colours, light) == pytest.approx(
        0.3 * rendered(colours, light)
    )


def test_root_terms_by_hand() -> None:
    """Square roots of products of two channels: Finlayson et al. 2015."""
    found = root_terms(np.array([[0.04, 0.09, 0.16], [-0.1, 0.25, 0.36]]))
    assert found[0] == pytest.approx([0.04, 0.09, 0.16, 0.06, 0.12, 0.08])
    assert found[1] == pytest.approx([-0.1, 0.25, 0.36, 0.0, 0.3, 0.0])


def test_cones_of_white_are_those_of_cat16() -> None:
    """The matrix of Li et al. 2017 times the white of D65, by hand."""
    cat16 = np.array(
        [
            [0.401288, 0.650173, -0.051461],
            [-0.250268, 1.204414, 0.045854],
            [-0.002079, 0.048952, 0.953127],
        ]
    )
    white = np.array([0.95047, 1.0, 1.08883])
    assert cone_matrix() @ np.ones(3) == pytest.approx(cat16 @ white, abs=2e-3)


def test_lights_are_checked() -> None:
    for light in LIGHTS:
        check_light(light)
    with pytest.raises(PhotoError, match="use one of unknown, daylight, bulb, led"):
        check_light("candle")
