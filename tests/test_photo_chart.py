"""The 24-patch chart: found, read, and fitted."""

import io

import numpy as np
import pytest
import skimage.data
from numpy.typing import NDArray
from photo_scenes import (
    FIRST,
    PITCH,
    SIDE,
    Array,
    chart_corners,
    chart_lab,
    encoded,
    linear_of,
    scene,
    stored,
)
from PIL import Image
from skimage.color import deltaE_ciede2000
from skimage.io import imread
from skimage.transform import ProjectiveTransform, warp

from shadecore.errors import PhotoError
from shadecore.photo.chart import find_chart
from shadecore.photo.chart_fit import chart_lab as published
from shadecore.photo.chart_fit import fit_chart, fit_patches
from shadecore.photo.corners import check_corners, patch_areas, patch_centres
from shadecore.photo.picture import Picture, open_picture
from shadecore.photo.suggest import suggest_marks

RED = (45.0, 55.0, 30.0)
REAL = ("astronaut", "chelsea", "coffee", "rocket", "retina", "hubble_deep_field")
"""Photographs that come with scikit-image, none of which shows a chart."""


def picture(levels: NDArray[np.uint8]) -> Picture:
    return Picture("chart.png", levels)


def test_the_chart_is_that_of_iso_17321_1() -> None:
    """Within what 10 nm sums differ from 1 nm ones, by colour-science."""
    assert np.abs(published() - chart_lab()).max() < 0.12


def test_patches_lie_in_perspective() -> None:
    """scikit-image's transform puts them elsewhere by another way of reckoning."""
    corners = ((0.2, 0.3), (0.8, 0.25), (0.75, 0.7), (0.25, 0.6))
    centres = patch_centres(corners)
    # Straight rows and columns stay straight, and meet where their ends do.
    for row in centres.reshape(4, 6, 2):
        across = row - row[0]
        cross = across[:, 0] * across[-1, 1] - across[:, 1] * across[-1, 0]
        assert np.abs(cross).max() < 1e-9
    assert np.allclose(centres[[0, 5, 23, 18]], corners)


@pytest.mark.parametrize("turn", [0, 20, 45, 70, 90, 200])
def test_what_is_read_of_a_patch_lies_in_it(turn: int) -> None:
    angle = np.radians(turn)
    rotation = np.array(
        [[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]]
    )
    local = np.array([[-2.5, -1.5], [2.5, -1.5], [2.5, 1.5], [-2.5, 1.5]]) * 0.08
    corners = tuple(map(tuple, 0.5 + local @ rotation))
    for place, area in enumerate(patch_areas(corners)):
        row, column = divmod(place, 6)
        for x in (area.left, area.right):
            for y in (area.top, area.bottom):
                back = (np.array([x, y]) - 0.5) @ rotation.T / 0.08
                apart = np.abs(back - [column - 2.5, row - 1.5])
                assert apart.max() <= 0.26
        assert area.right - area.left > 0.015


def test_what_is_read_lies_within_patches_of_a_slanting_chart() -> None:
    """A parallelogram, mapped back to upright patches by its own two sides."""
    origin = np.array([0.15, 0.2])
    sides = np.array([[0.09, 0.02], [0.06, 0.16]])
    corners = tuple(
        tuple(origin + np.array(place) @ sides)
        for place in ((0, 0), (5, 0), (5, 3), (0, 3))
    )
    for place, area in enumerate(patch_areas(corners)):
        row, column = divmod(place, 6)
        at = np.array(
            [(x, y) for x in (area.left, area.right) for y in (area.top, area.bottom)]
        )
        apart = np.abs((at - origin) @ np.linalg.inv(sides) - (column, row))
        # Half of a patch's pitch is read in the direction that allows least.
        assert apart.max() == pytest.approx(0.25, abs=1e-6)


@pytest.mark.parametrize("turn", [0, 12, -25, 45, 90, 180, 270])
def test_a_chart_is_found_however_it_lies(turn: int) -> None:
    levels = encoded(scene(RED, cast=(0.9, 0.8, 0.6), slope=0.2))
    image = Image.fromarray(levels)
    turned = image.rotate(
        turn, Image.Resampling.BICUBIC, expand=True, fillcolor=(90, 85, 80)
    )
    found = find_chart(picture(np.asarray(turned)))
    assert found is not None
    # Where Pillow's turn about the middle puts the corners.
    angle = np.radians(turn)
    rotation = np.array(
        [[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]]
    )
    centred = (np.array(chart_corners()) - 0.5) * image.size
    wanted = centred @ rotation / turned.size + 0.5
    assert np.abs(np.array(found) - wanted).max() < 0.004


