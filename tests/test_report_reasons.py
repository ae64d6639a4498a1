"""Counts and intervals in words, and the reason for the two picks."""

from dataclasses import replace

import numpy as np
import pytest

import shadecore
from shadecore.telling.reasons import (
    BANDS,
    coats_in_words,
    interval_in_brief,
    interval_in_words,
    open_band,
    why,
)

SHELF = shadecore.demo_shelf()
RED = shadecore.pick(shadecore.parse_topcoat("45 60 35"), SHELF)


def outlook(coats: int | None, low: int | None, high: int | None) -> shadecore.Outlook:
    """Outlook over 12 coats with the given count and interval."""
    own = RED.recommended
    return replace(own, count=replace(own.count, coats=coats, low=low, high=high))


@pytest.mark.parametrize(
    ("coats", "words"), [(1, "1 coat"), (2, "2 coats"), (None, "over 12 coats")]
)
def test_counts_in_words(coats: int | None, words: str) -> None:
    assert coats_in_words(outlook(coats, coats, coats)) == words


@pytest.mark.parametrize(
    ("low", "high", "words", "brief"),
    [
        (2, 5, "2 to 5", "2-5"),
        (3, 3, "3", "3"),
        (4, None, "4 to over 12", "4->12"),
        (None, None, "over 12", ">12"),
        (12, 12, "12", "12"),
    ],
)
def test_intervals_in_words(
    low: int | None, high: int | None, words: str, brief: str
) -> None:
    assert interval_in_words(outlook(None, low, high)) == words
    assert interval_in_brief(outlook(None, low, high)) == brief


def test_each_wavelength_lies_in_one_band() -> None:
    assert np.all(np.sum([band.columns for band in BANDS], axis=0) == 1)


@pytest.mark.parametrize("text", ["45 60 35", "40 55 28"])
def test_a_red_stays_open_to_red_light(text: str) -> None:
    """A red pigment film absorbs blue and green and is nearly clear in the red."""
    answer = shadecore.pick(shadecore.parse_topcoat(text), SHELF)
    assert open_band(answer).name == "red"


def test_one_coat_counted_has_an_open_band_too() -> None:
    single = shadecore.pick(
        shadecore.parse_topcoat("45 60 35"), SHELF, shadecore.Settings(coat_cap=1)
    )
    assert open_band(single) in BANDS


def test_two_picks_are_explained_by_what_they_throw_back() -> None:
    assert RED.recommended.undercoat != RED.closest.undercoat
    reason = why(RED)
    for pick in (RED.recommended, RED.closest):
        red_end = pick.undercoat.reflectance[19:]
        assert pick.undercoat.name in reason
        assert f"{sum(red_end) / len(red_end):.0%}" in reason
        assert coats_in_words(pick) in reason
    assert "red light" in reason
    assert reason.endswith(".")


def test_one_pick_for_both_is_said_so() -> None:
    answer = shadecore.pick(shadecore.parse_topcoat("91 0 4"), SHELF)
    assert answer.recommended.undercoat == answer.closest.undercoat
    reason = why(answer)
    assert answer.closest.undercoat.name in reason
    assert "closest in lightness" in reason
    assert "light," not in reason
