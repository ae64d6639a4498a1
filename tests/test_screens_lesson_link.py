"""The trainer's pages as links: out and back in, nonsense left out."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shadecore.lesson.guess import MOST_QUESTIONS
from shadecore.question.question import Question
from shadecore.screens.lesson.link import (
    GuessState,
    LessonState,
    guess_parameters,
    lesson_parameters,
    read_answers,
    read_colours,
    read_guess,
    read_lesson,
    write_answers,
    write_colours,
)


def given_(parameters: dict[str, str | None]) -> dict[str, str]:
    return {name: text for name, text in parameters.items() if text is not None}


@pytest.mark.parametrize("state", [LessonState("#c82d35", 5), LessonState()])
def test_a_lesson_comes_back(state: LessonState) -> None:
    assert read_lesson(given_(lesson_parameters(state)), Question()) == state


@pytest.mark.parametrize(
    "state",
    [
        GuessState(17, "0-3-2", own_shelf=True, colours="b22234-1e90ff-00ff00"),
        GuessState(colours="b22234"),
        GuessState(),
    ],
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
    assert read_guess({"seed": seed}) == GuessState(earlier=True)


def test_a_link_of_an_earlier_version_is_known_and_its_answers_left_out() -> None:
    found = read_guess({"seed": "2", "answers": "0-1"})
    assert (found.seed, found.answers, found.earlier) == (2, "", True)
    assert read_guess({"seed": "2", "answers": "0-1", "set": "b22234-zz"}).earlier
    named = read_guess({"seed": "2", "answers": "0-1", "set": "b22234-1e90ff"})
    assert (named.answers, named.earlier) == ("0-1", False)
    assert not read_guess({}).earlier


@given(st.lists(st.from_regex(r"#[0-9a-f]{6}", fullmatch=True), max_size=50))
def test_colours_of_a_set_come_back(colours: list[str]) -> None:
    fits = 1 <= len(colours) <= MOST_QUESTIONS
    assert read_colours(write_colours(tuple(colours))) == tuple(colours if fits else ())


@given(st.text("0123456789abcdefABCDEF-#x", max_size=30))
def test_any_text_gives_colours_or_none(text: str) -> None:
    assert all(len(bytes.fromhex(each[1:])) == 3 for each in read_colours(text))


@given(st.lists(st.integers(0, 4), max_size=8))
def test_answers_come_back(answers: list[int]) -> None:
    text = write_answers(tuple(answers))
    assert read_answers(text, 8, 5) == tuple(answers)


@given(st.text(max_size=40))
def test_any_text_gives_answers_that_can_be(text: str) -> None:
    answers = read_answers(text, 4, 3)
    assert len(answers) <= 4
    assert set(answers) <= {0, 1, 2}
