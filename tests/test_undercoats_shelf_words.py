"""An undercoat typed in one line."""

import colour
import pytest

from shadecore.errors import ShelfError
from shadecore.undercoats.shelf import lightness_of_value, munsell_value, undercoat
from shadecore.undercoats.shelf_table import demo_shelf
from shadecore.undercoats.shelf_words import (
    undercoat_from_words,
    with_added,
    with_changed,
    words_of_undercoat,
)


@pytest.mark.parametrize(
    ("text", "name", "lightness"),
    [
        ("My white 92", "My white", 92.0),
        ("My white, 92.5", "My white", 92.5),
        ("My white 92,5", "My white", 92.5),
        ("My white L* 92", "My white", 92.0),
        ("Primer 2 L60", "Primer 2", 60.0),
        ("Line 60", "Line", 60.0),
        ("  92 ", "L* 92", 92.0),
        ("l 40", "L* 40", 40.0),
        ("N 9", "N 9", lightness_of_value(9.0)),
        ("Grey N4.5", "Grey N4.5", lightness_of_value(4.5)),
        ("Grey, N 4", "Grey", lightness_of_value(4.0)),
    ],
)
def test_a_grey_is_read_as_a_painter_writes_it(
    text: str, name: str, lightness: float
) -> None:
    found = undercoat_from_words(text)
    assert found.name == name
    assert found.lab == (pytest.approx(lightness), 0.0, 0.0)


def test_a_coloured_one_takes_all_three_values() -> None:
    found = undercoat_from_words("Red oxide, 40 20 15")
    assert found.name == "Red oxide"
    assert found.lab == pytest.approx((40.0, 20.0, 15.0))


@pytest.mark.parametrize("value", [1.0, 4.5, 9.0, 9.5])
def test_lightness_of_a_munsell_value(value: float) -> None:
    """Against colour-science's luminance of ASTM D1535, and back by our own."""
    luminance = colour.notation.munsell.luminance_ASTMD1535(value)
    expected = float(colour.XYZ_to_Lab([0.0, luminance / 100.0, 0.0])[0])
    assert lightness_of_value(value) == pytest.approx(expected, abs=0.01)
    assert munsell_value(lightness_of_value(value)) == pytest.approx(value, abs=0.01)


@pytest.mark.parametrize("text", ["", "My white", "N 11", "My white 120", "Grey N"])
def test_what_no_undercoat_can_be_is_explained(text: str) -> None:
    with pytest.raises(ShelfError) as told:
        undercoat_from_words(text)
    assert len(str(told.value)) <= 300


def test_the_invented_greys_give_way_to_the_first_own_one() -> None:
    one = with_added(demo_shelf(), "My white 92")
    assert [each.name for each in one] == ["My white"]
    two = with_added(one, "My black 25")
    assert [each.name for each in two] == ["My white", "My black"]
    with pytest.raises(ShelfError, match="its own name"):
        with_added(two, "My black 30")


def test_a_new_name_keeps_what_else_is_known() -> None:
    measured = undercoat("Grey", (60.0, 3.0, -4.0), price=30.0, unit="L")
    shelf = (measured, undercoat("White", (92.0, 0.0, 0.0)))
    renamed = with_changed(shelf, "Grey", "Our grey, 60.0 3.0 -4.0")[0]
    assert renamed.name == "Our grey"
    assert renamed.reflectance == measured.reflectance
    lighter = with_changed(shelf, "Grey", "Our grey 70")[0]
    assert (lighter.lightness, lighter.price) == (70.0, 30.0)


@pytest.mark.parametrize("each", [*demo_shelf(), undercoat("Oxide", (40, 20, 15))])
def test_words_are_read_back(each: object) -> None:
    words = words_of_undercoat(each)  # type: ignore[arg-type]
    found = undercoat_from_words(words)
    assert words_of_undercoat(found) == words
