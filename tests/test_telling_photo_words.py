"""A photographed colour in words: interval, what drives it, one or two undercoats."""

import numpy as np
import pytest

from shadecore import demo_shelf
from shadecore.coats.uncertain import Choice
from shadecore.pages.answer_page import answer_page
from shadecore.pages.details import doubt_table
from shadecore.pages.text_layout import document_text
from shadecore.photo.measure import Driver, PhotoColour
from shadecore.question.answer import answer
from shadecore.question.question import PhotoDoubt, Question
from shadecore.telling.photo_words import (
    asked_lab_words,
    choice_words,
    driver_words,
    odd_words,
    photo_colour_words,
)


def colour(source: str = "reference", **sizes: float) -> PhotoColour:
    drivers = tuple(
        Driver(name, tuple(map(tuple, size**2 / 3.0 * np.eye(3))))
        for name, size in sizes.items()
    )
    return PhotoColour((45.0, -0.04, 35.06), drivers, (), source)


def test_the_interval_is_nineteen_of_twenty() -> None:
    """1.96 standard deviations; a rounded -0.0 is 0.0."""
    words = photo_colour_words(colour(camera=np.sqrt(3.0)))
    assert words == "L* 45.0 ± 2.0, a* 0.0 ± 2.0, b* 35.1 ± 2.0"


@pytest.mark.parametrize(
    ("source", "largest", "advice"),
    [
        ("reference", "camera", "24-patch chart"),
        ("chart", "camera", "instrument"),
        ("reference", "light", "right beside the swatch"),
        ("chart", "light", "right beside the swatch"),
        ("reference", "reference", "grey card of known L*"),
        ("reference", "noise", "larger, even part"),
    ],
)
def test_the_largest_doubt_is_named_with_its_cure(
    source: str, largest: str, advice: str
) -> None:
    words = driver_words(colour(source, **{largest: 3.0}))
    assert words.startswith("Most of the doubt is ")
    assert advice in words
    assert words.endswith(".")


def test_shares_of_the_doubt_add_up() -> None:
    rows = doubt_table(colour(camera=4.0, light=3.0)).rows
    assert [row[1:] for row in rows] == [("± 4.0", "64 %"), ("± 3.0", "36 %")]


def test_one_undercoat_or_either_of_two() -> None:
    white, light, *_ = demo_shelf()
    sure = choice_words((Choice(white, 0.92),))
    assert sure.startswith("White N 9 stays the pick for 92 %")
    either = choice_words((Choice(white, 0.6), Choice(light, 0.4)))
    assert either.startswith("Either White N 9 (60 %")
    assert "Light grey N 7.5 (40 %)" in either
    assert "instrument" in either


def test_the_odd_photo_is_called_by_its_name() -> None:
    assert odd_words("second.jpg").startswith("second.jpg shows another colour")


def test_a_questions_lab_keeps_the_doubt_of_its_photo() -> None:
    """Variance 4 is a standard deviation of 2: 1.96 x 2 = 3.9 for 95 percent."""
    doubt = PhotoDoubt((4.0, 0.0, 0.0, 1.0, 0.0, 0.25))
    question = Question("45 60 35", photo=doubt)
    said = asked_lab_words(question.topcoat.lab, doubt)
    assert said.startswith("L* 45.0 ± 3.9, a* 60.0 ± 2.0, b* 35.0 ± 1.0 (95 %")
    page = document_text(answer_page(question, answer(question)))
    assert "± 3.9" in page
    assert "±" not in asked_lab_words(question.topcoat.lab, None)
