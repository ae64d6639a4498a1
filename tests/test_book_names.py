"""Names in the book: refused or numbered where they are taken, and short uids."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from book_commands import RED, Captured, book, data, refused
from streamlit.testing.v1 import AppTest

from shadecore.book.book import Book, open_book
from shadecore.book.errors import BookError
from shadecore.book.file_import import import_job
from shadecore.book.import_plan import ImportPlan
from shadecore.book.jobs import keep_job
from shadecore.book.records import BookColour, BookShelf, Stocked
from shadecore.book.shop_records import BookJob, PaintLine
from shadecore.book.working import save_new
from shadecore.formats.file_names import file_stem
from shadecore.job.job_file import write_job
from shadecore.job.request import JobRequest
from shadecore.question.question import Question
from shadecore.undercoats.shelf_table import demo_shelf

COLOUR = BookColour("Deep red", (45.0, 60.0, 35.0), code="R 1")
JOB = JobRequest(datetime(2026, 3, 2, 8), name="Left door")  # noqa: DTZ001 - the shop's own time
GREYS = tuple(map(Stocked, demo_shelf()))


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Book:
    path = tmp_path / "book.sqlite"
    monkeypatch.setenv("SHADECORE_BOOK", str(path))
    return open_book(path)


@pytest.mark.parametrize(
    "make",
    [
        lambda name: replace(COLOUR, name=name, code=""),
        lambda name: BookJob(name, "[job]"),
        lambda name: BookShelf(name, GREYS),
        PaintLine,
    ],
)
def test_a_taken_name_is_refused_when_added_and_when_renamed(
    shop: Book, make: Callable[[str], Any]
) -> None:
    shop.add(make("First"))
    second = shop.add(make("Second"))
    said = "called 'first' already"
    with pytest.raises(BookError, match=said):
        shop.add(make("first"))
    with pytest.raises(BookError, match=said):
        shop.rename(second, "first")
    with pytest.raises(BookError, match=said):
        shop.change(second, make("first"))
    # Its own name in other capitals is no other's.
    assert shop.rename(second, "SECOND").thing.name == "SECOND"


def test_a_name_that_is_another_s_code_is_taken(shop: Book) -> None:
    shop.add(COLOUR)
    with pytest.raises(BookError, match="called 'r 1' already"):
        shop.add(replace(COLOUR, name="r 1", code=""))


def test_a_job_of_a_taken_name_gets_a_number(shop: Book) -> None:
    first = keep_job(shop, JOB)
    second = keep_job(shop, JOB)
    assert (first.thing.name, second.thing.name) == ("Left door", "Left door (2)")
    assert 'name = "Left door (2)"' in second.thing.text
    renamed = replace(JOB, name="Right door", uid=second.thing.request)
    third = keep_job(shop, renamed, onto=second)
    assert third.thing.name == "Right door"
    back = replace(renamed, name="left door")
    assert keep_job(shop, back, onto=third).thing.name == "left door (2)"


def test_a_job_file_of_a_taken_name_is_taken_in_once(shop: Book) -> None:
    keep_job(shop, JOB)
    text = write_job(replace(JOB, uid="6a0f9f5c-0b5e-4bb0-8c33-5f64f3a2b001"))
    plan = import_job(shop, text, "job.toml")
    assert [each.name for each in plan.add] == ["Left door (2)"]
    shop.apply(ImportPlan(plan.add, plan.change))
    again = import_job(shop, text, "job.toml")
    assert (again.add, again.change) == ((), ())


@pytest.mark.parametrize("kind", ["colours", "jobs", "shelves", "lines"])
def test_every_kind_is_known_by_the_start_of_its_uid(
    shop: Book, capsys: Captured, kind: str
) -> None:
    for thing in (COLOUR, BookJob("A", "[job]"), BookShelf("A", GREYS), PaintLine("A")):
        shop.add(thing)
    (uid,) = [each["uid"] for each in data(capsys, "book", "list", kind)]
    short = uid[:8]
    assert short in book(capsys, "list", kind)
    assert data(capsys, "book", "show", kind, short)["uid"] == uid
    book(capsys, "rename", kind, short, "Other")
    assert data(capsys, "book", "show", kind, "other")["uid"] == uid
    book(capsys, "remove", kind, short)
    assert short in book(capsys, "list", "bin")
    assert "called" in refused(capsys, "book", "show", kind, short)


def test_two_jobs_of_one_name_are_reached_by_what_the_message_says(
    shop: Book, capsys: Captured, tmp_path: Path
) -> None:
    """An earlier version let two jobs have one name."""
    shop.add_all([BookJob("Job", write_job(JOB)), BookJob("Job", write_job(JOB))])
    said = refused(capsys, "book", "rename", "jobs", "Job", "Left door")
    kept = shop.list(BookJob)
    assert all(each.uid[:8] in said for each in kept)
    book(capsys, "rename", "jobs", kept[0].uid[:8], "Left door")
    times = tmp_path / "times.csv"
    book(capsys, "export", "jobs", kept[1].uid[:8], "--out", str(times))
    assert times.exists()


def test_a_colour_is_kept_and_added_under_a_free_name_only(
    shop: Book, capsys: Captured
) -> None:
    save_new(shop, Question("45 60 35"), "Red")
    for words in (
        ("book", "add", "colours", "RED", *RED),
        ("pick", *RED, "--keep", "red"),
    ):
        assert "already; choose another name" in refused(capsys, *words)


def _begun() -> None:
    """A page that only begins a job, of the colour that is typed."""
    from dataclasses import replace as changed  # noqa: PLC0415

    import streamlit as st  # noqa: PLC0415

    from shadecore.screens import session, shop  # noqa: PLC0415
    from shadecore.screens.plan import job  # noqa: PLC0415

    shop.begin()
    now = session.question()
    colour = st.text_input("Colour", now.colour)
    session.keep(changed(now, colour=colour))
    asked = job.current()
    if st.toggle("Bare metal"):
        asked = changed(asked, bare_metal=True)
    st.markdown(job.keep(asked).name)


def test_a_begun_job_is_called_after_its_colour(shop: Book) -> None:
    kept = shop.add(replace(COLOUR, car="an old estate"))
    app = AppTest.from_function(_begun, default_timeout=60)
    app.query_params["colour_id"] = kept.uid
    app.run()
    assert app.markdown[0].value == "Deep red, an old estate"


def test_an_untouched_job_follows_the_colour_and_a_kept_one_does_not(
    shop: Book,
) -> None:
    app = AppTest.from_function(_begun, default_timeout=60).run()
    app.text_input[0].set_value("30 10 -45").run()
    assert app.markdown[0].value == "30 10 -45"
    app.toggle[0].set_value(True).run()
    app.text_input[0].set_value("28 0 0").run()
    assert app.markdown[0].value == "30 10 -45"
    assert [each.thing.name for each in shop.list(BookJob)] == ["30 10 -45"]


@pytest.mark.parametrize(
    ("name", "stem"),
    [
        ("Deep red, A/B", "deep-red-a-b"),
        ("../../etc/passwd", "etc-passwd"),
        ("Über-Rot 2", "über-rot-2"),
        ("...", "job"),
        ("x" * 200, "x" * 60),
    ],
)
def test_a_file_is_named_after_what_it_holds(name: str, stem: str) -> None:
    assert file_stem(name, "job") == stem
