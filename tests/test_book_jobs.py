"""Jobs in the book: where they stand, found by their file, one record at the bench."""

import gzip
import json
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from datetime import datetime, timedelta
from functools import cache
from pathlib import Path

import pytest

from shadecore.book.asking import colour_of
from shadecore.book.book import Book, open_book
from shadecore.book.errors import BookConflict, BookError
from shadecore.book.jobs import BASE_COAT, find_job, job_of, keep_job, standing
from shadecore.book.kept import Kept
from shadecore.book.records import BookColour, BookSeen
from shadecore.book.shop_records import BookJob
from shadecore.job.job_file import parse_job, write_job
from shadecore.job.job_link import job_parameters
from shadecore.job.plan import Plan, plan_job
from shadecore.job.request import JobRequest
from shadecore.products.sheet_file import demo_sheet
from shadecore.question.answer import answer
from shadecore.question.question import Question
from shadecore.undercoats.shelf_table import demo_shelf

START = datetime.fromisoformat("2026-03-02T08:00")
UID = "0b1c2d3e-0000-4000-8000-00000000000a"
REQUEST = JobRequest(START, "Door", area_m2=1.0, uid=UID)
VERSION_1 = Path(__file__).parent / "data" / "books" / "version-1.sqlite.gz"


@cache
def planned() -> Plan:
    return plan_job(REQUEST, demo_sheet(), answer(Question()))


def done_until(key: str) -> tuple[tuple[str, datetime], ...]:
    """Steps before one, done an hour after each other."""
    keys = [each.step.key for each in planned().timeline]
    hours = enumerate(keys[: keys.index(key)], start=1)
    return tuple((each, START + timedelta(hours=n)) for n, each in hours)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with open_book(tmp_path / "book.sqlite") as opened:
        yield opened


def a_colour(book: Book) -> Kept[BookColour]:
    return book.add(colour_of("Red", Question()))


def test_where_a_job_stands_follows_from_what_is_done() -> None:
    steps = [each.step for each in planned().timeline]
    base = next(each for each in steps if each.key == BASE_COAT)
    now = standing(REQUEST, steps)
    assert (now.state, now.step, now.coats_sprayed) == ("planned", steps[0].title, 0)
    assert (now.started, now.finished) == (None, None)
    before = replace(REQUEST, done=done_until(BASE_COAT))
    at_base = replace(before, sprayed=(START + timedelta(days=1),))
    now = standing(at_base, steps)
    assert (now.state, now.step) == ("started", base.title)
    assert (now.coats_sprayed, now.took_coats, now.started) == (1, None, START)
    # Coats of the sealer are none of the colour.
    sealing = replace(REQUEST, sprayed=(START,))
    assert standing(sealing, steps).coats_sprayed == 0
    after = replace(before, done=(*before.done, (BASE_COAT, START + timedelta(days=2))))
    assert standing(after, steps).took_coats == base.coats
    more = replace(after, looks=((base.coats + 1, True),))
    assert standing(more, steps).took_coats == base.coats + 1
    last = (*done_until(steps[-1].key), (steps[-1].key, START + timedelta(days=9)))
    now = standing(replace(REQUEST, done=last), steps)
    assert (now.state, now.step) == ("done", "")
    assert now.finished == START + timedelta(days=9)


def test_without_its_steps_nothing_is_made_up() -> None:
    now = standing(replace(REQUEST, done=(("wash", START),)))
    assert (now.state, now.step, now.coats_sprayed) == ("started", "", None)


def test_a_job_is_found_by_its_file_and_kept_once(book: Book) -> None:
    kept = keep_job(book, REQUEST, plan=planned(), plate="B 12", customer="Ann Onymous")
    assert find_job(book, UID) == kept
    assert job_of(book, kept) == REQUEST
    with pytest.raises(BookError, match="holds this job already, as 'Door'"):
        keep_job(book, replace(REQUEST, name="Wing"))
    again = replace(REQUEST, done=(("wash", START),))
    newer = keep_job(book, again, onto=kept, plan=planned())
    assert (newer.uid, newer.thing.state) == (kept.uid, "started")
    assert (newer.thing.plate, newer.thing.customer) == ("B 12", "Ann Onymous")
    with pytest.raises(BookConflict):
        keep_job(book, REQUEST, onto=kept)
    assert keep_job(book, again, onto=newer, plan=planned()) == newer
    assert [each.uid for each in book.search("onymous")] == [kept.uid]
    book.remove(newer)
    assert find_job(book, UID) is None


def test_whose_car_it_is_stands_in_no_file_and_no_link(book: Book) -> None:
    kept = keep_job(book, REQUEST, plate="B 12", customer="Ann Onymous")
    told = write_job(job_of(book, kept)) + str(job_parameters(job_of(book, kept)))
    assert "B 12" not in told
    assert "Onymous" not in told


def test_a_job_gets_a_uid_and_keeps_it(book: Book) -> None:
    kept = keep_job(book, replace(REQUEST, uid=""))
    request = job_of(book, kept)
    assert request.uid
    assert parse_job(kept.thing.text, "job").uid == request.uid
    renamed = book.rename(kept, "Front door")
    assert job_of(book, renamed) == replace(request, name="Front door")
    again = keep_job(book, replace(REQUEST, uid=""), onto=renamed)
    assert job_of(book, again).uid == request.uid


