"""Each flag of the engine has its sentences, and no other has."""

import pytest

from shadecore.coats.flags import FLAGS
from shadecore.telling.flag_words import WARNINGS, warning_of, warning_words


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


def test_no_warning_says_that_effect_colours_are_left_out() -> None:
    """Metallics and pearls are answered like all others, and may raise any flag."""
    for warned in WARNINGS.values():
        assert "effect" not in f"{warned.headline} {warned.advice}".lower()


def test_advice_is_one_sentence_that_stands_behind_its_headline() -> None:
    for warned in WARNINGS.values():
        assert warned.headline[0].isupper()
        assert not warned.headline.endswith(".")
        assert warned.advice.endswith(".")
        assert warned.advice.count(". ") == 0
