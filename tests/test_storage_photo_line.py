"""A photo's doubt as a line: what comes back, and what cannot be read."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shadecore.errors import PhotoError
from shadecore.photo.measure import Driver, PhotoColour
from shadecore.photo.photo_line import (
    photo_colour_text,
    read_photo_line,
    write_photo_line,
)

SIZES = st.floats(0.1, 30.0)
SIDES = st.floats(-1.0, 1.0)


def colour(covariance: np.ndarray) -> PhotoColour:
    rows = tuple(map(tuple, covariance))
    return PhotoColour((45.04, -0.04, 35.0), (Driver("light", rows),), (), "chart")


@given(st.tuples(SIZES, SIZES, SIZES), st.tuples(SIDES, SIDES, SIDES))
def test_the_doubt_comes_back(
    sizes: tuple[float, float, float], sides: tuple[float, float, float]
) -> None:
    root = np.diag(sizes)
    root[np.tril_indices(3, -1)] = sides
    given_colour = colour(root @ root.T)
    found = read_photo_line(
        write_photo_line(given_colour), photo_colour_text(given_colour)
    )
    assert found is not None
    assert np.allclose(found, given_colour.covariance, rtol=1e-3, atol=1e-3)


def test_a_colour_typed_over_has_no_doubt_of_a_photo() -> None:
    line = write_photo_line(colour(np.eye(3)))
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
