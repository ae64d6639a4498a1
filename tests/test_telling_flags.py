"""Each flag of the engine has its sentences, and no other has."""

import re

import pytest

from shadecore.coats.flags import FLAGS
from shadecore.telling.flag_words import WARNINGS, poor_words, warning_of, warning_words


def test_every_flag_has_words_and_no_words_are_left_over() -> None:
    assert list(WARNINGS) == [flag.code for flag in FLAGS]
    for flag in FLAGS:
        assert warning_words(flag).startswith(f"{warning_of(flag).headline}. ")


@pytest.mark.parametrize("code", ["hides-poorly", "film-limit", "not-within-cap"])
def test_poor_hiding_is_answered_by_a_ground_coat(code: str) -> None:
    advice = WARNINGS[code].advice.lower()
    assert "ground coat" in advice
    assert "hue" in advice


@pytest.mark.parametrize("code", ["wide-interval", "outside-recipes"])
def test_doubt_is_answered_by_a_test_card(code: str) -> None:
    assert "test card" in WARNINGS[code].advice.lower()


def test_advice_is_one_sentence_that_stands_behind_its_headline() -> None:
    for warned in WARNINGS.values():
        assert warned.headline[0].isupper()
        assert not warned.headline.endswith(".")
        assert warned.advice.endswith(".")
        assert warned.advice.count(". ") == 0


def test_poor_hiding_is_told_with_its_chance_and_the_usual_coats() -> None:
    assert re.findall(r"\d+", poor_words(0.7, 4)) == ["4", "70"]
    assert "1 coat " in poor_words(0.2, 1)
