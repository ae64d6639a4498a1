"""The simulated photographs are what was asked for: noise, light, places, files."""

from __future__ import annotations

import io
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image, ImageOps

from .camera import Conditions, draw_scene, photograph, photograph_again
from .camera.develop import ideal_development
from .camera.files import ORIENTATION_TAG, ORIENTATIONS, FileKind, stored
from .camera.layout import CORNER_PATCHES
from .camera.photograph import WRONG_APART, Taking
from .camera.scene import IDEAL, Scene
from .camera.sensor import (
    NOISELESS,
    Sensor,
    expose,
    illumination,
    label_map,
    palette,
)

EVEN = replace(IDEAL, size=(300, 240))


def _scene(seed: int, reference: str = "grey card", **changes: object) -> Scene:
    conditions = replace(EVEN, **changes)  # type: ignore[arg-type]
    return draw_scene(np.random.default_rng(seed), reference, conditions)


def test_a_seed_fixes_the_photo() -> None:
    first, again, other = (
        photograph(draw_scene(rng, "paper"), rng)
        for rng in map(np.random.default_rng, (5, 5, 6))
    )
    assert first.content == again.content
    assert first.content != other.content


def test_noise_is_as_asked() -> None:
    """Photons: variance = signal / full well; reading adds its own."""
    scene = _scene(1, size=(600, 480))
    sensor = Sensor(full_well=900.0, read_noise=0.004, bits=14, blur=False)
    raw = expose(scene, 0.6, sensor, np.random.default_rng(2))
    labels = label_map(scene)
    expected = 0.6 * palette(scene)
    for number in (0, 1, 2):
        values = raw[labels == number]
        mean = expected[number]
        sd = np.sqrt(mean / sensor.full_well + sensor.read_noise**2)
        count = len(values)
        np.testing.assert_allclose(
            values.mean(axis=0), mean, atol=5.0 * sd.max() / np.sqrt(count) + 1e-4
        )
        np.testing.assert_allclose(
            values.std(axis=0), sd, rtol=5.0 / np.sqrt(2.0 * count) + 0.01
        )


def test_values_come_in_the_converters_steps() -> None:
    sensor = Sensor(full_well=5000.0, read_noise=0.001, bits=12, blur=False)
    raw = expose(_scene(1), 0.6, sensor, np.random.default_rng(2)).astype(np.float64)
    np.testing.assert_allclose(raw * 4095, np.rint(raw * 4095), atol=1e-3)


def test_light_falls_off_as_asked() -> None:
    gradient = (0.09, -0.05)
    scene = replace(_scene(1), gradient=gradient, vignetting=0.0)
    field = illumination(scene)
    height, width = field.shape
    half = np.array([width - 1, height - 1]) / np.array([width, height])
    corners = field[[0, 0, -1, -1], [0, -1, 0, -1]]
    signs = np.array([[-1, -1], [1, -1], [-1, 1], [1, 1]])
    np.testing.assert_allclose(corners, 1.0 + (signs * half) @ gradient, rtol=1e-5)
    # And it is in the picture: an area's lightest side is where the light is.
    raw = expose(scene, 0.5, NOISELESS, np.random.default_rng(0))
    bench = label_map(scene) == 0
    expected = 0.5 * palette(scene)[0] * field[bench][:, None]
    np.testing.assert_allclose(raw[bench], expected, atol=2e-5)


def test_light_never_falls_off_more_than_allowed() -> None:
    for seed in range(20):
        scene = _scene(seed, gradient=0.15)
        assert np.abs(illumination(scene) - 1.0).max() <= 0.15 + 1e-6


def test_a_highlight_is_the_lights_colour_and_on_the_swatch() -> None:
    scene = _scene(3, highlight=1.0)
    assert scene.highlight is not None
    x, y = scene.highlight.centre
    left, top, right, bottom = scene.swatch
    assert left <= x <= right
    assert top <= y <= bottom
    with_it, without = (
        expose(each, 0.2, NOISELESS, np.random.default_rng(0))
        for each in (scene, replace(scene, highlight=None))
    )
    added = (with_it - without).reshape(-1, 3)
    brightest = added[added.sum(axis=1).argmax()] if added.max() < 0.8 else None
    assert added.max() > 0.05
    if brightest is not None:
        white = scene.light @ scene.subject.camera.sensitivities
        np.testing.assert_allclose(
            brightest / brightest.max(), white / white.max(), atol=0.01
        )


