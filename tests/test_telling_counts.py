"""One count reads the same everywhere, and says no more than it knows."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.coats.answer import Count
from shadecore.telling.counts import (
    SURE,
    average_coats,
    chance_by,
    coats_words,
    count_words,
    interval_words,
    narrow_number,
    narrowed_words,
    number_of,
    number_words,
    plan_words,
    range_words,
    sure_words,
)
from shadecore.telling.numbers import beside_limit, chance_words, listed
from shadecore.units import percent

SOME = settings(deadline=None, derandomize=True, max_examples=200)
EVEN = tuple(n / 12 for n in range(1, 13))


def count(coats: int | None, low: int | None, high: int | None) -> Count:
    """A count over 12 coats."""
    return Count(coats, low, high, EVEN)


@st.composite
def counts(draw: st.DrawFn) -> Count:
    """Any count whose middle lies in its interval."""
    cap = draw(st.integers(1, 50))
    ends = sorted(draw(st.lists(st.integers(1, cap + 1), min_size=3, max_size=3)))
    low, middle, high = (each if each <= cap else None for each in ends)
    chance = sorted(
        draw(st.lists(st.floats(0.0, 1.0), min_size=cap, max_size=cap)),
    )
    return Count(middle, low, high, tuple(chance))


@pytest.mark.parametrize(
    ("coats", "words"), [(0, "0 coats"), (1, "1 coat"), (2, "2 coats")]
)
def test_the_noun_agrees(coats: int, words: str) -> None:
    assert coats_words(coats) == words


def test_a_count_for_a_narrow_column_is_as_true_as_the_words() -> None:
    assert narrow_number(count(3, 2, 5)) == "3"
    assert narrow_number(count(None, 9, None)) == ">12"


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        (2, 5, "2 to 5"),
        (3, 3, "3"),
        (4, None, "4 to over 12"),
        (None, None, "over 12"),
        (12, 12, "12"),
    ],
)
def test_intervals(low: int | None, high: int | None, words: str) -> None:
    assert interval_words(count(None, low, high)) == words
    assert range_words(low, 13 if high is None else high, 12) == (
        words if low is not None or high is not None else "over 12"
    )


@SOME
@given(counts())
def test_beyond_the_cap_has_one_form(one: Count) -> None:
    beyond = f"over {one.cap}"
    for told, value in (
        (number_of(one), one.coats),
        (number_words(one.coats, one.cap), one.coats),
        (count_words(one).removesuffix("s").removesuffix(" coat"), one.coats),
        (interval_words(one).split(" to ")[0], one.low),
        (interval_words(one).split(" to ")[-1], one.high),
    ):
        assert told == (beyond if value is None else str(value))
        assert ">" not in told


@SOME
@given(counts())
def test_the_interval_stands_beside_the_count(one: Count) -> None:
    assert sure_words(one) == f"{count_words(one)} ({SURE}: {interval_words(one)})"


@SOME
@given(counts())
def test_a_plan_names_the_middle_and_the_end_and_no_other_number(one: Count) -> None:
    numbers = [int(each) for each in re.findall(r"\d+", plan_words(one))]
    if one.coats is None:
        assert numbers == [one.cap]
        assert "do not plan" in plan_words(one)
    elif one.high is None:
        assert numbers == [one.coats, one.cap]
        assert "test card" in plan_words(one)
    else:
        assert numbers == [one.coats, one.high]


def test_the_plan_of_a_usual_count() -> None:
    assert plan_words(count(4, 3, 6)) == "Plan 4 coats, have paint for 6."


def test_chances_are_never_told_as_certain() -> None:
    assert chance_words(0.86) == "86 %"
    assert chance_words(1.0) == "over 99 %"
    assert chance_words(0.0) == "under 1 %"
    assert percent(1.0) == "100 %"


def test_the_chance_by_a_coat() -> None:
    assert chance_by(count(6, 2, 11), 6) == "50 %"
    assert chance_by(count(None, None, None), None) == ""


def test_the_average_counts_the_cap_and_one_more() -> None:
    """Certain at coat 2 of 4: the mean is 2; never: 5."""
    assert average_coats(Count(2, 2, 2, (0.0, 1.0, 1.0, 1.0))) == 2.0
    assert average_coats(Count(None, None, None, (0.0,) * 4)) == 5.0


@pytest.mark.parametrize(
    ("before", "after", "words"),
    [
        ((2, 7), (3, 4), "from 2 to 7 down to 3 to 4"),
        ((2, 7), (2, 7), "2 to 7 as before"),
        ((2, 4), (6, 9), "2 to 4 before, 6 to 9 now"),
        ((3, None), (3, 5), "from 3 to over 12 down to 3 to 5"),
    ],
)
def test_what_a_record_narrowed(
    before: tuple[int, int | None], after: tuple[int, int | None], words: str
) -> None:
    assert narrowed_words(before, after, 12) == words


@SOME
@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.integers(0, 3))
def test_a_number_stands_on_its_side_of_the_limit(
    value: float, limit: float, decimals: int
) -> None:
    told = float(beside_limit(value, limit, decimals))
    if abs(value - limit) > 1e-4:
        assert (told > limit) == (value > limit)
        assert (told < limit) == (value < limit)


def test_lists() -> None:
    assert listed(["a"]) == "a"
    assert listed(["a", "b"], "or") == "a or b"
    assert listed(["a", "b", "c"]) == "a, b and c"
