"""A swatch measured on a picture file by one call, without marks drawn by hand."""

import re
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from shadecore.errors import PhotoError
from shadecore.photo.area import area_between
from shadecore.photo.from_file import measure_file
from shadecore.photo.measure import Marks, measure_swatch
from shadecore.photo.picture import open_picture
from shadecore.photo.reference import own_reference

SWATCH = (0.10, 0.20, 0.40, 0.80)
GREY = (0.60, 0.20, 0.90, 0.80)
RED_SRGB = (178, 34, 52)
GREY_SRGB = (119, 119, 119)
GREY_LIGHTNESS = "50.03"
"""L* of that sRGB grey, by IEC 61966-2-1 and CIE 15."""
TAKEN_AS_SRGB = "nothing"


@pytest.fixture
def shot(tmp_path: Path) -> Path:
    """A red and a grey patch on white, as a lossless picture."""
    pixels = np.full((300, 400, 3), 240, dtype=np.uint8)
    for (left, top, right, bottom), colour in ((SWATCH, RED_SRGB), (GREY, GREY_SRGB)):
        pixels[
            round(300 * top) : round(300 * bottom),
            round(400 * left) : round(400 * right),
        ] = colour
    path = tmp_path / "shot.png"
    Image.fromarray(pixels).save(path)
    return path


def test_a_grey_of_known_lightness_is_a_reference(shot: Path) -> None:
    found = measure_file(shot, SWATCH, against=GREY_LIGHTNESS, reference=GREY)
    picture = open_picture(shot.read_bytes(), str(shot))
    reference = own_reference(float(GREY_LIGHTNESS))
    marks = Marks(area_between(SWATCH), ((area_between(GREY), reference),))
    np.testing.assert_allclose(found.lab, measure_swatch(picture, marks).lab)


def test_the_colour_is_that_of_srgb(shot: Path) -> None:
    """Lab by colour-science, whose 2 degrees are not the engine's 10."""
    colour = pytest.importorskip("colour")
    found = measure_file(shot, SWATCH, against=GREY_LIGHTNESS, reference=GREY)
    xyz = colour.sRGB_to_XYZ(np.array(RED_SRGB) / 255.0)
    lab = colour.XYZ_to_Lab(xyz, (0.3127, 0.3290))
    assert np.all(np.abs(found.lab - lab) < np.array(found.interval) + 1.0)


def test_a_swatch_that_is_not_there_moves_the_colour(shot: Path) -> None:
    red = measure_file(shot, SWATCH, against=TAKEN_AS_SRGB)
    grey = measure_file(shot, GREY, against=TAKEN_AS_SRGB)
    assert red.lab[1] > 30.0
    assert abs(grey.lab[1]) < 3.0


@pytest.mark.parametrize("against", ["a shoe", "101", "-3", "nan"])
def test_what_is_no_reference_is_named(shot: Path, against: str) -> None:
    with pytest.raises(PhotoError, match=r"reference|L\*|grey"):
        measure_file(shot, SWATCH, against=against, reference=GREY)


def test_a_guessed_reference_is_refused_until_somebody_says_it_counts(
    shot: Path,
) -> None:
    with pytest.raises(PhotoError, match="--reference found, or where it lies") as said:
        measure_file(shot, SWATCH, against=GREY_LIGHTNESS)
    assert len(str(said.value)) <= 300 + len(str(shot))
    # The white around both patches is the lightest neutral there: a wrong guess.
    allowed = measure_file(shot, SWATCH, against=GREY_LIGHTNESS, reference="found")
    given = measure_file(shot, SWATCH, against=GREY_LIGHTNESS, reference=GREY)
    assert allowed.warnings[0].startswith("Guessed on shot.png: grey at ")
    assert allowed.lab[0] < given.lab[0] - 10.0
    assert given.warnings == ()


def test_a_guessed_swatch_is_said_with_its_place(shot: Path) -> None:
    guessed = measure_file(shot, against=GREY_LIGHTNESS, reference=GREY)
    (said,) = guessed.warnings
    place = re.search(r"Guessed on shot\.png: swatch at (\d+),(\d+),(\d+),(\d+) ", said)
    assert place
    left, top, right, bottom = (float(each) / 100.0 for each in place.groups())
    assert SWATCH[0] <= left < right <= SWATCH[2]
    assert SWATCH[1] <= top < bottom <= SWATCH[3]
    assert (
        measure_file(shot, SWATCH, against=GREY_LIGHTNESS, reference=GREY).warnings
        == ()
    )


def test_an_error_names_the_picture_and_what_was_guessed(tmp_path: Path) -> None:
    black = tmp_path / "black.png"
    Image.fromarray(np.zeros((300, 400, 3), dtype=np.uint8)).save(black)
    with pytest.raises(PhotoError, match=r"black\.png: .* black .* Guessed: swatch at"):
        measure_file(black, against=TAKEN_AS_SRGB)


def test_an_error_names_the_mark_it_is_about(shot: Path) -> None:
    line = (0.601, 0.2, 0.602, 0.8)
    with pytest.raises(PhotoError, match=r"The grey card marked on .* is smaller than"):
        measure_file(shot, SWATCH, reference=line)
    with pytest.raises(PhotoError, match=r"The swatch marked on .* is smaller than"):
        measure_file(shot, (0.1, 0.2, 0.101, 0.8), reference=GREY)


def test_a_file_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(PhotoError, match=r"none\.png' cannot be read"):
        measure_file(tmp_path / "none.png")
