"""Looks after the coats of a job: what they say, and the one record they become."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import product
from pathlib import Path

import pytest

from shadecore.book.bench import Look, record_bench, seen_of_looks, with_look
from shadecore.book.book import Book, open_book
from shadecore.book.errors import BookError
from shadecore.book.kept import Kept
from shadecore.book.records import BookColour, BookSeen
from shadecore.book.shop_records import BookJob, PaintLine, SprayGun
from shadecore.coats.seen import Seen
from shadecore.undercoats.shelf_table import demo_shelf

RED = BookColour("Invented red", (45.0, 60.0, 35.0))
WHITE = demo_shelf()[0]


@pytest.mark.parametrize(
    ("looks", "said"),
    [
        ((), None),
        (((2, False),), (1, 2, False, True)),
        (((1, True),), (1, 1, True, True)),
        (((2, False), (3, True)), (3, 3, True, True)),
        (((3, True),), (1, 3, True, False)),
        (((1, False), (4, True)), (2, 4, True, True)),
        (((3, True), (2, False), (1, False)), (3, 3, True, True)),
        # The later look counts.
        (((2, True), (3, False)), (1, 3, False, True)),
        (((1, True), (2, False), (3, True)), (3, 3, True, True)),
        (((2, True), (3, True)), (1, 2, True, False)),
    ],
)
def test_what_looks_say(
    looks: tuple[tuple[int, bool], ...], said: tuple[int, int, bool, bool] | None
) -> None:
    seen = seen_of_looks(looks, WHITE, 12.0, 1.0)
    if said is None:
        assert seen is None
        return
    assert seen is not None
    assert (seen.coats_low, seen.coats_high, seen.hid, seen.looked) == said
    assert (seen.source, seen.undercoat, seen.film_um) == ("job", WHITE, 12.0)
    assert seen.tolerance == 1.0


def test_what_a_painter_sees_is_never_ruled_out() -> None:
    """Of each number of coats needed, and of each choice of coats to look after."""
    for needed, *chosen in product(range(1, 6), *[(False, True)] * 5):
        looks = [(n, n >= needed) for n in range(1, 6) if chosen[n - 1]]
        seen = seen_of_looks(looks)
        if seen is None:
            continue
        low, high = seen.limits
        assert low < needed <= high
        # And as closely as the looks allow: the last "not yet" to the first "yes".
        no = [n for n, covered in looks if not covered]
        yes = [n for n, covered in looks if covered]
        assert high == (min(yes) if yes else float("inf"))
        assert low == (max(no) if no else float("-inf"))


def test_both_answers_for_one_coat_are_refused() -> None:
    with pytest.raises(BookError, match=r"After coat 2 both .* keep one of them"):
        seen_of_looks([(2, True), (2, False)])


def test_a_look_takes_the_place_of_the_one_at_its_coat() -> None:
    looks = with_look(((3, True), (2, True)), Look(2, covered=False))
    assert looks == ((2, False), (3, True))


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with open_book(tmp_path / "book.sqlite") as opened:
        yield opened


def a_job(book: Book) -> tuple[Kept[BookJob], Kept[BookColour]]:
    line = book.add(PaintLine("Invented line", batch="B 7"))
    gun = book.add(SprayGun("Old gun"))
    colour = book.add(replace(RED, line=line.uid, gun=gun.uid))
    return book.add(BookJob("Door", "", colour=colour.uid, who="Ann")), colour


def test_a_job_has_one_record_however_often_somebody_looks(book: Book) -> None:
    job, colour = a_job(book)
    looks: tuple[Look, ...] = ()
    for coat, covered in ((1, False), (2, False), (3, True)):
        looks = with_look(looks, Look(coat, covered=covered))
        record_bench(book, job, colour, seen_of_looks(looks, WHITE))
        (record,) = book.list(BookSeen)
    seen = record.thing
    assert (seen.coats_low, seen.coats_high, seen.hid) == (3, 3, True)
    assert (seen.colour, seen.job) == (colour.uid, job.uid)
    assert (seen.line, seen.gun) == (colour.thing.line, colour.thing.gun)
    assert (seen.batch, seen.who) == ("B 7", "Ann")
    # Taken back, and said again.
    assert record_bench(book, job, colour, None) is None
    assert book.list(BookSeen) == ()
    record_bench(book, job, colour, seen_of_looks(looks, WHITE))
    assert [each.uid for each in book.list(BookSeen)] == [record.uid]


def test_the_same_again_changes_nothing(book: Book) -> None:
    job, colour = a_job(book)
    seen = Seen("job", 3, 3)
    first = record_bench(book, job, colour, seen)
    assert record_bench(book, job, colour, seen) == first


def test_a_record_keeps_the_batch_that_was_sprayed(book: Book) -> None:
    job, colour = a_job(book)
    record_bench(book, job, colour, Seen("job", 1, 2, hid=False))
    line = book.show(PaintLine, colour.thing.line)
    book.change(line, replace(line.thing, batch="B 8"))
    record_bench(book, job, colour, Seen("job", 3, 3))
    (record,) = book.list(BookSeen)
    assert record.thing.batch == "B 7"


def test_the_line_and_the_gun_of_the_job_come_first(book: Book) -> None:
    job, colour = a_job(book)
    other = book.add(SprayGun("New gun"))
    job = book.change(job, replace(job.thing, gun=other.uid))
    kept = record_bench(book, job, colour, Seen("job", 3, 3))
    assert kept is not None
    assert (kept.thing.line, kept.thing.gun) == (colour.thing.line, other.uid)


def test_a_look_can_be_undone(book: Book) -> None:
    job, colour = a_job(book)
    first = record_bench(book, job, colour, Seen("job", 1, 2, hid=False))
    record_bench(book, job, colour, Seen("job", 3, 3))
    assert "noted what the job Door showed" in book.undo().what
    assert first is not None
    assert [each.thing for each in book.list(BookSeen)] == [first.thing]
