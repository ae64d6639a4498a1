"""A shelf changed by a typed line."""

import pytest

from shadecore.errors import ShelfError
from shadecore.undercoats.grey_text import read_greys
from shadecore.undercoats.shelf import Undercoat, undercoat
from shadecore.undercoats.shelf_table import demo_shelf
from shadecore.undercoats.shelf_words import (
    with_added,
    with_changed,
    words_of_undercoat,
)


def test_the_invented_greys_give_way_to_the_first_own_one() -> None:
    one = with_added(demo_shelf(), "My white 92")
    assert [each.name for each in one] == ["My white"]
    more = with_added(one, "My mid 60; My black 25")
    assert [each.name for each in more] == ["My white", "My mid", "My black"]
    with pytest.raises(ShelfError, match="its own name"):
        with_added(more, "My black 30")


def test_a_new_name_keeps_what_else_is_known() -> None:
    measured = undercoat("Grey", (60.0, 3.0, -4.0), price=30.0, unit="L")
    shelf = (measured, undercoat("White", (92.0, 0.0, 0.0)))
    renamed = with_changed(shelf, "Grey", "Our grey 60.0 3.0 -4.0")[0]
    assert renamed.name == "Our grey"
    assert renamed.reflectance == measured.reflectance
    lighter = with_changed(shelf, "Grey", "Our grey 70")[0]
    assert (lighter.lightness, lighter.price) == (70.0, 30.0)
    with pytest.raises(ShelfError, match="more than one"):
        with_changed(shelf, "Grey", "One 70, Two 80")


@pytest.mark.parametrize("each", [*demo_shelf(), undercoat("Oxide", (40, 20, 15))])
def test_words_are_read_back(each: Undercoat) -> None:
    (found,) = read_greys(words_of_undercoat(each))
    assert found.name == each.name
    assert found.lab == pytest.approx(each.lab, abs=0.05)
