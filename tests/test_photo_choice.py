"""The undercoat for a colour read off a photo, which is known with an error."""

import numpy as np

from shadecore.coats.uncertain import settled
from shadecore.photo.measure import Driver, PhotoColour
from shadecore.question.answer import answer, photo_choices
from shadecore.question.photo_line import photo_fields
from shadecore.question.question import Question


def read(lab: tuple[float, float, float], error: float) -> Question:
    covariance = error**2 * np.eye(3)
    driver = Driver("camera", tuple(tuple(map(float, row)) for row in covariance))
    return Question(**photo_fields(PhotoColour(lab, (driver,), (), "reference")))


def test_the_pick_is_named_first_whatever_is_frequent() -> None:
    several = 0
    for lab in ((45.0, 60.0, 35.0), (30.0, 5.0, -40.0), (60.0, -30.0, 20.0)):
        question = read(lab, 8.0)
        found = photo_choices(question)
        assert found[0].undercoat == answer(question).recommended.undercoat
        others = [each.share for each in found[1:]]
        assert others == sorted(others, reverse=True)
        several += len(found) > 1
    assert several


def test_a_colour_without_error_is_picked_as_one_that_was_given() -> None:
    question = read((45.0, 60.0, 35.0), 0.05)
    given = answer(Question("45 60 35"))
    (only,) = photo_choices(question)
    assert only.undercoat == given.recommended.undercoat
    assert settled((only,))


def test_a_colour_with_a_large_error_is_not_settled() -> None:
    assert not settled(photo_choices(read((45.0, 60.0, 35.0), 20.0)))
