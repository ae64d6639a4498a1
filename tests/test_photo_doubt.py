"""Errors that a picture does not show: their directions, and what they grow with."""

import numpy as np
import pytest
from numpy.typing import NDArray

from shadecore.photo.doubt import camera_covariance, tone_covariance, unknown_light
from shadecore.photo.rendering import LIGHTS

Array = NDArray[np.float64]


def at(chroma: float, hue_deg: float, lightness: float = 50.0) -> Array:
    hue = np.radians(hue_deg)
    return np.array([lightness, chroma * np.cos(hue), chroma * np.sin(hue)])


@pytest.mark.parametrize("light", LIGHTS)
def test_a_turned_hue_turns_the_cameras_error(light: str) -> None:
    """Errors along chroma and across it belong to the hue, whichever it is."""
    straight = camera_covariance(at(50.0, 0.0), light)
    assert straight[0, 1:] == pytest.approx(0.0)
    assert straight[1, 2] == pytest.approx(0.0)
    for hue in (35.0, 140.0, 290.0):
        turned = camera_covariance(at(50.0, hue), light)
        along = at(1.0, hue)[1:]
        across = np.array([-along[1], along[0]])
        assert along @ turned[1:, 1:] @ along == pytest.approx(straight[1, 1])
        assert across @ turned[1:, 1:] @ across == pytest.approx(straight[2, 2])
        assert along @ turned[1:, 1:] @ across == pytest.approx(0.0, abs=1e-9)
        assert turned[0, 0] == pytest.approx(straight[0, 0])


@pytest.mark.parametrize("light", LIGHTS)
def test_stronger_colours_are_in_more_doubt(light: str) -> None:
    """The deviations grow in a straight line: three chromas tell the same slope."""
    pale, middle, strong = (
        np.sqrt(np.diag(camera_covariance(at(chroma, 0.0), light)))
        for chroma in (0.0, 30.0, 60.0)
    )
    assert np.all(pale > 0.0)
    assert np.all(pale < middle)
    assert strong - middle == pytest.approx(middle - pale)


def test_a_light_that_was_told_leaves_less_doubt_than_an_unknown_one() -> None:
    strong = at(60.0, 0.0)
    unknown = np.trace(camera_covariance(strong, "unknown"))
    assert np.trace(camera_covariance(strong, "daylight")) < unknown


def test_tones_are_held_at_the_references_lightness() -> None:
    grey = np.array([50.0, 0.0, 0.0])
    assert not tone_covariance(grey, (50.0,)).any()
    near, far = (tone_covariance(at(0.0, 0.0, 80.0), (each,)) for each in (70.0, 50.0))
    assert far[0, 0] == pytest.approx(9.0 * near[0, 0])
    both = tone_covariance(at(0.0, 0.0, 80.0), (50.0, 70.0))
    assert both[0, 0] == pytest.approx(near[0, 0])
    assert not tone_covariance(at(0.0, 0.0, 80.0), ()).any()


def test_a_picture_style_bends_chroma_and_leaves_the_hue() -> None:
    colour = at(40.0, 70.0)
    covariance = tone_covariance(colour, (50.0,))[1:, 1:]
    across = np.array([-colour[2], colour[1]])
    assert covariance @ across == pytest.approx(0.0, abs=1e-9)
    share = colour[1:] @ covariance @ colour[1:] / np.linalg.norm(colour[1:]) ** 4
    twice = tone_covariance(at(80.0, 70.0), (50.0,))[1:, 1:]
    assert 0.0 < share < 0.15**2
    assert twice == pytest.approx(4.0 * covariance)


def test_an_unknown_light_is_mostly_an_unknown_exposure() -> None:
    """Two stops are a factor of four; a white balance misses by some percent."""
    covariance = unknown_light()
    exposure = np.sqrt(covariance[1, 1])
    assert np.log(4.0) / 1.96 < 1.2 * exposure
    assert exposure < np.log(4.0)
    tints = [
        np.sqrt(covariance[each, each] + covariance[1, 1] - 2.0 * covariance[each, 1])
        for each in (0, 2)
    ]
    assert tints == pytest.approx([tints[0]] * 2)
    assert 0.01 < tints[0] < 0.15
