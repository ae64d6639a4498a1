"""The lesson's sentences say what the numbers say."""

import pytest

from shadecore.coats.settings import Settings
from shadecore.colour.colour_science import colour_science
from shadecore.colour.topcoat import Topcoat, parse_topcoat, topcoat_from_hex
from shadecore.lesson.colours import examples
from shadecore.lesson.contrast_card import contrast_card
from shadecore.lesson.guess import ExerciseColour, Score
from shadecore.lesson.panels import Lesson, lesson
from shadecore.lesson.rules import compare_rules
from shadecore.telling import exercise_words
from shadecore.telling import lesson_words as words
from shadecore.telling.colours import angle_words, colour_word, lab_words
from shadecore.undercoats.shelf_table import demo_shelf

BY_NAME = {each.name: each.topcoat for each in examples()}


def _lesson(name: str) -> Lesson:
    return lesson(BY_NAME[name])


@pytest.mark.parametrize(
    ("code", "word"),
    [
        ("#ff0000", "red"),
        ("#ffa500", "orange"),
        ("#ffff00", "yellow"),
        ("#008000", "green"),
        ("#0000ff", "blue"),
        ("#ee82ee", "violet"),
        ("#ffc0cb", "pink"),
        ("#ffffff", "white"),
        ("#d3d3d3", "light grey"),
        ("#696969", "dark grey"),
        ("#000000", "black"),
    ],
)
def test_colours_are_called_what_css_calls_them(code: str, word: str) -> None:
    """Named colours of the W3C's CSS Color Module Level 4."""
    assert colour_word(topcoat_from_hex(code).lab) == word


def test_a_dark_orange_of_low_chroma_is_brown() -> None:
    """Munsell 5YR 3/4, brown by the ISCC-NBS names (from memory)."""
    colour = colour_science()
    assert colour is not None
    assert colour_word(parse_topcoat("5YR 3/4").lab) == "brown"


def test_a_red_covers_blue_and_green_first() -> None:
    """Red pigments absorb there; common knowledge of the trade, no source."""
    found = _lesson("red")
    text = words.film_words(found, 2)
    assert "After 2 coats this red" in text
    assert "hardly any blue or green light" in text
    # 590 to 700 nm, the last 12 of 31 wavelengths from 400 by 10 nm.
    through = sum(found.see_through[2][19:]) / 12
    assert f"{100 * through:.0f} % of the red light" in text
    assert text.endswith("only the sealer's red still shows.")


def test_a_yellow_covers_blue_first() -> None:
    text = words.film_words(_lesson("yellow"), 2)
    assert "hardly any blue light" in text
    assert "sealer's green and red" in text


def test_a_grey_lets_no_light_through() -> None:
    found = _lesson("light grey")
    assert max(found.see_through[6]) < words.OPAQUE_BELOW
    assert "hardly any light" in words.film_words(found, 6)
    assert "%" not in words.film_words(found, 6)


def test_nothing_is_covered_before_the_first_coat() -> None:
    assert "every sealer shows as it is" in words.film_words(_lesson("red"), 0)


def test_hidden_undercoats_are_named() -> None:
    found = _lesson("red")
    first = found.panels[0].hides_from
    assert first is not None
    assert "hides over none of them yet" in words.hides_words(found, first - 1)
    assert "hides over White N 9, not yet" in words.hides_words(found, first)
    assert words.hides_words(found, 0) == "Before the first coat nothing is hidden."
    assert "over all of them" in words.hides_words(_lesson("light grey"), 6)


def test_the_card_is_held_against_its_line() -> None:
    found = _lesson("light grey")
    card = contrast_card(found.answer)
    text = words.card_words(card, 1)
    assert f"{card.contrast_ratio[1]:.2f}" in text
    assert f"{card.low[1]:.2f} to {card.high[1]:.2f}" in text
    assert "0.98 counts as complete hiding (ISO 6504-3, ASTM D2805)" in text
    assert f"from {card.hidden_from} coats on" in text


def test_a_card_that_never_hides_says_so() -> None:
    found = lesson(BY_NAME["orange"], Settings(coat_cap=4))
    card = contrast_card(found.answer)
    assert "does not reach it within 4 coats" in words.card_words(card, 2)
    assert words.judge_words(card.judges[0], 4).startswith("not within 4 coats")


def test_the_rules_are_told_apart() -> None:
    rows = compare_rules(examples())
    text = words.rules_words(rows)
    assert text.startswith("Matching by lightness works for blue, green,")
    assert "it fails for red, orange and yellow: red 8 coats instead of" in text
    assert "fails" not in words.rules_words([row for row in rows if row.name == "blue"])


QUESTION = ExerciseColour((50.0, 40.0, 20.0), (2, 4, 6, 13, 13), 2, 12)


def test_a_wrong_choice_is_told_its_cost() -> None:
    text = exercise_words.reveal_words(QUESTION, demo_shelf(), 1)
    assert text.startswith("2 coats too many: White N 9 would have been best.")
    assert "Mid grey N 5.5 is closest and costs 4 coats more" in text


def test_a_right_choice_is_told_so() -> None:
    text = exercise_words.reveal_words(QUESTION, demo_shelf(), 0)
    assert text.startswith("Right: no coat too many.")


def test_a_score_is_held_against_the_lightness_match() -> None:
    assert exercise_words.points_words(Score(0, 0, 0, 0, 0)) == "No points yet."
    assert exercise_words.points_words(Score(2, 5, 6, 1, 3)) == (
        "5 of 6 points: 1 coat too many; matching by lightness would have sprayed 3 "
        "too many."
    )


def test_an_own_colour_is_spoken_of_too() -> None:
    found = lesson(Topcoat((30.0, 0.0, 0.0), "own"))
    assert "this dark grey" in words.film_words(found, 1)


def test_lab_is_told_to_a_tenth_without_a_minus_zero() -> None:
    assert lab_words((45.04, -0.04, 35.06)) == "L* 45.0, a* 0.0, b* 35.1"


@pytest.mark.parametrize(
    ("degrees", "word"),
    [(15.0, "face"), (25.0, "face"), (45.0, "halfway"), (75.0, "flop"), (110, "flop")],
)
def test_angles_of_effect_colours_have_names(degrees: float, word: str) -> None:
    """15, 45 and 110 degrees by ASTM E2194; 25 and 75 are common beside them."""
    assert angle_words(degrees) == f"{word} ({degrees:g}°)"
