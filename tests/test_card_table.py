"""Cards from CSV: Lab, Y and spectra, bare areas, and what is wrong by its line."""

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from shadecore.card.card_table import parse_card, write_card
from shadecore.card.reading import (
    DEFAULT_BLACK,
    DEFAULT_WHITE,
    Card,
    Reading,
    Step,
    check_card,
)
from shadecore.colour.condition import Condition
from shadecore.errors import CardError, TableError

SOME = settings(deadline=None, derandomize=True, max_examples=100)
NM = range(400, 701, 10)


def spectra(*rows: tuple[str, str, float]) -> str:
    """A card of flat spectra."""
    lines = [f"area,coats,{','.join(map(str, NM))}"]
    lines += [
        f"{area},{coats},{','.join([str(r)] * len(NM))}" for area, coats, r in rows
    ]
    return "\n".join(lines)


def test_lab() -> None:
    card = parse_card("area,coats,L,a,b\nblack,2,38,48,27\nwhite,2,47,62,37\n", "c")
    (step,) = card.steps
    assert step.coats == 2
    assert step.over_black == pytest.approx((38.0, 48.0, 27.0))
    assert step.over_white == pytest.approx((47.0, 62.0, 37.0))
    assert (card.black, card.white, card.full) == (DEFAULT_BLACK, DEFAULT_WHITE, None)


def test_lightness_alone_is_a_grey() -> None:
    card = parse_card("area,coats,L\nblack,1,38\nwhite,1,47\n", "c")
    assert card.steps[0].over_black == pytest.approx((38.0, 0.0, 0.0))


def test_luminance() -> None:
    card = parse_card("area,coats,Y\nblack,1,12.5\nwhite,1,30\n", "c")
    assert card == Card((Step(1, (12.5,), (30.0,)),))


def test_spectra() -> None:
    card = parse_card(spectra(("black", "1", 0.1), ("white", "1", 0.3)), "c")
    assert card.steps[0].over_black == pytest.approx((0.1,) * len(NM))
    assert card.steps[0].over_white == pytest.approx((0.3,) * len(NM))


def test_bare_areas_and_the_full_paint() -> None:
    text = (
        "area,coats,Y\nblack,0,1\nwhite,0,78\nblack,2,12\nwhite,2,30\nfull,9,22\n"
        "black,4,18\nwhite,4,24\n"
    )
    card = parse_card(text, "c")
    assert card.black == pytest.approx(0.01)
    assert card.white == pytest.approx(0.78)
    assert card.full == (22.0,)
    assert [step.coats for step in card.steps] == [2, 4]


def test_bare_areas_in_any_kind() -> None:
    """L* 50 is 18.4187 percent; a flat 70 percent is 0.7."""
    lines = "\nblack,1,,20\nwhite,1,,40\nblack,0,5,\nwhite,0,90,\n"
    card = parse_card(f"area,coats,L,Y{lines}", "c")
    assert card.white == pytest.approx(0.7630, abs=5e-4)
    bare = spectra(
        ("white", "0", 0.7),
        ("black", "0", 0.01),
        ("black", "1", 0.1),
        ("white", "1", 0.3),
    )
    assert parse_card(bare, "c").white == pytest.approx(0.7)
    assert parse_card(bare, "c").black == pytest.approx(0.01)


def test_an_empty_number_of_coats_is_the_bare_card() -> None:
    card = parse_card("area,coats,Y\nwhite,,70\nblack,1,20\nwhite,1,40\n", "c")
    assert card.white == pytest.approx(0.7)


def test_lab_goes_before_luminance() -> None:
    card = parse_card("area,coats,L,a,b,Y\nblack,1,38,1,2,9\nwhite,1,47,1,2,9\n", "c")
    assert card.steps[0].over_black == pytest.approx((38.0, 1.0, 2.0))


def test_a_reading_of_another_condition_is_carried_over() -> None:
    """A yellow read under C at 2 degrees is not the same under D65 at 10."""
    text = "area,coats,L,a,b\nblack,1,60,5,60\nwhite,1,70,5,70\n"
    here = parse_card(text, "c").steps[0].over_white
    there = parse_card(text, "c", Condition("C", 2, "excluded")).steps[0].over_white
    assert here == pytest.approx((70.0, 5.0, 70.0))
    assert there != pytest.approx(here, abs=0.5)
    assert there == pytest.approx(here, abs=12.0)


@SOME
@given(
    st.permutations(
        [
            "black,1,10",
            "white,1,40",
            "black,3,15",
            "white,3,30",
            "full,,22",
            "white,0,75",
        ]
    )
)
def test_the_order_of_rows_does_not_matter(rows: list[str]) -> None:
    card = parse_card("\n".join(["area,coats,Y", *rows]), "c")
    assert card.steps == (Step(1, (10.0,), (40.0,)), Step(3, (15.0,), (30.0,)))
    assert (card.full, card.white) == ((22.0,), pytest.approx(0.75))


@pytest.mark.parametrize("separator", [";", "\t"])
def test_other_separators_and_capitals(separator: str) -> None:
    text = "Area,Coats,y\nBLACK,1,12\nWhite,1,30\n".replace(",", separator)
    assert parse_card(text, "c") == Card((Step(1, (12.0,), (30.0,)),))


