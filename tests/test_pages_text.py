"""The answer as lines for a terminal."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shadecore.pages.tables import WIDTH
from shadecore.telling.text import answer_text

import shadecore
from shadecore.telling.reasons import coats_in_words, why
from shadecore.undercoats.shelf import Shelf
from shadecore.units import UNITS

SHELF = shadecore.demo_shelf()
BLENDS = shadecore.shelf_blends(SHELF)


def answer(
    text: str, shelf: Shelf = SHELF, **given_settings: float
) -> shadecore.Answer:
    return shadecore.pick(
        shadecore.parse_topcoat(text),
        shelf,
        shadecore.Settings(**given_settings),  # type: ignore[arg-type]
    )


def running(text: str) -> str:
    """The text with its line breaks and indents taken out."""
    return " ".join(text.split())


@given(
    st.floats(25.0, 99.0),
    st.floats(-60.0, 70.0),
    st.floats(-60.0, 90.0),
    st.sampled_from([(), BLENDS]),
    st.sampled_from([1, 3, 12, 50]),
)
@settings(derandomize=True, deadline=None, max_examples=40)
def test_no_line_is_wider_than_a_terminal(
    lightness: float, a: float, b: float, blends: Shelf, cap: int
) -> None:
    found = shadecore.pick(
        shadecore.parse_topcoat(f"{lightness} {a} {b}"),
        SHELF,
        shadecore.Settings(coat_cap=cap),
        blends=blends,
    )
    lines = answer_text(found).splitlines()
    assert max(map(len, lines)) <= WIDTH == 79
    assert all(line == line.rstrip() for line in lines)


@pytest.mark.parametrize("name", ["x" * 200, "a long name of many words " * 6, "Ω"])
def test_names_of_any_length_fit(name: str) -> None:
    shelf = (
        shadecore.undercoat(name.strip(), (90.0, 0.0, 0.0)),
        shadecore.undercoat("Dark", (40.0, 0.0, 0.0)),
    )
    text = answer_text(answer("45 60 35", shelf))
    assert max(map(len, text.splitlines())) <= WIDTH


def test_both_picks_the_reason_and_the_doubts_are_there() -> None:
    found = answer("45 60 35")
    text = running(answer_text(found))
    for pick in (found.recommended, found.closest):
        assert f"{pick.undercoat.name} (L* {pick.undercoat.lightness:.1f})" in text
        assert coats_in_words(pick) in text
    assert why(found) in text
    for flag in found.flags:
        assert f"{flag.headline}. {flag.advice}" in text


def test_it_says_what_it_rests_on_and_how_to_stay_safe() -> None:
    text = running(answer_text(answer("45 60 35")))
    for word in ("test card", "data sheet", "isocyanates", "ventilate", "modelled"):
        assert word in text
    assert "tolerance 2 CIEDE2000" in text
    assert "10 µm dry film a coat" in text
    assert "up to 12 coats" in text


def test_a_row_for_each_undercoat_best_first() -> None:
    found = answer("45 60 35")
    lines = answer_text(found).splitlines()
    names = [each.undercoat.name for each in found.outlooks]
    rows = [line for line in lines if any(line.startswith(name) for name in names)]
    assert len(rows) == len(SHELF)
    for row, each in zip(rows, found.outlooks, strict=True):
        assert row.startswith(each.undercoat.name)
        cells = row[len(each.undercoat.name) :].split()
        assert cells[0] == f"{each.undercoat.lightness:.0f}"
        assert cells[1] == ("-" if each.coats is None else str(each.coats))
        assert cells[3:8] == [f"{left:.1f}" for left in each.difference[:5]]


@pytest.mark.parametrize("cap", [1, 4, 12])
def test_no_more_columns_than_coats_counted(cap: int) -> None:
    text = answer_text(answer("45 60 35", coat_cap=cap))
    heading = next(line for line in text.splitlines() if "L*  coats" in line)
    numbers = [int(each) for each in heading.split() if each.isdecimal()]
    assert numbers == [90, *range(1, min(cap, 5) + 1)]


def test_what_never_hides_shows_a_dash_and_no_amount() -> None:
    found = answer("45 60 35", coat_cap=1, tolerance=1.0)
    assert all(each.coats is None for each in found.outlooks)
    row = next(
        line
        for line in answer_text(found).splitlines()
        if line.startswith("Near-black N 2.5")
    )
    assert row.split()[-1] == "-"
    assert ">1" in row


def test_us_units_change_films_and_amounts_only() -> None:
    found = answer("45 60 35")
    metric, us = answer_text(found), answer_text(found, UNITS["us"])
    assert "µm" in metric
    assert "ml/m²" in metric
    assert "mil dry film a coat" in running(us)
    assert "fl oz/ft²" in us
    assert "µm" not in us
    assert "ml/m²" not in us
    # 30 um is 1.18 mil, 10 um 0.39 mil.
    assert "at 1.18 mil" in running(us)
    assert "0.39 mil" in running(us)


def test_the_text_ends_in_one_line_break() -> None:
    text = answer_text(answer("9 0 -1"))
    assert text.endswith("\n")
    assert not text.endswith("\n\n")


def test_many_colours_show_no_number_that_is_none() -> None:
    rng = np.random.default_rng(3)
    for lightness, a, b in rng.uniform((2, -50, -50), (98, 60, 80), (15, 3)):
        text = answer_text(answer(f"{lightness} {a} {b}")).lower()
        assert " nan" not in text
        assert " inf" not in text.replace("info", "")
        assert "none" not in text