def test_looks_become_the_one_record_of_the_job(book: Book) -> None:
    colour = a_colour(book)
    kept = keep_job(book, REQUEST, plan=planned(), colour=colour.uid, who="Ann")
    picked = planned().answer.recommended.undercoat
    request = replace(REQUEST, looks=((2, False),), sprayed=(START, START))
    kept = keep_job(book, request, onto=kept, plan=planned())
    (record,) = book.list(BookSeen)
    assert (record.thing.coats_high, record.thing.hid) == (2, False)
    assert (record.thing.undercoat, record.thing.film_um) == (picked, 10.0)
    assert (record.thing.job, record.thing.who) == (kept.uid, "Ann")
    # The plan that follows may pick another, but the paint lies on what it lay on.
    other = replace(
        planned(), answer=answer(Question(shelf=(demo_shelf()[-1], demo_shelf()[-2])))
    )
    assert other.answer.recommended.undercoat != picked
    request = replace(request, looks=((2, False), (3, True)))
    kept = keep_job(book, request, onto=kept, plan=other)
    (record,) = book.list(BookSeen)
    assert (record.thing.coats_low, record.thing.coats_high) == (3, 3)
    assert record.thing.undercoat == picked
    # Unless the painter says what it was.
    said = replace(request, sealer=demo_shelf()[2].name)
    own = plan_job(replace(said, done=(), sprayed=()), demo_sheet(), answer(Question()))
    kept = keep_job(book, said, onto=kept, plan=own)
    (record,) = book.list(BookSeen)
    assert record.thing.undercoat == demo_shelf()[2]
    book.undo()
    kept = book.show(BookJob, kept.uid)
    # And counts in the plan.
    (seen,) = job_of(book, kept).question.seen
    assert (seen.coats_low, seen.hid) == (3, True)
    # One change: undone together.
    assert book.undo().what == "kept the job Door"
    (record,) = book.list(BookSeen)
    assert record.thing.hid is False
    assert job_of(book, book.show(BookJob, kept.uid)).looks == ((2, False),)


def test_what_the_request_says_cannot_be_said_beside_it(book: Book) -> None:
    with pytest.raises(BookError, match="The state of a job follows from its request"):
        keep_job(book, REQUEST, state="done")


def test_a_job_given_up_stays_so_until_somebody_works_on_it(book: Book) -> None:
    kept = keep_job(book, REQUEST)
    kept = book.change(kept, replace(kept.thing, state="abandoned"))
    kept = keep_job(book, replace(REQUEST, area_m2=2.0), onto=kept)
    assert kept.thing.state == "abandoned"
    kept = keep_job(book, replace(REQUEST, done=(("wash", START),)), onto=kept)
    assert kept.thing.state == "started"


def test_a_job_of_an_earlier_book_is_found_by_its_file(tmp_path: Path) -> None:
    path = tmp_path / "book.sqlite"
    path.write_bytes(gzip.decompress(VERSION_1.read_bytes()))
    with closing(sqlite3.connect(path)) as old:
        ((uid, body),) = old.execute("SELECT uid, body FROM jobs").fetchall()
        body = json.dumps({**json.loads(body), "text": write_job(REQUEST)})
        old.execute("UPDATE jobs SET body = ?", (body,))
        old.commit()
    with open_book(path) as book:
        found = find_job(book, UID)
        assert found is not None
        assert found.uid == uid
        assert job_of(book, found).uid == UID


def test_a_kind_that_nobody_said_is_none_in_an_earlier_book(tmp_path: Path) -> None:
    path = tmp_path / "book.sqlite"
    path.write_bytes(gzip.decompress(VERSION_1.read_bytes()))
    with closing(sqlite3.connect(path)) as old:
        old.execute("UPDATE colours SET body = json_set(body, '$.kind', 'other')")
        ((uid, body),) = old.execute("SELECT uid, body FROM colours").fetchall()
        row = json.dumps({"uid": uid, "version": 1, "name": "Before", "body": body})
        old.execute("INSERT INTO changes VALUES (900, 'renamed it', '2026-03-02')")
        old.execute(
            "INSERT INTO before (number, kind, uid, row) VALUES (900, 'colours', ?, ?)",
            (uid, row),
        )
        old.commit()
    with open_book(path) as book:
        assert book.show(BookColour, uid).thing.kind == ""
        book.undo()
        assert book.show(BookColour, uid).thing.kind == ""
        assert book.check() == ()


def two_parts(book: Book, name: str, old: Kept[BookColour]) -> None:
    """Add a colour, and change another as it no longer is."""
    with book.changing("a part that fails"):
        book.add(colour_of(name, Question()))
        book.change(old, old.thing)


def test_changes_inside_a_change_are_one(book: Book) -> None:
    with book.changing("kept two"):
        one = book.add(colour_of("One", Question()))
        assert book.show(BookColour, "One") == one
        with pytest.raises(BookConflict):
            two_parts(book, "Lost", replace(one, version=9))
        book.add(colour_of("Two", Question()))
    assert {each.thing.name for each in book.list(BookColour)} == {"One", "Two"}
    assert [each.what for each in book.changes()] == ["kept two"]
    with pytest.raises(BookConflict):
        two_parts(book, "Three", replace(one, version=9))
    assert {each.thing.name for each in book.list(BookColour)} == {"One", "Two"}
    book.undo()
    assert book.list(BookColour) == ()


def test_the_number_of_the_last_change_only_rises(book: Book, tmp_path: Path) -> None:
    numbers = [book.last_change]

    def risen() -> bool:
        numbers.append(book.last_change)
        return numbers[-1] > numbers[-2]

    colour = a_colour(book)
    assert risen()
    book.list(BookColour)
    assert not risen()
    book.backup(tmp_path / "backup")
    book.remove(colour)
    assert risen()
    book.undo()
    assert risen()
    book.restore(tmp_path / "backup")
    assert risen()
    book.remove(book.show(BookColour, "Red"))
    book.empty_bin()
    with open_book(book.path) as other:
        assert other.last_change == book.last_change
    assert risen()
    assert book.recent() == ()
