"""A shelf's note goes where its sealers go."""

from dataclasses import replace

import pytest

from shadecore.book.records import BookShelf, Stocked
from shadecore.book.shelf_note import FROM_PHOTO, line_of
from shadecore.undercoats.shelf import Undercoat, undercoat

READ = f"L* 40.0 ± 2.1, a* 20.0 ± 3.0, b* 15.0 ± 3.0 (95 %){FROM_PHOTO}"
WHITE = undercoat("My white", (92.0, 0.0, 0.0))
OXIDE = undercoat("My oxide", (40.0, 20.0, 15.0))
OXIDE_TWO = undercoat("My oxide: two", (40.0, 20.0, 15.0))
OWN = "Left bay, second board."
SHELF = BookShelf(
    "Our shelf",
    (Stocked(WHITE), Stocked(OXIDE)),
    f"{OWN}\nMy oxide: {READ}\nMy white: bought in May",
)


def _note(*now: Undercoat, shelf: BookShelf = SHELF) -> list[str]:
    return shelf.with_items(tuple(map(Stocked, now))).note.splitlines()


def test_a_new_name_is_carried_into_the_sealers_line() -> None:
    now = _note(WHITE, replace(OXIDE, name="Old oxide"))
    assert now == [OWN, f"Old oxide: {READ}", "My white: bought in May"]
    assert line_of("\n".join(now), "Old oxide") == f"Old oxide: {READ}"
    assert line_of("\n".join(now), "My oxide") == ""


def test_a_line_stays_where_a_price_is_told_or_another_sealer_is_added() -> None:
    grey = undercoat("My grey", (60.0, 0.0, 0.0))
    assert _note(WHITE, replace(OXIDE, price=30.0), grey) == SHELF.note.splitlines()
    assert _note(OXIDE, WHITE) == SHELF.note.splitlines()


@pytest.mark.parametrize("name", ["My oxide", "Old oxide"])
def test_a_photos_line_goes_with_the_colour_that_it_is_about(name: str) -> None:
    other = undercoat(name, (47.0, 20.0, 15.0))
    assert _note(WHITE, other) == [OWN, "My white: bought in May"]


def test_a_photos_line_goes_with_its_sealer_and_what_the_shop_wrote_stays() -> None:
    assert _note(WHITE) == [OWN, "My white: bought in May"]
    assert _note(OXIDE) == SHELF.note.splitlines()


def test_a_name_that_begins_like_another_keeps_its_own_line() -> None:
    items = (Stocked(OXIDE), Stocked(OXIDE_TWO))
    shelf = replace(SHELF, items=items, note=f"My oxide: two: {READ}")
    red = replace(OXIDE, name="My red")
    assert _note(red, OXIDE_TWO, shelf=shelf) == [f"My oxide: two: {READ}"]
