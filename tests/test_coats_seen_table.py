"""Records of what was seen: as a painter says them, and as a file holds them."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from questions import NAME, SEEN

from shadecore.coats.seen import Seen
from shadecore.coats.seen_table import (
    Noted,
    parse_seen,
    parse_took,
    write_seen,
)
from shadecore.errors import SettingError, ShadecoreError, ShelfError
from shadecore.undercoats.shelf import undercoat
from shadecore.undercoats.shelf_table import demo_shelf

SHELF = demo_shelf()
WHITE = SHELF[0]
HEAD = "code,source,undercoat,coats_low,coats_high,hid"


@pytest.mark.parametrize(
    ("said", "record"),
    [
        ("4 over White N 9", Seen("job", 4, 4, undercoat=WHITE)),
        ("4 coats over White N 9", Seen("job", 4, 4, undercoat=WHITE)),
        ("2 to 3", Seen("data-sheet", 2, 3)),
        ("2-3 coats", Seen("data-sheet", 2, 3)),
        ("Up to 4 over White N 9", Seen("job", 1, 4, undercoat=WHITE)),
        (
            "more than 3 over White N 9",
            Seen("job", 1, 3, hid=False, undercoat=WHITE),
        ),
    ],
)
def test_what_a_painter_says(said: str, record: Seen) -> None:
    assert parse_took(said, SHELF) == record


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("", "cannot be read"),
        ("four", "cannot be read"),
        ("4 over", "cannot be read"),
        ("over White N 9", "cannot be read"),
        ("4 over Pink", "'Pink' is not on the shelf"),
        ("0 over White N 9", "between 1 and 50"),
        ("99", "between 1 and 50"),
        ("5 to 2", "its fewest"),
        ("9" * 5000, "cannot be read"),
    ],
)
def test_what_cannot_be_meant_is_one_sentence(said: str, told: str) -> None:
    with pytest.raises(ShadecoreError, match=told) as caught:
        parse_took(said, SHELF)
    assert len(str(caught.value)) <= 300


@settings(
    deadline=None,
    derandomize=True,
    max_examples=40,
    suppress_health_check=[HealthCheck.too_slow],
)
@given(st.lists(st.tuples(NAME, SEEN), max_size=4))
def test_records_come_back(records: list[tuple[str, Seen]]) -> None:
    noted = tuple(Noted(code, seen) for code, seen in records)
    assert parse_seen(write_seen(noted), "records", ()) == noted


def test_a_file_as_a_painter_writes_it() -> None:
    rows = [
        HEAD + ",undercoat_L",
        "r1,job,White N 9,3,4,,",
        "r1,job,old paint,,2,no,55",
        "r2,data-sheet,,2,3,yes,",
        "r2,check,,,3,,",
    ]
    found = parse_seen("\n".join(rows), "seen.csv", SHELF)
    assert found == (
        Noted("r1", Seen("job", 3, 4, undercoat=WHITE)),
        Noted(
            "r1",
            Seen("job", 1, 2, hid=False, undercoat=undercoat("old paint", (55, 0, 0))),
        ),
        Noted("r2", Seen("data-sheet", 2, 3)),
        Noted("r2", Seen("check", 1, 3)),
    )


@pytest.mark.parametrize(
    ("row", "told"),
    [
        ("r1,guess,,2,3,", "source 'guess' is none of"),
        ("r1,job,Pink,2,3,", "'Pink' is not on the shelf"),
        ("r1,job,White N 9,2.5,3,", "whole number of coats"),
        ("r1,job,White N 9,4,3,", "its fewest"),
        ("r1,job,White N 9,2,3,perhaps", "write yes or no"),
        ("r1,job,White N 9,2,,no", "did not hide needs the coats"),
    ],
)
def test_a_row_that_cannot_be_used_is_named(row: str, told: str) -> None:
    with pytest.raises(SettingError, match=told) as caught:
        parse_seen(f"{HEAD}\n{row}\n", "seen.csv", SHELF)
    assert str(caught.value).startswith("seen.csv, line 2: ")


def test_the_shelf_is_named_where_it_lacks_an_undercoat() -> None:
    with pytest.raises(ShelfError, match="White N 9"):
        parse_took("3 over Wite N 9", SHELF)
