"""The trainer's pages as links: out and back in, nonsense left out."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shadecore.lesson.lesson_link import (
    LESSON_RANGES,
    GuessState,
    LessonState,
    read_answers,
    write_answers,
)
from shadecore.question.link import read_state, to_query

LESSON = LessonState("#c82d35", 5, 1.0, 12.0, "us")
GUESS = GuessState(17, "0-3-2", "name,L\nsnow,92\n")


@pytest.mark.parametrize("state", [LESSON, GUESS, LessonState(), GuessState()])
def test_a_link_brings_the_state_back(state: LessonState | GuessState) -> None:
    assert read_state(to_query(state), type(state), LESSON_RANGES) == state


def test_defaults_are_left_out() -> None:
    assert to_query(LessonState()) == {}
    assert to_query(GuessState(seed=4)) == {"seed": "4"}


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("coats", "99"),
        ("coats", "-1"),
        ("coats", "two"),
        ("tolerance", "nan"),
        ("film_um", "0"),
        ("units", "furlong"),
    ],
)
def test_nonsense_falls_back(name: str, value: str) -> None:
    assert read_state({name: value}, LessonState, LESSON_RANGES) == LessonState()


def test_a_set_that_cannot_be_falls_back() -> None:
    assert read_state({"seed": "-4"}, GuessState, LESSON_RANGES) == GuessState()


@given(st.lists(st.integers(0, 4), max_size=8))
def test_answers_come_back(answers: list[int]) -> None:
    text = write_answers(tuple(answers))
    assert read_answers(text, 8, 5) == tuple(answers)


@given(st.text(max_size=40))
def test_any_text_gives_answers_that_can_be(text: str) -> None:
    answers = read_answers(text, 4, 3)
    assert len(answers) <= 4
    assert set(answers) <= {0, 1, 2}