def test_a_chart_is_found_in_perspective() -> None:
    linear = scene(RED)
    to = np.array([[60, 40], [840, 0], [900, 700], [0, 640]], dtype=float)
    whole = np.array([[0, 0], [900, 0], [900, 700], [0, 700]], dtype=float)
    lean = ProjectiveTransform.from_estimate(whole, to)
    levels = encoded(warp(linear, lean.inverse, cval=0.2))
    found = find_chart(picture(levels))
    assert found is not None
    wanted = lean(np.array(chart_corners()) * (900, 700)) / (900, 700)
    assert np.abs(np.array(found) - wanted).max() < 0.006


@pytest.mark.parametrize(("hidden", "seen"), [(10, True), (11, False)])
def test_a_chart_is_found_by_fourteen_of_its_patches(
    hidden: int, *, seen: bool
) -> None:
    """The others are woven so coarsely that they are no even surface."""
    linear = scene(RED)
    y, x = np.mgrid[0:SIDE, 0:SIDE]
    woven = np.where((x // 4 + y // 4) % 2, 1.9, 0.1)[..., None]
    for place in range(hidden):
        row, column = divmod(place, 6)
        left, top = FIRST[0] + column * PITCH, FIRST[1] + row * PITCH
        linear[top : top + SIDE, left : left + SIDE] *= woven
    assert (find_chart(picture(encoded(linear))) is not None) == seen


def test_a_small_chart_is_found() -> None:
    """An eighth of the picture wide: patches of 15 pixels in 900."""
    levels = encoded(scene(RED))
    left, top = FIRST[0] - 20, FIRST[1] - 20
    chart = Image.fromarray(levels[top:, left : left + 6 * PITCH + 20])
    factor = 15 / SIDE
    small = chart.resize(
        (round(chart.width * factor), round(chart.height * factor)),
        Image.Resampling.BOX,
    )
    bench = Image.new("RGB", (900, 700), tuple(map(int, levels[-1, -1])))
    bench.paste(small, (400, 300))
    found = find_chart(picture(np.asarray(bench)))
    assert found is not None
    wanted = (np.array(chart_corners()) * (900, 700) - (left, top)) * factor
    assert np.abs((found * np.array([900, 700]) - wanted) - (400, 300)).max() < 2.0


@pytest.mark.parametrize(
    ("turn", "cast"),
    [(33, (1.0, 0.45, 0.12)), (140, (1.0, 0.62, 0.28)), (251, (0.45, 0.7, 1.0))],
    ids=["deep bulb", "bulb", "blue shade"],
)
def test_a_chart_is_found_under_a_strong_cast_turned_and_small(
    turn: int, cast: tuple[float, float, float]
) -> None:
    """Its patches take 8 % of the picture's width, and a like square lies beside."""
    linear = scene(RED, cast=cast)
    top, left = FIRST[1] - PITCH, FIRST[0] - PITCH
    # One step beyond the black patch, as a seventh column would have it.
    beside = FIRST[0] + 6 * PITCH
    linear[FIRST[1] + 3 * PITCH :, beside : beside + SIDE] = np.array(cast) * 0.4
    levels = encoded(linear[top:, left : left + 8 * PITCH])
    chart = Image.fromarray(levels)
    factor = 0.08 * 1200 / (6 * PITCH)
    little = chart.resize(
        (round(chart.width * factor), round(chart.height * factor)),
        Image.Resampling.BOX,
    ).rotate(
        turn,
        Image.Resampling.BICUBIC,
        expand=True,
        fillcolor=tuple(map(int, levels[0, 0])),
    )
    bench = Image.new("RGB", (1200, 900), tuple(map(int, levels[0, 0])))
    bench.paste(little, (700, 200))
    found = find_chart(picture(np.asarray(bench)))
    assert found is not None
    # Where Pillow's turn about the middle puts the corners.
    angle = np.radians(turn)
    rotation = np.array(
        [[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]]
    )
    at = np.array(chart_corners()) * (900, 700) - (left, top)
    centred = (at - np.array(chart.size) / 2) * factor
    wanted = centred @ rotation + np.array(little.size) / 2 + (700, 200)
    assert np.abs(np.array(found) * (1200, 900) - wanted).max() < 0.25 * PITCH * factor


def test_a_mirrored_chart_is_not_taken_for_one() -> None:
    levels = encoded(scene(RED))
    assert find_chart(picture(np.ascontiguousarray(levels[:, ::-1]))) is None


@pytest.mark.parametrize("name", REAL)
def test_no_chart_is_seen_where_there_is_none(name: str) -> None:
    image = Image.fromarray(getattr(skimage.data, name)())
    out = io.BytesIO()
    image.save(out, "PNG")
    opened = open_picture(out.getvalue(), name)
    assert find_chart(opened) is None
    suggested = suggest_marks(opened)
    assert 0.0 <= suggested.swatch.left < suggested.swatch.right <= 1.0
    assert 0.0 <= suggested.swatch.top < suggested.swatch.bottom <= 1.0


def test_a_burnt_out_surface_is_no_reference() -> None:
    levels = np.full((300, 600, 3), 255, np.uint8)
    levels[60:240, 60:240] = (150, 30, 30)
    assert suggest_marks(picture(levels)).reference is None
    # A warm white wall burns out in red before the others.
    levels[:, :30] = (255, 246, 232)
    assert suggest_marks(picture(levels)).reference is None
    levels[60:240, 340:520] = 120
    found = suggest_marks(picture(levels)).reference
    assert found is not None
    assert 0.5 < found.left < found.right < 0.9


def test_swatch_and_card_are_suggested() -> None:
    levels = encoded(scene(RED))[:300]
    suggested = suggest_marks(picture(levels))
    assert suggested.chart is None
    assert suggested.reference is not None
    for area, (left, right) in (
        (suggested.swatch, (60, 290)),
        (suggested.reference, (330, 510)),
    ):
        assert left / 900 <= area.left < area.right <= right / 900
        assert 60 / 300 <= area.top < area.bottom <= 240 / 300


def test_a_fit_undoes_what_the_camera_did() -> None:
    """Cross-talk, exposure, sloping light and a bent grey scale, all made here."""
    rng = np.random.default_rng(11)
    known = linear_of(chart_lab())
    y, x = np.mgrid[0:4, 0:6]
    places = np.stack([0.2 + 0.1 * x.ravel(), 0.3 + 0.1 * y.ravel()], axis=1)
    others = np.array([[40, 45, 30], [70, -30, 40], [35, 10, -35], [80, 5, 60]])
    for gamma in (1.0, 1.2):
        # Bands of a sensor overlap, so each channel takes some of the others.
        mixing = np.eye(3) + rng.uniform(0.0, 0.15, (3, 3))
        mixing /= mixing.sum(axis=1, keepdims=True)
        light = np.exp(0.15 * places[:, 0] - 0.1 * places[:, 1])[:, None]
        read = 0.7 * np.maximum(known @ mixing.T, 1e-3) * light
        fit = fit_patches(read**gamma, places)
        at = np.array([0.5, 0.2])
        shade = np.exp(0.15 * at[0] - 0.1 * at[1])
        for other in others:
            seen = (
                0.7 * shade * np.maximum(linear_of(other) @ mixing.T, 1e-3)
            ) ** gamma
            lab, _ = fit.lab(seen, at)
            assert deltaE_ciede2000(lab, other) < 2.0


def test_patches_are_predicted_without_themselves() -> None:
    """A patch that is wrong shows in its own error, not only in others'."""
    known = linear_of(chart_lab())
    y, x = np.mgrid[0:4, 0:6]
    places = np.stack([0.2 + 0.1 * x.ravel(), 0.3 + 0.1 * y.ravel()], axis=1)
    spoiled = known.copy()
    spoiled[14] = known[14] * (0.6, 1.5, 1.2)
    fit = fit_patches(spoiled, places)
    errors = np.linalg.norm(fit.left_out, axis=1)
    assert np.argmax(errors) == 14


def test_other_patches_are_refused() -> None:
    rng = np.random.default_rng(2)
    colours = rng.integers(20, 235, (4, 6, 3), dtype=np.uint8)
    levels = np.kron(colours, np.ones((60, 60, 1), dtype=np.uint8))
    middle: Array = np.array([[30, 30], [330, 30], [330, 210], [30, 210]]) / (360, 240)
    with pytest.raises(PhotoError, match="not those of the 24-patch chart"):
        fit_chart(picture(levels), tuple(map(tuple, middle)))


@pytest.mark.parametrize(
    ("corners", "said"),
    [
        (((0.1, 0.1), (0.9, 0.1), (0.9, 0.9)), "four corner patches"),
        (((0.1, 0.1), (0.9, 0.1), (0.9, 1.2), (0.1, 0.9)), "four corner patches"),
        (((0.1, 0.1), (0.9, 0.9), (0.9, 0.1), (0.1, 0.9)), "corners cross"),
        (((0.1, 0.1), (0.5, 0.1), (0.7, 0.1), (0.9, 0.1)), "corners cross"),
    ],
)
def test_corners_that_span_nothing_are_refused(
    corners: tuple[tuple[float, float], ...], said: str
) -> None:
    with pytest.raises(PhotoError, match=said):
        check_corners(corners)


def test_a_stored_scene_is_read_back() -> None:
    opened = open_picture(stored(encoded(scene(RED))), "scene.png")
    assert fit_chart(opened, chart_corners()).difference < 1.0
    assert imread(io.BytesIO(stored(encoded(scene(RED))))).shape == (700, 900, 3)


def test_overexposed_patches_are_left_out() -> None:
    linear = 1.6 * scene(RED)
    fit = fit_chart(picture(encoded(linear)), chart_corners())
    assert len(fit.patch_lab) < 24
    assert any("were left out" in each for each in fit.warnings)
    assert fit.difference < 2.0


def test_a_chart_that_is_white_all_over_is_refused() -> None:
    with pytest.raises(PhotoError, match="of the chart's 24 patches can be read"):
        fit_chart(picture(encoded(20.0 * scene(RED))), chart_corners())
