"""The reason for the pick beside the sealer closest in lightness."""

import re
from dataclasses import replace

import numpy as np
import pytest

import shadecore
from shadecore.coats.answer import Count
from shadecore.coats.pick import pick
from shadecore.telling.counts import count_words, number_of
from shadecore.telling.reasons import BANDS, open_band, why
from shadecore.units import percent

SHELF = shadecore.demo_shelf()
RED = pick(shadecore.parse_topcoat("45 60 35"), SHELF)


def test_each_wavelength_lies_in_one_band() -> None:
    assert np.all(np.sum([band.columns for band in BANDS], axis=0) == 1)


@pytest.mark.parametrize("text", ["45 60 35", "40 55 28"])
def test_a_red_stays_open_to_red_light(text: str) -> None:
    """A red pigment film absorbs blue and green and is nearly clear in the red."""
    answer = pick(shadecore.parse_topcoat(text), SHELF)
    assert open_band(answer).name == "red"


def test_one_coat_counted_has_an_open_band_too() -> None:
    single = pick(
        shadecore.parse_topcoat("45 60 35"), SHELF, shadecore.Settings(coat_cap=1)
    )
    assert open_band(single) in BANDS


def test_two_picks_are_explained_by_what_they_reflect() -> None:
    """White, L* 90.2, reflects 77 %, and N 4, L* 40.7, 12 %: CIE 15, Y of L*."""
    assert RED.recommended.undercoat != RED.closest.undercoat
    reason = why(RED)
    for outlook in (RED.recommended, RED.closest):
        red_end = outlook.undercoat.reflectance[19:]
        assert outlook.undercoat.name in reason
        assert percent(sum(red_end) / len(red_end)) in reason
    luminance = [100.0 * ((each + 16.0) / 116.0) ** 3 for each in (90.2, 40.7)]
    assert all(f"{each:.0f} %" in reason for each in luminance)
    counts = f"{count_words(RED.recommended.count)} instead of"
    assert f"{counts} {number_of(RED.closest.count)}." in reason
    assert "red light" in reason


def test_one_pick_for_both_is_said_so() -> None:
    answer = pick(shadecore.parse_topcoat("91 0 4"), SHELF)
    assert answer.recommended.undercoat == answer.closest.undercoat
    reason = why(answer)
    assert answer.closest.undercoat.name in reason
    assert "fewest coats" in reason
    assert not re.search(r"\d+ %", reason)


def at_equal_counts(
    first: tuple[float, ...], second: tuple[float, ...]
) -> shadecore.Answer:
    """Both picks hide in three coats, with these chances."""
    return replace(
        RED,
        **{
            name: replace(getattr(RED, name), count=Count(3, 2, 4, (0.0, 0.2, *chance)))
            for name, chance in (("recommended", first), ("closest", second))
        },
    )


def test_equal_counts_are_told_apart_by_their_chance() -> None:
    reason = why(at_equal_counts((0.86, 0.97), (0.71, 0.97)))
    assert "both need 3 coats" in reason
    assert reason.index("86 %") < reason.index("71 %")


def test_no_chance_is_told_that_speaks_against_the_pick() -> None:
    reason = why(at_equal_counts((0.6, 1.0), (0.7, 0.7)))
    assert "%" not in reason
    averages = [float(each) for each in re.findall(r"\d+\.\d", reason)]
    assert averages == sorted(averages)
    assert len(averages) == 2
    even = why(at_equal_counts((0.6, 0.7), (0.7, 0.7)))
    assert "within the doubt" in even
    assert not re.search(r"\d+ %|\d\.\d", even)


def test_what_hides_nowhere_is_not_said_to_hide() -> None:
    """The same text must not contradict the limit."""
    never = pick(
        shadecore.parse_topcoat("45 60 35"),
        SHELF,
        shadecore.Settings(1.0, coat_cap=1),
    )
    reason = why(never)
    assert "Neither" in reason
    assert "within 1 coat;" in reason
    for each in (never.recommended, never.closest):
        assert f"{each.difference[-1]:.1f}" in reason
    alone = pick(
        shadecore.parse_topcoat("45 60 35"),
        SHELF[-1:],
        shadecore.Settings(1.0, coat_cap=1),
    )
    assert "neither it nor another sealer here hides within 1 coat" in why(alone)
