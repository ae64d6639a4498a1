"""An import says what it will add, change and skip, and then does it whole."""

from dataclasses import replace
from pathlib import Path

import pytest

from shadecore.book import file_import
from shadecore.book.book import open_book
from shadecore.book.errors import BookConflict, BookError
from shadecore.book.file_export import colours_table
from shadecore.book.file_import import colours_of_table
from shadecore.book.import_plan import dropped
from shadecore.book.records import AngleReading, BookColour
from shadecore.colour.condition import WORKING

RED = BookColour("Red", (45.0, 60.0, 35.0), code="R 1")
BLUE = BookColour("Blue", (30.0, 5.0, -40.0), code="B 2")
GREY = BookColour("Grey", (50.0, 0.0, 0.0))


def test_a_plan_tells_new_changed_and_known_apart(tmp_path: Path) -> None:
    with open_book(tmp_path / "book.sqlite") as book:
        red = book.add(
            replace(
                RED,
                who="Ann",
                note="mine",
                question={"colour": "45 60 35", "film_um": 12.0, "photo": "x"},
            )
        )
        book.add(GREY)
        again = replace(RED, lab=(46.0, 60.0, 35.0), entered="lab 46 60 35")
        plan = book.plan_import((again, BLUE, GREY, BLUE))
        assert plan.add == (BLUE,)
        ((kept, becomes),) = plan.change
        assert kept == red
        assert (becomes.lab, becomes.who, becomes.note) == (again.lab, "Ann", "mine")
        assert becomes.question["colour"] == "lab 46 60 35"
        assert becomes.question["film_um"] == 12.0
        assert "photo" not in becomes.question
        assert [(each.colour.name, each.reason) for each in plan.skip] == [
            ("Grey", "the book holds it already"),
            ("Blue", "it stands in the file twice"),
        ]
        assert len(book.list(BookColour)) == 2
        book.apply(plan)
        assert {each.thing.name for each in book.list(BookColour)} == {
            "Red",
            "Blue",
            "Grey",
        }
        assert book.show(BookColour, "R 1").thing == becomes
        book.undo()
        assert book.show(BookColour, "R 1").thing == red.thing
        assert len(book.list(BookColour)) == 2


def test_an_import_onto_what_changed_meanwhile_does_nothing(tmp_path: Path) -> None:
    with open_book(tmp_path / "book.sqlite") as book:
        red = book.add(RED)
        plan = book.plan_import((BLUE, replace(RED, lab=(46.0, 60.0, 35.0))))
        book.rename(red, "Deep red")
        with pytest.raises(BookConflict):
            book.apply(plan)
        assert [each.thing.name for each in book.list(BookColour)] == ["Deep red"]


def test_two_of_one_name_in_the_book_are_left_alone(tmp_path: Path) -> None:
    with open_book(tmp_path / "book.sqlite") as book:
        book.add_all((GREY, replace(GREY, lab=(51.0, 0.0, 0.0))))
        (skipped,) = book.plan_import((replace(GREY, lab=(52.0, 0.0, 0.0)),)).skip
        assert "more than one" in skipped.reason


def test_an_import_of_nothing_is_no_change(tmp_path: Path) -> None:
    with open_book(tmp_path / "book.sqlite") as book:
        book.apply(book.plan_import(()))
        assert book.changes() == ()
        with pytest.raises(BookError):
            book.undo()


PEARL = BookColour(
    "Invented pearl",
    (60.0, 2.0, -8.0),
    angles=tuple(
        AngleReading(angle, lab)
        for angle, lab in (
            (15.0, (105.0, 1.0, -4.0)),
            (45.0, (60.0, 2.0, -8.0)),
            (110.0, (35.0, 3.0, -10.0)),
        )
    ),
    kind="pearl",
    code="P 7",
    car="Invented van",
)
SPECTRUM = replace(GREY, name="Measured", reflectance=(0.2,) * 31)


def test_a_books_own_table_takes_nothing_away_from_it(tmp_path: Path) -> None:
    with open_book(tmp_path / "book.sqlite") as book:
        book.add_all(
            (
                PEARL,
                SPECTRUM,
                replace(
                    SPECTRUM,
                    name="Off a photo",
                    reflectance=(),
                    photo_spread=(1.0, 0, 0, 1.0, 0, 1.0),
                ),
            )
        )
        table = colours_table([each.thing for each in book.list(BookColour)])
        read, _ = colours_of_table(table.decode(), "colours.csv", WORKING)
        plan = book.plan_import(read)
        assert (plan.add, plan.change) == ((), ())


def test_a_table_brings_names_kinds_cars_and_angles_to_another_book() -> None:
    table = colours_table((PEARL, RED))
    (pearl, red), _ = colours_of_table(table.decode(), "colours.csv", WORKING)
    assert (pearl.name, pearl.code, pearl.car) == ("Invented pearl", "P 7", PEARL.car)
    assert (pearl.kind, pearl.angles) == ("pearl", PEARL.angles)
    assert (red.name, red.kind, red.angles) == ("Red", "solid", ())


def test_a_change_says_what_it_takes_away(tmp_path: Path) -> None:
    with open_book(tmp_path / "book.sqlite") as book:
        book.add_all((PEARL, SPECTRUM))
        plan = book.plan_import(
            (
                BookColour("Invented pearl", (61.0, 2.0, -8.0), code="P 7"),
                BookColour("Measured", (51.0, 0.0, 0.0)),
            )
        )
    lost = [dropped(kept.thing, becomes) for kept, becomes in plan.change]
    assert lost == [("its readings at 15, 45, 110 degrees",), ("its spectrum",)]


def test_a_table_of_colours_without_codes_comes_back_as_the_same_colours(
    tmp_path: Path,
) -> None:
    with open_book(tmp_path / "book.sqlite") as book:
        book.add(GREY)
        book.add(RED)
        table = colours_table([each.thing for each in book.list(BookColour)])
        read, problems = colours_of_table(table.decode(), "colours.csv", WORKING)
        assert problems == ()
        plan = book.plan_import(read)
        assert plan.add == ()
        book.apply(plan)
        colours = [each.thing for each in book.list(BookColour)]
        named = {(each.name, each.code) for each in colours}
        assert named == {("Grey", ""), ("Red", "R 1")}


def test_more_colours_than_are_imported_at_once_are_refused(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # 500 000 rows once took two gigabytes; the real limit is tried on ten rows here.
    monkeypatch.setattr(file_import, "MOST_SAMPLES", 9)
    rows = ["code,L,a,b", *(f"c{number},{40 + number},0,0" for number in range(10))]
    table = "\n".join(rows)
    with pytest.raises(BookError, match="10 colours, more than the 9"):
        colours_of_table(table, "colours.csv", WORKING)
    most = "\n".join(rows[:-1])
    assert len(colours_of_table(most, "colours.csv", WORKING)[0]) == 9
