"""More records of one colour than are worked out: the newest count, which is said."""

from datetime import datetime, timedelta
from pathlib import Path

import pytest
from book_commands import RED, Captured, book, data, run
from plan_page import plan_page, said

from shadecore.book.asking import question_of
from shadecore.book.book import open_book
from shadecore.book.records import BookColour, BookSeen
from shadecore.cli import main
from shadecore.coats.evidence import MOST_OF_A_COLOUR
from shadecore.coats.seen import Seen
from shadecore.coats.seen_table import MOST_RECORDS, Noted, parse_seen, write_seen
from shadecore.job.job_link import job_parameters
from shadecore.job.request import JobRequest
from shadecore.question.answer import answer
from shadecore.question.link import from_link, to_link
from shadecore.question.question import Question
from shadecore.telling.seen import left_out_words
from shadecore.undercoats.shelf_table import demo_shelf

OVER = demo_shelf()[0]
OLD, NEW = (Seen("job", each, each, undercoat=OVER) for each in (1, 5))
MANY = (OLD,) * 7 + (NEW,) * MOST_OF_A_COLOUR
SAID = "Of 207 records the newest 200 count; 7 older ones are left out."


@pytest.fixture
def file(tmp_path: Path) -> str:
    """A file of old and new records of one colour."""
    path = tmp_path / "seen.csv"
    path.write_text(write_seen([Noted("R 1", each) for each in MANY]), "utf-8")
    return str(path)


def test_the_newest_count(file: str, capsys: Captured) -> None:
    found = answer(Question(" ".join(RED), seen=MANY))
    newest = answer(Question(" ".join(RED), seen=MANY[7:]))
    assert found.left_out == 7
    assert found.recommended == newest.recommended
    assert found.seen == newest.seen
    assert SAID in " ".join(run(capsys, "pick", *RED, "--seen", file).split())
    assert data(capsys, "pick", *RED, "--seen", file)["seen_left_out"] == 7


def test_a_file_of_colours_names_those_of_which_records_are_left_out(
    file: str, capsys: Captured, tmp_path: Path
) -> None:
    colours = tmp_path / "colours.csv"
    colours.write_text("code,L,a,b\nR 1,45,60,35\n", "utf-8")
    table = run(capsys, "chart", str(colours))
    assert "7 older ones" not in table
    assert main(["chart", str(colours), "--seen", file]) == 0
    told = capsys.readouterr()
    assert "Of 207 records of R 1 the newest 200 count" in told.err
    assert told.out != table


def test_a_colour_of_the_book_counts_what_was_seen_last(
    file: str, capsys: Captured
) -> None:
    book(capsys, "add", "colours", "Red", *RED, "--code", "R 1")
    noon = datetime(2026, 3, 2, 12)  # noqa: DTZ001 - the shop's own time
    with open_book() as opened:
        red = opened.show(BookColour, "Red")
        # Written down in any order: what counts is when it was seen.
        times = [noon + timedelta(days=place) for place in range(len(MANY))]
        opened.add_all(
            [
                BookSeen(
                    red.uid,
                    "job",
                    each.coats_low,
                    each.coats_high,
                    undercoat=OVER,
                    when=when,
                )
                for each, when in reversed(list(zip(MANY, times, strict=True)))
            ]
        )
        question = question_of(opened, red).question
        assert len(question.seen) == len(MANY)
        assert answer(question).left_out == 7
        assert {each.coats_high for each in answer(question).seen} == {5}
    assert SAID in " ".join(run(capsys, "pick", "kept:Red").split())
    known = data(capsys, "book", "import", "records", file)
    assert (known["add"], len(known["skip"])) == ([], len(MANY))


def test_old_links_and_jobs_open() -> None:
    question = Question(" ".join(RED), seen=MANY)
    read = from_link(to_link(question))
    assert read.problems == ()
    assert read.question == question
    app = plan_page()
    job = JobRequest(datetime(2026, 3, 2, 8), area_m2=1.0)  # noqa: DTZ001
    for name, value in {**to_link(question), **job_parameters(job)}.items():
        app.query_params[name] = str(value)
    app.run()
    assert not app.error
    assert SAID in said(app)


def test_a_file_of_years_is_read() -> None:
    rows = [Noted(f"R {place % 40}", NEW) for place in range(1500)]
    assert parse_seen(write_seen(rows), "seen.csv", ()) == tuple(rows)
    assert MOST_RECORDS > 50_000


def test_how_many_are_left_out_in_words() -> None:
    assert left_out_words(3, 0) == ""
    assert left_out_words(200, 1) == (
        "Of 201 records the newest 200 count; the oldest one is left out."
    )
