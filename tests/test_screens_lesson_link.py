"""The trainer's pages as links: out and back in, nonsense left out."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shadecore.question.question import Question
from shadecore.screens.lesson.link import (
    GuessState,
    LessonState,
    guess_parameters,
    lesson_parameters,
    read_answers,
    read_guess,
    read_lesson,
    write_answers,
)


def given_(parameters: dict[str, str | None]) -> dict[str, str]:
    return {name: text for name, text in parameters.items() if text is not None}


@pytest.mark.parametrize("state", [LessonState("#c82d35", 5), LessonState()])
def test_a_lesson_comes_back(state: LessonState) -> None:
    assert read_lesson(given_(lesson_parameters(state)), Question()) == state


@pytest.mark.parametrize(
    "state", [GuessState(17, "0-3-2", own_shelf=True), GuessState()]
)
def test_an_exercise_comes_back(state: GuessState) -> None:
    assert read_guess(given_(guess_parameters(state))) == state


def test_what_is_usual_is_left_out() -> None:
    assert given_(lesson_parameters(LessonState())) == {}
    assert given_(guess_parameters(GuessState(seed=4))) == {"seed": "4"}


def test_the_painters_colour_comes_along() -> None:
    painters = Question("#c82d35")
    assert read_lesson({}, painters).colour == "#c82d35"
    assert read_lesson({"lesson": "48 0 0"}, painters).colour == "48 0 0"


@pytest.mark.parametrize("coats", ["99", "-1", "two", "²", "1" * 5000])
def test_coats_that_cannot_be_fall_back(coats: str) -> None:
    assert read_lesson({"coats": coats}, Question()) == LessonState()


@pytest.mark.parametrize("seed", ["-4", "99999999999", "x"])
def test_a_set_that_cannot_be_falls_back(seed: str) -> None:
    assert read_guess({"seed": seed}) == GuessState()


@given(st.lists(st.integers(0, 4), max_size=8))
def test_answers_come_back(answers: list[int]) -> None:
    text = write_answers(tuple(answers))
    assert read_answers(text, 8, 5) == tuple(answers)


@given(st.text(max_size=40))
def test_any_text_gives_answers_that_can_be(text: str) -> None:
    answers = read_answers(text, 4, 3)
    assert len(answers) <= 4
    assert set(answers) <= {0, 1, 2}
