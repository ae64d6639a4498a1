"""The exercise: fair, reproducible, and a score that rewards few coats."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shadecore.coats.pick import pick
from shadecore.coats.settings import Settings
from shadecore.colour.appearance import colour_difference
from shadecore.colour.convert import lab_from_srgb
from shadecore.colour.topcoat import Topcoat
from shadecore.errors import SettingError, ShelfError
from shadecore.lesson.guess import (
    LARGEST_SEED,
    POINTS,
    Exercise,
    ExerciseColour,
    colours_of,
    draw_exercise,
    exercise_of_colours,
    score,
)
from shadecore.telling.exercise_words import names_of
from shadecore.undercoats.shelf import undercoat
from shadecore.undercoats.shelf_table import demo_shelf

SETS = {seed: draw_exercise(seed) for seed in (0, 1, 2)}
CAP = 12


@pytest.mark.parametrize("seed", SETS)
def test_both_kinds_come_up_equally_often(seed: int) -> None:
    questions = SETS[seed].questions
    assert len(questions) == 8
    assert sum(each.lightness_works for each in questions) == 4


def test_the_same_seed_gives_the_same_set_another_seed_another() -> None:
    assert draw_exercise(1) == SETS[1]
    assert SETS[1].questions != SETS[2].questions


@pytest.mark.parametrize("seed", SETS)
def test_a_set_is_made_again_of_its_colours_by_whichever_version(seed: int) -> None:
    """Each is a colour of eight bits, as IEC 61966-2-1 encodes it."""
    colours = colours_of(SETS[seed])
    assert exercise_of_colours(seed, colours) == SETS[seed]
    code = [int(colours[0][place : place + 2], 16) / 255 for place in (1, 3, 5)]
    lab = lab_from_srgb(np.array(code))
    assert SETS[seed].questions[0].lab == pytest.approx(tuple(lab))
    # Another version may draw others as the same set; a link's own stay.
    other = exercise_of_colours(seed, colours[::-1])
    assert [each.lab for each in other.questions] == [
        each.lab for each in SETS[seed].questions[::-1]
    ]


def test_the_kinds_are_shuffled() -> None:
    orders = {
        tuple(each.lightness_works for each in one.questions) for one in SETS.values()
    }
    assert len(orders) > 1


@pytest.mark.parametrize("place", range(8))
def test_costs_are_those_of_the_pick(place: int) -> None:
    exercise = SETS[1]
    question = exercise.questions[place]
    answer = pick(Topcoat(question.lab, "drawn"), demo_shelf(), Settings())
    costs = {each.undercoat.name: each.coats or CAP + 1 for each in answer.outlooks}
    names = [each.name for each in exercise.undercoats]
    assert [costs[name] for name in names] == list(question.coats)
    assert names[question.lightness_choice] == answer.closest.undercoat.name


def test_the_choice_always_matters() -> None:
    for one in SETS.values():
        for question in one.questions:
            assert max(question.coats) - min(question.coats) >= 2


def test_an_own_shelf_may_be_chosen_from() -> None:
    shelf = (
        undercoat("snow", (92, 0, 0)),
        undercoat("stone", (55, 0, 0)),
        undercoat("soot", (22, 0, 0)),
    )
    exercise = draw_exercise(3, shelf, size=4)
    assert exercise.undercoats == shelf
    assert {len(each.coats) for each in exercise.questions} == {3}
    kinds = [each.lightness_works for each in exercise.questions]
    assert kinds.count(True) == kinds.count(False) > 0


def test_one_undercoat_leaves_nothing_to_guess() -> None:
    with pytest.raises(ShelfError, match="put a white"):
        draw_exercise(1, demo_shelf()[:1])


@pytest.mark.parametrize("seed", [-1, LARGEST_SEED + 1])
def test_a_seed_outside_its_range_is_refused(seed: int) -> None:
    with pytest.raises(SettingError, match="number of the set"):
        draw_exercise(seed)


@pytest.mark.parametrize("size", [0, 3, 42])
def test_an_unfair_size_is_refused(size: int) -> None:
    with pytest.raises(SettingError, match="even number"):
        draw_exercise(1, size=size)


questions = st.lists(
    st.lists(st.integers(1, CAP + 1), min_size=5, max_size=5), min_size=1, max_size=8
)
choices = st.lists(st.integers(0, 4), max_size=8)


def _exercise(coats: list[list[int]]) -> Exercise:
    return Exercise(
        0,
        demo_shelf(),
        tuple(ExerciseColour((50.0, 0.0, 0.0), tuple(each), 2, CAP) for each in coats),
    )


@given(questions, choices)
def test_a_score_stays_within_its_bounds(
    coats: list[list[int]], taken: list[int]
) -> None:
    exercise = _exercise(coats)
    answers = taken[: len(coats)]
    found = score(exercise, answers)
    assert found.answered == len(answers)
    assert 0 <= found.points <= found.most == POINTS * len(answers)
    assert found.extra >= 0
    assert (found.points == found.most) == (found.extra == 0)


@given(questions)
def test_the_best_choices_win_everything(coats: list[list[int]]) -> None:
    exercise = _exercise(coats)
    best = [each.index(min(each)) for each in coats]
    assert score(exercise, best).points == POINTS * len(coats)


@given(questions, st.integers(0, 4), st.integers(0, 4))
def test_more_coats_never_win_more_points(
    coats: list[list[int]], one: int, other: int
) -> None:
    question = _exercise(coats).questions[0]
    if question.coats[one] < question.coats[other]:
        assert question.points(one) >= question.points(other)


@given(questions)
def test_matching_by_lightness_scores_as_it_is_said_to(
    coats: list[list[int]],
) -> None:
    exercise = _exercise(coats)
    by_lightness = [each.lightness_choice for each in exercise.questions]
    found = score(exercise, by_lightness)
    assert found.extra == found.extra_by_lightness


def test_lightness_alone_never_wins_everything() -> None:
    for one in SETS.values():
        found = score(one, [each.lightness_choice for each in one.questions])
        assert found.points < found.most


def test_no_constant_answer_comes_near_to_thinking() -> None:
    """Thinking wins everything; the same undercoat every time little more than half."""
    for one in SETS.values():
        most = POINTS * len(one.questions)
        constant = [
            score(one, [place] * len(one.questions)).points
            for place in range(len(one.undercoats))
        ]
        by_lightness = [each.lightness_choice for each in one.questions]
        assert max(constant) <= 0.6 * most
        assert max(constant) <= score(one, by_lightness).points
        assert len({min(each.best) for each in one.questions}) >= 4


def test_the_colours_of_a_set_differ_and_have_names_of_their_own() -> None:
    for one in SETS.values():
        names = names_of(one)
        assert len(set(names)) == len(names) == len(one.questions)
        labs = np.array([each.lab for each in one.questions])
        pairs = colour_difference(labs[:, None], labs[None])
        assert pairs[~np.eye(len(labs), dtype=bool)].min() > 10


def test_answers_that_cannot_be_are_refused() -> None:
    exercise = _exercise([[1, 2, 3, 4, 5]])
    with pytest.raises(SettingError, match="2 answers"):
        score(exercise, [0, 0])
    with pytest.raises(SettingError, match="from 0 to 4"):
        score(exercise, [5])
