"""A record of what was seen, in words: the right number, sealer and verdict."""

import pytest

from shadecore.coats.rests_on import RestsOn
from shadecore.coats.seen import Seen
from shadecore.formats.echo import brief
from shadecore.telling.names import grey_words, sealer_name, sealer_words
from shadecore.telling.seen import rests_on_words, seen_words
from shadecore.undercoats.blends import blend
from shadecore.undercoats.shelf import undercoat
from shadecore.undercoats.shelf_table import demo_shelf


@pytest.mark.parametrize(
    ("low", "high", "hid", "number"),
    [
        (4, 4, True, "4 coats"),
        (1, 1, True, "1 coat"),
        (1, 4, True, "up to 4 coats"),
        (2, 3, True, "2 to 3 coats"),
        (1, 3, False, "3 coats"),
        (1, 1, False, "1 coat"),
    ],
)
def test_what_was_seen(low: int, high: int, number: str, *, hid: bool) -> None:
    words = seen_words(low, high, "Mid grey N 5.5", hid=hid)
    assert words.startswith(f"{number} over Mid grey N 5.5 ")
    assert ("did not hide" in words) == (not hid)


@pytest.mark.parametrize(
    ("source", "word"),
    [("data-sheet", "data sheet"), ("check", "black and white"), ("card", "test card")],
)
def test_its_source_is_named_and_no_sealer_where_none_was(
    source: str, word: str
) -> None:
    words = seen_words(2, 3, source=source)
    assert words.endswith(f"{word})")
    assert "over" not in words


def test_an_open_end_and_a_painter_who_did_not_look() -> None:
    assert seen_words(4, None, "Grey").startswith("4 or more coats over Grey hid")
    unseen = seen_words(4, 4, "Grey", looked=False)
    assert unseen.startswith("4 coats over Grey hid")
    assert "nobody looked" in unseen
    # One coat cannot have been fewer, and what did not hide was looked at.
    assert "nobody" not in seen_words(1, 1, looked=False)
    assert "nobody" not in seen_words(1, 3, hid=False, looked=False)


def test_a_contradicted_record_is_named() -> None:
    record = Seen("job", 1, 3, hid=False)
    said = rests_on_words(RestsOn(record, 3, 6, 4, 9, contradicts=True), 12)
    assert said.count(seen_words(1, 3, hid=False)) == 1
    assert "does not fit the other records" in said


def test_a_sealer_is_told_by_name_and_by_what_was_measured() -> None:
    """L* 90.2 is N 9 by ASTM D1535: 0.2 of a Munsell step is 0.02 in V."""
    white, *_, dark = demo_shelf()
    assert sealer_words(white) == f"{white.name} (L* 90.2, N 9.0)"
    assert sealer_name(white) == white.name
    mixed = blend(white, dark, (1, 1))
    assert sealer_name(mixed) == "the mix of two sealers"
    assert white.name in sealer_words(mixed)
    assert grey_words(50.0).startswith("L* 50.0, N 4.9")


def test_a_long_name_is_cut_in_one_line() -> None:
    long = undercoat("n" * 300, (50.0, 0.0, 0.0))
    assert len(brief(long.name)) == 48
    assert brief(long.name).endswith("…")
    assert len(sealer_words(long)) < 80
