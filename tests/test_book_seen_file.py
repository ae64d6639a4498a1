"""Records of what was seen, out as a table and in again."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from shadecore.book.book import Book, open_book
from shadecore.book.errors import BookError
from shadecore.book.import_plan import ImportPlan
from shadecore.book.records import BookColour, BookSeen, BookShelf, Stocked
from shadecore.book.seen_file import import_records, records_table
from shadecore.book.shop_records import BookJob, PaintLine, SprayGun
from shadecore.coats.seen import Seen
from shadecore.coats.seen_table import Noted, parse_seen, write_seen
from shadecore.undercoats.shelf import undercoat

RED = BookColour("Red", (45.0, 60.0, 35.0), code="R 1")
BLUE = BookColour("Blue", (30.0, 5.0, -40.0))
WHITE = undercoat("My white", (92.0, 0.0, 0.0))
NOON = datetime(2026, 3, 2, 12, 30)  # noqa: DTZ001 - the shop's own time
LINKS = ("line", "gun", "job")


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with open_book(tmp_path / "book.sqlite") as opened:
        yield opened


def _things(book: Book) -> dict[str, str]:
    """What records belong to, by its name in the tests."""
    return {
        "red": book.add(RED).uid,
        "blue": book.add(BLUE).uid,
        "line": book.add(PaintLine("Line, first")).uid,
        "gun": book.add(SprayGun("Anna 1.3")).uid,
        "job": book.add(BookJob("Left door", "[job]", code="R 1")).uid,
    }


def _fill(book: Book) -> None:
    uid = _things(book)
    links = {name: uid[name] for name in LINKS}
    full = BookSeen(
        uid["red"],
        "job",
        3,
        3,
        undercoat=WHITE,
        film_um=12.0,
        tolerance=1.0,
        **links,
        batch="2026/7",
        who="=Anna",
        when=NOON,
        note="two lines,\nas written",
    )
    later = replace(full, when=NOON.replace(hour=15), job="")
    bare = BookSeen(uid["blue"], "data-sheet", 2, 4)
    missed = BookSeen(uid["blue"], "job", 1, 2, hid=False, looked=False, batch="b")
    book.add_all((full, later, bare, missed))


def _told(book: Book) -> set[BookSeen]:
    """The records, with names in the place of what only this book knows."""
    names = {
        each.uid: each.thing.name
        for record in (BookColour, PaintLine, SprayGun, BookJob)
        for each in book.list(record)
    }
    names[""] = ""
    return {
        replace(
            each.thing,
            colour=names[each.thing.colour],
            **{name: names[getattr(each.thing, name)] for name in LINKS},
        )
        for each in book.list(BookSeen)
    }


def test_a_table_brings_records_whole_into_another_book(
    book: Book, tmp_path: Path
) -> None:
    _fill(book)
    table = records_table(book).decode()
    with open_book(tmp_path / "other.sqlite") as other:
        _things(other)
        plan = import_records(other, table, "records.csv")
        assert (len(plan.add), plan.skip, plan.problems) == (4, (), ())
        other.apply(ImportPlan(plan.add))
        assert _told(other) == _told(book)
        again = import_records(other, table, "records.csv")
        assert (again.add, len(again.skip)) == ((), 4)
    # Other commands read the same file.
    assert len(parse_seen(table, "records.csv", ())) == 4


def test_a_record_of_an_unknown_line_waits_and_one_of_an_unknown_job_does_not(
    book: Book,
) -> None:
    book.add(RED)
    table = (
        "code,source,coats_low,coats_high,line,job\n"
        "R 1,job,2,2,Elsewhere,\nR 1,job,3,3,,Far away\n"
    )
    plan = import_records(book, table, "seen.csv")
    (skipped,) = plan.skip
    assert skipped[1] == "the book holds no paint line called 'Elsewhere'; add it first"
    (added,) = plan.add
    assert (added.coats_low, added.job) == (3, "")
    assert "no job called 'Far away'" in plan.problems[0]


def test_a_table_without_their_columns_means_line_and_gun_of_the_colour(
    book: Book,
) -> None:
    line = book.add(PaintLine("Line"))
    book.add(replace(RED, line=line.uid))
    plain = "code,source,coats_low,coats_high\nR 1,job,2,2\n"
    (record,) = import_records(book, plain, "seen.csv").add
    assert record.line == line.uid
    book.add(replace(record, batch="a", who="Anna"))
    assert import_records(book, plain, "seen.csv").add == ()
    told = "code,source,coats_low,coats_high,line\nR 1,job,2,2,\n"
    (other,) = import_records(book, told, "seen.csv").add
    assert other.line == ""


def test_a_moment_that_is_none_is_refused_in_a_sentence(book: Book) -> None:
    book.add(RED)
    table = "code,source,coats_high,when\nR 1,job,2,yesterday\n"
    with pytest.raises(BookError, match="'yesterday', cannot be read; write it like"):
        import_records(book, table, "seen.csv")


def test_records_are_read_over_the_shops_shelf_and_each_only_once(
    tmp_path: Path,
) -> None:
    white = undercoat("My white", (92.0, 0.0, 0.0))
    with open_book(tmp_path / "book.sqlite") as book:
        red = book.add(RED)
        shelf = book.add(BookShelf("Ours", (Stocked(white),)))
        now = book.settings()
        book.change(now, replace(now.thing, shelf=shelf.uid))
        seen = Seen("job", 3, 3, undercoat=white)
        noted = [Noted("R 1", seen), Noted("R 1", seen)]
        found = import_records(book, write_seen(noted), "seen.csv")
        assert [(each.colour, each.undercoat) for each in found.add] == [
            (red.uid, white)
        ]
        assert len(found.skip) == 1
        named = "code,source,coats_low,coats_high,undercoat\nR 1,job,2,2,My white\n"
        (only,) = import_records(book, named, "named.csv").add
        assert only.undercoat == white
