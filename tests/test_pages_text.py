"""Documents, and the answer first of all, as lines for a terminal."""

from collections import Counter

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import shadecore
from shadecore.coats.pick import pick
from shadecore.pages.answer_page import answer_page
from shadecore.pages.blocks import (
    Cell,
    Document,
    Section,
    Swatch,
    Swatches,
    Table,
    Text,
)
from shadecore.pages.text_layout import WIDEST_CELL, WIDTH, block_text, document_text
from shadecore.question.question import Question
from shadecore.telling.counts import (
    count_words,
    interval_words,
    number_of,
    plan_words,
)
from shadecore.telling.flag_words import warning_words
from shadecore.telling.names import sealer_words
from shadecore.telling.reasons import why
from shadecore.undercoats.shelf import Shelf
from shadecore.units import UNITS, Units

SHELF = shadecore.demo_shelf()
CELL = st.text(st.characters(categories=["L", "N", "P"]), max_size=60)
BLENDS = shadecore.shelf_blends(SHELF)


def answer(
    text: str, shelf: Shelf = SHELF, **given_settings: float
) -> shadecore.Answer:
    return pick(
        shadecore.parse_topcoat(text),
        shelf,
        shadecore.Settings(**given_settings),  # type: ignore[arg-type]
    )


def answer_text(found: shadecore.Answer, units: Units = UNITS["metric"]) -> str:
    """The answer as it stands on a terminal."""
    name = next(name for name, each in UNITS.items() if each == units)
    question = Question(found.topcoat.entered, units=name)
    return document_text(answer_page(question, found))


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
    found = pick(
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
    for each in (found.recommended, found.closest):
        assert sealer_words(each.undercoat) in text
        assert count_words(each.count) in text
        assert f"90 %: {interval_words(each.count)}" in text
    assert plan_words(found.recommended.count) in text
    assert why(found) in text
    for flag in found.flags:
        assert warning_words(flag) in text


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
        cells = " ".join(row[len(each.undercoat.name) :].split())
        left = " ".join(f"{left:.1f}" for left in each.difference[:4])
        count = f"{number_of(each.count)} {interval_words(each.count)}"
        assert cells.startswith(f"{each.undercoat.lightness:.0f} {count} {left} ")


def test_what_never_hides_has_no_amount() -> None:
    found = answer("45 60 35", coat_cap=1, tolerance=1.0)
    assert all(each.coats is None for each in found.outlooks)
    row = next(
        line
        for line in answer_text(found).splitlines()
        if line.startswith("Near-black N 2.5")
    )
    assert row.split()[-1] == "-"
    assert row.count("over 1") == 2


def test_us_units_change_films_and_amounts_only() -> None:
    found = answer("45 60 35")
    metric, us = answer_text(found), answer_text(found, UNITS["us"])
    assert "µm" in metric
    assert "ml/m²" in metric
    assert "mil dry film a coat" in running(us)
    assert "fl oz/ft²" in running(us)
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


@settings(derandomize=True, deadline=None, max_examples=100)
@given(st.lists(st.tuples(CELL, CELL, CELL), min_size=1, max_size=5))
def test_columns_of_a_table_stand_below_each_other(
    rows: list[tuple[str, str, str]],
) -> None:
    table = Table(("One", "Two", "Three"), tuple(rows), frozenset({1}))
    lines = block_text(table).splitlines()
    assert len(lines) == len(rows) + 1
    widths = [
        min(WIDEST_CELL, max(len(head), *(len(row[i]) for row in rows)))
        for i, head in enumerate(table.headings)
    ]
    for line, cells in zip(lines, (table.headings, *rows), strict=True):
        assert len(line) <= sum(widths) + 4
        shown = [
            cell if len(cell) <= WIDEST_CELL else cell[: WIDEST_CELL - 1] + "…"
            for cell in cells
        ]
        wanted = (
            shown[0].ljust(widths[0]),
            shown[1].rjust(widths[1]),
            shown[2].ljust(widths[2]),
        )
        assert line == "  ".join(wanted).rstrip()


@settings(derandomize=True, deadline=None, max_examples=100)
@given(
    st.integers(1, 12).flatmap(
        lambda columns: st.lists(
            st.lists(CELL, min_size=columns, max_size=columns).map(tuple),
            min_size=1,
            max_size=6,
        )
    ),
    st.sets(st.integers(0, 11)),
)
def test_no_table_is_wider_than_a_terminal(
    rows: list[tuple[str, ...]], numbers: set[int]
) -> None:
    """Every letter of every cell is there; what is too wide goes on below."""
    heads = tuple(f"Heading {i}" for i in range(len(rows[0])))
    lines = block_text(Table(heads, tuple(rows), frozenset(numbers))).splitlines()
    assert max(map(len, lines)) <= 79
    shown = [
        cell if len(cell) <= WIDEST_CELL else cell[: WIDEST_CELL - 1] + "…"
        for cell in rows[0]
    ]
    letters = Counter("".join(lines))
    assert not Counter("".join("".join(shown).split())) - letters


def test_a_document_says_all_that_is_in_it() -> None:
    swatch = Swatch((50.0, 0.0, 0.0), "Topcoat", "L* 50.0")
    table = Table(
        ("Done", Cell("Step", note="in order")),
        ((Cell(ticked=True), "Wash"), (Cell(ticked=False), Cell("Seal", note="once"))),
        note="Read the data sheet.",
    )
    found = Document(
        "Door",
        "from Monday",
        (Swatches((swatch,)), Text("Closed.", "Shop")),
        (Section("Steps", (table,)),),
        "Do not spray",
    )
    lines = document_text(found).splitlines()
    assert lines[0] == "DO NOT SPRAY"
    wanted = (
        *("Door", "from Monday", "Topcoat     L* 50.0", "Shop        Closed."),
        *("Steps", "Done  Step (in order)", "[x]   Wash", "[ ]   Seal (once)"),
        "Read the data sheet.",
    )
    places = [lines.index(each) for each in wanted]
    assert places == sorted(places)
