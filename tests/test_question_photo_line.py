"""A photo's doubt as a line: what comes back, and what cannot be read."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shadecore.errors import PhotoError
from shadecore.photo.measure import Driver, PhotoColour
from shadecore.question.photo_line import (
    photo_fields,
    read_photo_line,
    write_photo_line,
)
from shadecore.question.question import Question, photo_doubt

SIZES = st.floats(0.1, 30.0)
SIDES = st.floats(-1.0, 1.0)


@given(st.tuples(SIZES, SIZES, SIZES), st.tuples(SIDES, SIDES, SIDES))
def test_the_doubt_comes_back(
    sizes: tuple[float, float, float], sides: tuple[float, float, float]
) -> None:
    root = np.diag(sizes)
    root[np.tril_indices(3, -1)] = sides
    doubt = photo_doubt(root @ root.T)
    np.testing.assert_allclose(doubt.covariance, root @ root.T)
    line = write_photo_line("45.0 0.0 35.0", doubt)
    assert read_photo_line(line, "45.0 0.0 35.0") == doubt


def test_a_photo_makes_a_question_of_its_own() -> None:
    rows = tuple(map(tuple, np.eye(3)))
    colour = PhotoColour((45.04, -0.04, 35.0), (Driver("light", rows),), (), "chart")
    question = Question(**photo_fields(colour))
    assert question.colour == "45.0 0.0 35.0"
    assert question.photo == photo_doubt(np.eye(3))
    assert question.card is None


def test_a_colour_typed_over_has_no_doubt_of_a_photo() -> None:
    line = write_photo_line("45.0 0.0 35.0", photo_doubt(np.eye(3)))
    assert read_photo_line(line, "45.0 0.0 35.0") is not None
    assert read_photo_line(line, "46 0 35") is None
    assert read_photo_line("", "46 0 35") is None


@pytest.mark.parametrize(
    "line",
    [
        "nonsense",
        "45 0 35; 1 2 3",
        "45 0 35; 1 0 0 1 0 x",
        "45 0 35; 1 5 5 1 5 1",
        "45 0 35; nan 0 0 1 0 1",
        "45 0 35; 1e9 0 0 1 0 1",
        "45 0 35; 0 0 0 0 0 0",
        "45 0 35; 1 0 0 1 0 1; more",
    ],
)
def test_what_is_no_doubt_is_said(line: str) -> None:
    with pytest.raises(PhotoError, match="cannot be read; measure the photo again"):
        read_photo_line(line, "45 0 35")
