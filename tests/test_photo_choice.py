"""The undercoat for a colour that is known with an error."""

import numpy as np

from shadecore import Settings, Topcoat, demo_shelf
from shadecore.coats.pick import pick
from shadecore.photo.choice import pick_for_photo
from shadecore.photo.measure import Driver, PhotoColour


def read(lab: tuple[float, float, float], error: float) -> PhotoColour:
    covariance = error**2 * np.eye(3)
    driver = Driver("camera", tuple(tuple(map(float, row)) for row in covariance))
    return PhotoColour(lab, (driver,), (), "reference")


def test_the_pick_is_named_first_whatever_is_frequent() -> None:
    several = 0
    for lab in ((45.0, 60.0, 35.0), (30.0, 5.0, -40.0), (60.0, -30.0, 20.0)):
        found = pick_for_photo(read(lab, 8.0), demo_shelf())
        picked = found.answer.recommended.undercoat
        assert found.choices[0].undercoat == picked
        others = [each.share for each in found.choices[1:]]
        assert others == sorted(others, reverse=True)
        several += len(found.choices) > 1
    assert several


def test_a_colour_without_error_is_picked_as_one_that_was_given() -> None:
    lab = (45.0, 60.0, 35.0)
    found = pick_for_photo(read(lab, 0.05), demo_shelf())
    given = pick(Topcoat(lab, "given"), demo_shelf(), Settings())
    assert found.answer.recommended.undercoat == given.recommended.undercoat
    assert found.stable
    assert len(found.choices) == 1


def test_a_colour_with_a_large_error_is_not_settled() -> None:
    assert not pick_for_photo(read((45.0, 60.0, 35.0), 20.0), demo_shelf()).stable