@pytest.mark.parametrize(
    ("rows", "line", "word"),
    [
        (["red,1,30"], 2, "the area 'red' is none of black, white, full"),
        (["black,1,30", "# note", "grey,1,30"], 4, "the area 'grey'"),
        ([",1,30"], 2, "column 'area' is empty"),
        (["black,two,30"], 2, "column 'coats' holds 'two'"),
        (["black,2.5,30"], 2, r"2\.5 coats; give a whole number"),
        (["black,-1,30"], 2, "-1 coats; give a whole number"),
        (["black,1,30", "black,1,31"], 3, "second reading of black at 1 coats"),
        (["full,,30", "full,3,31"], 3, "second reading of full"),
        (["black,1,"], 2, "no reading; give L, a, b, or Y, or a spectrum"),
        (["black,1,x"], 2, "column 'l' holds 'x', which is not a number"),
        (["black,1,450"], 2, "between 0"),
        (["black,1,nan"], 2, "not a number"),
    ],
)
def test_a_bad_row_is_named_by_its_line(rows: list[str], line: int, word: str) -> None:
    with pytest.raises(CardError, match=rf"^card\.csv, line {line}: .*{word}"):
        parse_card("\n".join(["area,coats,L", *rows]), "card.csv")


def test_a_bad_spectrum_is_named_by_its_line() -> None:
    text = "area,coats,400,500,600\nblack,1,0.1,0.1,0.1\n"
    with pytest.raises(CardError, match=r"^c\.csv, line 2: The spectrum"):
        parse_card(text, "c.csv")


@pytest.mark.parametrize(
    ("rows", "word"),
    [
        (["black,2,12"], "no reading over white at 2 coats"),
        (["black,1,12", "white,1,30", "white,3,20"], "over black at 3 coats"),
        (["white,0,75", "black,0,1"], "no readings"),
        ([], "no readings"),
        (["black,1,30", "white,1,10"], "swapped"),
        (["black,0,10", "black,1,12", "white,1,30"], "black must reflect at most 2 %"),
        (["white,0,50", "black,1,12", "white,1,30"], "white 60 % to 100 %"),
        (["black,1,20", "white,1,30", "black,2,10", "white,2,40"], "got thinner"),
    ],
)
def test_a_card_that_cannot_be(rows: list[str], word: str) -> None:
    with pytest.raises(CardError, match=word):
        parse_card("\n".join(["area,coats,Y", *rows]), "c.csv")


def test_a_table_without_areas_is_no_card() -> None:
    with pytest.raises(TableError, match="area"):
        parse_card("coats,L\n1,30\n", "c.csv")


DARK = st.floats(0.0, 0.3)
LIGHT = st.floats(0.0, 0.3).map(lambda more: 0.35 + more)


def readings(level: st.SearchStrategy[float]) -> st.SearchStrategy[Reading]:
    """Readings of each kind about as light as a level."""
    return (
        level.map(lambda y: (100.0 * y,))
        | st.tuples(level.map(lambda y: 100.0 * y), st.floats(-9, 9), st.floats(-9, 9))
        | st.tuples(*[level] * 31)
    )


@st.composite
def cards(draw: st.DrawFn) -> Card:
    coats = draw(st.integers(1, 100))
    step = Step(coats, draw(readings(DARK)), draw(readings(LIGHT)))
    card = Card(
        (step,),
        draw(st.just(DEFAULT_BLACK) | st.floats(0.0, 0.02)),
        draw(st.just(DEFAULT_WHITE) | st.floats(0.75, 1.0)),
        draw(st.none() | readings(LIGHT)),
    )
    try:
        return check_card(card)
    except CardError:
        assume(False)  # noqa: FBT003 - not every draw is a card that can be
        raise


@SOME
@given(cards())
def test_what_is_written_is_read_back_equal(card: Card) -> None:
    assert parse_card(write_card(card), "c") == card


def test_a_card_of_many_steps_and_kinds() -> None:
    flat = tuple(0.1 + n / 300 for n in range(31))
    card = Card(
        (
            Step(1, (8.0,), (58.0, 1.0, -2.0)),
            Step(2, (40.25, 0.1, 0.2), (30.1,)),
            Step(4, flat, (50.0, 0.0, 0.0)),
        ),
        full=flat,
    )
    assert parse_card(write_card(card), "c") == card
    assert write_card(Card((Step(1, (12.5,), (30.0,)),))) == (
        "area,coats,reflectance,Y\nblack,0,0.005,\nwhite,0,0.8,\n"
        "black,1,,12.5\nwhite,1,,30.0\n"
    )


def test_a_reflectance_is_for_the_bare_card_only() -> None:
    with pytest.raises(CardError, match="line 2: no reading; give L, a, b, or Y"):
        parse_card("area,coats,reflectance\nblack,1,0.1\n", "c")


def test_too_many_readings_or_coats() -> None:
    with pytest.raises(CardError, match="101 coats; give a whole number up to 100"):
        parse_card("area,coats,Y\nblack,101,1\n", "c")