@pytest.mark.parametrize("reference", ["grey card", "paper", "two greys", "chart"])
@pytest.mark.parametrize("seed", range(5))
def test_marks_lie_inside_their_areas(reference: str, seed: int) -> None:
    scene = _scene(seed, reference)
    labels = label_map(scene)
    height, width = labels.shape
    for number, box in enumerate((scene.swatch, *scene.references), start=1):
        left, top, right, bottom = np.array(box) * [width, height, width, height]
        inside = labels[
            int(np.ceil(top)) : int(bottom), int(np.ceil(left)) : int(right)
        ]
        assert inside.size > 400
        assert np.all(inside == number)


@pytest.mark.parametrize("seed", range(25))
def test_chart_corners_lie_where_the_patches_are(seed: int) -> None:
    """Area 1 is the swatch, 2 the chart's frame, then the patches in their order."""
    scene = _scene(seed, "chart")
    assert scene.chart is not None
    labels = label_map(scene)
    height, width = labels.shape
    at = np.floor(scene.chart.centres * [width, height]).astype(int)
    np.testing.assert_array_equal(labels[at[:, 1], at[:, 0]], np.arange(3, 27))
    shot = photograph(scene, np.random.default_rng(0))
    np.testing.assert_allclose(
        shot.chart_corners, scene.chart.centres[list(CORNER_PATCHES)]
    )
    assert np.all((scene.chart.frame > 0.0) & (scene.chart.frame < 1.0))
    # A middle is the patch's own, not its neighbour's: the mean of its pixels is near.
    for number, centre in enumerate(scene.chart.centres, start=3):
        rows, columns = np.nonzero(labels == number)
        middle = np.array([columns.mean() + 0.5, rows.mean() + 0.5])
        assert np.linalg.norm(middle - centre * [width, height]) < 1.5


@pytest.mark.parametrize("orientation", ORIENTATIONS)
def test_a_turned_file_is_turned_back_by_its_tag(orientation: int) -> None:
    """Pillow's `exif_transpose` follows the tag."""
    rng = np.random.default_rng(8)
    # Grey squares as large as a JPEG's blocks, which it keeps.
    picture = rng.random((24, 40, 1)).repeat(8, axis=0).repeat(8, axis=1)
    picture = picture.repeat(3, axis=2)
    kind = FileKind(".jpg", quality=95, orientation=orientation)
    image = Image.open(io.BytesIO(stored(picture.astype("f4"), "sRGB", kind)))
    assert image.getexif().get(ORIENTATION_TAG, 1) == orientation
    assert (image.size == (320, 192)) is (orientation < 5)
    upright = np.asarray(ImageOps.exif_transpose(image)) / 255.0
    assert upright.shape == picture.shape
    np.testing.assert_allclose(upright, picture, atol=0.02)


def test_the_brightest_neutral_is_exposed_as_cameras_do() -> None:
    brightest = []
    for seed in range(40):
        rng = np.random.default_rng(seed)
        scene = draw_scene(rng, "paper", Conditions(size=(300, 240), highlight=0.0))
        shot = photograph(scene, rng)
        image = ImageOps.exif_transpose(Image.open(io.BytesIO(shot.content)))
        values = np.asarray(image.convert("RGB")) / 255.0
        height, width = values.shape[:2]
        left, top, right, bottom = shot.references[0][1]
        paper = values[
            int(top * height) : int(bottom * height),
            int(left * width) : int(right * width),
        ]
        brightest.append(np.median(paper.reshape(-1, 3), axis=0).max())
    found = np.array(brightest)
    assert np.mean((found > 0.5) & (found < 1.0)) > 0.85
    assert np.ptp(found) > 0.2


def test_several_photos_show_one_swatch_or_one_wrong_one() -> None:
    rng = np.random.default_rng(4)
    conditions = Conditions(size=(300, 240))
    shots = photograph_again(rng, "grey card", 4, 2, conditions)
    apart = [float(np.linalg.norm(each.lab - shots[0].lab)) for each in shots]
    assert apart[1] == apart[3] == 0.0
    assert apart[2] >= WRONG_APART
    assert len({each.content for each in shots}) == 4
    assert len({each.camera for each in shots}) == 1


def test_taking_can_be_fixed() -> None:
    scene = _scene(2)
    taking = Taking(0.5, NOISELESS, ideal_development(scene), FileKind(".png"))
    first, again = (
        photograph(scene, np.random.default_rng(seed), taking) for seed in (0, 1)
    )
    assert first.content == again.content
