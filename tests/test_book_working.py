"""The book keeps a question as somebody works on it."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from shadecore.book.asking import question_of, seen_of
from shadecore.book.bench import record_bench
from shadecore.book.book import Book, open_book
from shadecore.book.errors import BookConflict
from shadecore.book.records import BookColour, BookSeen, BookShelf, Stocked
from shadecore.book.shop_records import BookJob
from shadecore.book.working import asked_again, save, shop_question, usual_name
from shadecore.coats.seen import Seen
from shadecore.question.question import Question
from shadecore.undercoats.shelf import undercoat


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with open_book(tmp_path / "book.sqlite") as opened:
        yield opened


def test_a_colour_nobody_named_gives_way_to_the_next(book: Book) -> None:
    first = save(book, Question("50 10 10"))
    second = save(book, Question("60 10 10"), first.uid)
    assert second.uid == first.uid
    assert [each.thing.name for each in book.list(BookColour)] == ["60 10 10"]


def test_a_named_colour_stays_when_another_is_typed(book: Book) -> None:
    first = book.rename(save(book, Question("50 10 10")), "Invented brown")
    second = save(book, Question("60 10 10"), first.uid)
    assert second.uid != first.uid
    assert book.show(BookColour, "Invented brown").thing.lab == first.thing.lab


def test_settings_are_kept_with_the_colour_and_undone(book: Book) -> None:
    question = Question("50 10 10")
    kept = save(book, question)
    save(book, replace(question, tolerance=1.0), kept.uid)
    again = asked_again(book, book.show(BookColour, kept.uid))
    assert again.question.tolerance == 1.0
    book.undo()
    again = asked_again(book, book.show(BookColour, kept.uid))
    assert again.question.tolerance == question.tolerance


def test_nothing_is_written_where_nothing_changed(book: Book) -> None:
    kept = save(book, Question("50 10 10"))
    assert save(book, Question("50 10 10"), kept.uid).version == kept.version
    assert len(book.changes()) == 1


def test_the_same_words_typed_again_are_the_same_colour(book: Book) -> None:
    kept = save(book, Question("50 10 10"))
    assert save(book, Question("50 10 10", tolerance=1.0)).uid == kept.uid


def test_a_new_colour_begins_with_the_shops_shelf_and_units(book: Book) -> None:
    own = Stocked(undercoat("Our light", (80.0, 0.0, 0.0)))
    shelf = book.add(BookShelf("Ours", (own,)))
    settings = book.settings()
    book.change(settings, replace(settings.thing, shelf=shelf.uid, units="us"))
    question = shop_question(book)
    assert question.shelf == (own.undercoat,)
    assert question.units == "us"


def test_a_colour_in_the_bin_is_not_written_again(book: Book) -> None:
    kept = save(book, Question("50 10 10"))
    book.remove(kept)
    again = save(book, Question("50 10 10"), kept.uid)
    assert again.uid != kept.uid


def test_a_record_that_was_replaced_meanwhile_does_not_come_back(book: Book) -> None:
    """A job is looked at again while its colour is open on another page."""
    not_yet, covered = Seen("job", 1, 2, hid=False), Seen("job", 3, 3)
    kept = save(book, Question("50 10 10"))
    job = book.add(BookJob("Door", "", colour=kept.uid))
    record_bench(book, job, kept, not_yet)
    base = question_of(book, kept).question
    assert base.seen == (not_yet,)
    record_bench(book, job, kept, covered)
    own = Seen("check", 2, 2)
    work = replace(base, tolerance=1.0, seen=(*base.seen, own))
    save(book, work, kept.uid, base)
    assert {seen_of(each.thing) for each in book.list(BookSeen)} == {covered, own}


def test_the_name_tells_the_kind_of_colour() -> None:
    assert usual_name(Question("50 10 10", kind="metallic")).endswith("metallic")


def test_a_colour_with_a_record_stays_when_another_is_typed(book: Book) -> None:
    seen = (Seen("job", 3, 3),)
    first = save(book, Question("50 10 10", seen=seen))
    second = save(book, Question("60 10 10"), first.uid)
    assert second.uid != first.uid
    assert question_of(book, first).question.seen == seen


def test_a_record_taken_off_the_question_leaves_the_book(book: Book) -> None:
    seen = (Seen("job", 3, 3), Seen("check", 4, 4))
    base = Question("50 10 10", seen=seen)
    kept = save(book, base)
    save(book, replace(base, seen=seen[:1]), kept.uid, base)
    assert question_of(book, kept).question.seen == seen[:1]


def test_what_somebody_else_changed_is_not_written_over(book: Book) -> None:
    base = Question("50 10 10")
    kept = save(book, base)
    save(book, replace(base, tolerance=3.0), kept.uid, base)
    with pytest.raises(BookConflict):
        save(book, replace(base, tolerance=0.5), kept.uid, base)
    # The same change made twice is none.
    assert save(book, replace(base, tolerance=3.0), kept.uid, base).uid == kept.uid


def test_a_kept_colour_is_asked_again_over_the_shelf_in_use(book: Book) -> None:
    kept = save(book, Question("50 10 10", areas=("White N 9",)))
    own = Stocked(undercoat("Our light", (80.0, 0.0, 0.0)))
    settings = book.settings()
    uid = book.add(BookShelf("Ours", (own,))).uid
    book.change(settings, replace(settings.thing, shelf=uid))
    question = asked_again(book, kept).question
    assert question.shelf == (own.undercoat,)
    assert question.areas == ()
