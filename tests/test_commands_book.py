"""The shop's book on the command line: its own command."""

from pathlib import Path

import pytest
from book_commands import RED, WHITE, Captured, a_shop, book, data, names, refused

import shadecore
from shadecore.book.book import open_book
from shadecore.book.records import BookShelf
from shadecore.cli import main
from shadecore.datafiles import data_file
from shadecore.question.question import Question

DEMO_JOB = str(data_file("demo-job.toml"))


@pytest.fixture(autouse=True)
def path(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """File of the shop's own book, which is not there yet."""
    own = tmp_path / "own" / "book.sqlite"
    monkeypatch.setenv("SHADECORE_BOOK", str(own))
    return own


def test_a_colour_is_added_shown_found_renamed_and_removed(capsys: Captured) -> None:
    words = ("--code", "R 1", "--car", "an old estate", "--illuminant", "D50")
    assert "Added 'Red'." in book(capsys, "add", "colours", "Red", *RED, *words)
    shown = data(capsys, "book", "show", "colours", "r 1")
    question = Question(" ".join(RED), condition=shadecore.Condition("D50"))
    assert shown["lab"] == pytest.approx(question.topcoat.lab)
    assert shown["car"] == "an old estate"
    assert "R 1" in book(capsys, "list", "colours")
    assert "an old estate" in book(capsys, "show", "colours", "Red")
    assert "Red" in book(capsys, "search", "ESTATE", "r")
    book(capsys, "rename", "colours", "Red", "Deep red")
    assert names(capsys, "colours") == ["Deep red"]
    book(capsys, "remove", "colours", "Deep red")
    assert names(capsys, "colours") == []
    assert names(capsys, "bin") == ["Deep red"]


def test_the_bin_is_emptied_only_when_that_is_said(capsys: Captured) -> None:
    book(capsys, "add", "guns", "Anna")
    book(capsys, "remove", "guns", "Anna")
    assert "Anna" in book(capsys, "empty-bin")
    assert names(capsys, "bin") == ["Anna"]
    assert "Removed 1 for good." in book(capsys, "empty-bin", "--yes")
    assert names(capsys, "bin") == []


def test_what_was_done_is_listed_undone_and_put_back(capsys: Captured) -> None:
    for name in ("Anna", "Bert, 1.3", "Carl"):
        book(capsys, "add", "guns", name)
    book(capsys, "remove", "guns", "Anna", "bert, 1.3", "anna")
    assert names(capsys, "guns") == ["Carl"]
    assert "removed 2 of the guns" in book(capsys, "changes", "--limit", "1")
    book(capsys, "put-back", "guns", "ANNA")
    assert names(capsys, "guns") == ["Anna", "Carl"]
    assert "put back 1 of the guns" in book(capsys, "undo")
    assert "removed 2 of the guns" in book(capsys, "undo")
    assert set(names(capsys, "guns")) == {"Anna", "Bert, 1.3", "Carl"}
    for _ in range(3):
        book(capsys, "undo")
    assert "no change of the book left" in refused(capsys, "book", "undo")


def test_one_wrong_name_removes_nothing(capsys: Captured) -> None:
    book(capsys, "add", "guns", "Anna")
    refused(capsys, "book", "remove", "guns", "Anna", "Nobody")
    assert names(capsys, "guns") == ["Anna"]


def test_left_overs_are_kept(capsys: Captured) -> None:
    words = ("--since", "2026-03-02", "--batch", "B 7", "--note", "shelf 2")
    book(capsys, "add", "leftovers", "Red base", "120", *words)
    (left,) = data(capsys, "book", "list", "leftovers")
    assert left["left"]["ml"] == 120.0
    assert "B 7" in book(capsys, "list", "leftovers")
    book(capsys, "remove", "leftovers", "Red base")
    assert names(capsys, "leftovers") == []


def test_a_line_forgets_and_remembers(capsys: Captured) -> None:
    a_shop(capsys)
    words = ("pick", *RED, "--line", "Invented line")
    assert data(capsys, *words)["loading"]["jobs"] == 3
    assert "counts no more" in book(capsys, "forget", "lines", "Invented line")
    assert data(capsys, *words)["loading"]["jobs"] == 0
    book(capsys, "forget", "lines", "Invented line", "--again")
    assert data(capsys, *words)["loading"]["jobs"] == 3


def test_nothing_is_said_where_nothing_is(capsys: Captured) -> None:
    book(capsys, "add", "guns", "Anna")
    assert "holds no jobs" in book(capsys, "list", "jobs")
    assert "Nothing is there." in book(capsys, "search", "something")


def test_a_job_is_kept_and_given_back(capsys: Captured, tmp_path: Path) -> None:
    book(capsys, "add", "colours", "Red", *RED)
    book(capsys, "add", "jobs", "Door", DEMO_JOB, "--colour", "Red", "--who", "Ann")
    assert data(capsys, "book", "list", "jobs")[0]["who"] == "Ann"
    out = tmp_path / "job.toml"
    book(capsys, "export", "jobs", "Door", "--out", str(out))
    assert out.read_text("utf-8") == Path(DEMO_JOB).read_text("utf-8")
    times = tmp_path / "times.csv"
    book(capsys, "export", "jobs", "Door", "--out", str(times))
    assert times.read_text("utf-8").startswith("job,code,car,step,ended,minutes")


def test_a_shelf_comes_and_goes_as_a_table(
    capsys: Captured, tmp_path: Path, path: Path
) -> None:
    shelf = tmp_path / "My shelf.csv"
    shelf.write_text("name,L\nmilk,91\ncoal,24\n", "utf-8")
    assert "Nothing was written yet" in book(capsys, "import", "shelves", str(shelf))
    assert not path.exists()
    book(capsys, "import", "shelves", str(shelf), "--yes")
    shelf.write_text("name,L\nmilk,92\ncoal,24\n", "utf-8")
    again = data(capsys, "book", "import", "shelves", str(shelf), "--yes")
    assert (again["add"], again["change"]) == ([], ["My shelf"])
    out = tmp_path / "out.csv"
    book(capsys, "export", "shelves", "My shelf", "--out", str(out))
    with open_book(path) as opened:
        kept = opened.show(BookShelf, "My shelf").thing.shelf
    assert shadecore.read_shelf(out)[0] == kept == shadecore.read_shelf(shelf)[0]


def test_stock_comes_and_goes_with_the_table(
    capsys: Captured, tmp_path: Path, path: Path
) -> None:
    """A file that says nothing of a grey's stock leaves it as it was."""
    shelf, out = tmp_path / "Mine.csv", tmp_path / "out.csv"
    shelf.write_text("name,L,unit,stock\nmilk,91,L,2.5\ncoal,24,L,\n", "utf-8")
    book(capsys, "import", "shelves", str(shelf), "--yes")
    shelf.write_text("name,L,unit,stock\nmilk,91,L,\ncoal,24,L,0.5\n", "utf-8")
    book(capsys, "import", "shelves", str(shelf), "--yes")
    with open_book(path) as opened:
        assert opened.show(BookShelf, "Mine").thing.stock == {"milk": 2.5, "coal": 0.5}
    book(capsys, "export", "shelves", "Mine", "--out", str(out))
    book(capsys, "add", "shelves", "Other", str(out))
    with open_book(path) as opened:
        assert opened.show(BookShelf, "Other").thing.stock == {"milk": 2.5, "coal": 0.5}


def test_bad_rows_of_a_shelf_are_named(capsys: Captured, tmp_path: Path) -> None:
    shelf = tmp_path / "shelf.csv"
    shelf.write_text("name,L\nmilk,91\ncoal,black\n", "utf-8")
    assert main(["book", "add", "shelves", "Mine", str(shelf)]) == 1
    assert "line 3" in capsys.readouterr().err
    assert names(capsys, "shelves") == ["Mine"]


@pytest.mark.parametrize("end", [".csv", ".txt", ".cxf"])
def test_colours_go_out_and_come_back(
    capsys: Captured, tmp_path: Path, end: str
) -> None:
    book(capsys, "add", "colours", "Red", *RED, "--code", "R 1")
    book(capsys, "add", "colours", "Blue", "30", "5", "-40", "--code", "B 2")
    out = str(tmp_path / f"colours{end}")
    book(capsys, "export", "colours", "--out", out)
    other = str(tmp_path / "other.sqlite")
    shown = data(capsys, "book", "import", "colours", out, "--book", other)
    assert len(shown["add"]) == 2
    assert not shown["done"]
    assert not Path(other).exists()
    book(capsys, "import", "colours", out, "--book", other, "--yes")
    for which in ("R 1", "B 2"):
        there = data(capsys, "book", "show", "colours", which, "--book", other)
        here = data(capsys, "book", "show", "colours", which)
        assert there["lab"] == pytest.approx(here["lab"], abs=1e-3)
    again = data(capsys, "book", "import", "colours", out, "--book", other, "--yes")
    assert len(again["skip"]) == 2


def test_records_go_out_and_come_back(capsys: Captured, tmp_path: Path) -> None:
    book(capsys, "add", "colours", "Red", *RED)
    book(capsys, "add", "records", "Red", f"4 over {WHITE}", "--film", "12")
    out = tmp_path / "seen.csv"
    book(capsys, "export", "records", "--out", str(out))
    known = data(capsys, "book", "import", "records", str(out))
    assert [each["reason"] for each in known["skip"]] == ["the book holds it already"]
    (record,) = data(capsys, "book", "list", "records")
    short = record["uid"][:8]
    assert short in book(capsys, "list", "records")
    book(capsys, "remove", "records", short)
    book(capsys, "import", "records", str(out), "--yes")
    (back,) = data(capsys, "book", "list", "records")
    same = ("coats_low", "coats_high", "hid", "film_um", "colour", "undercoat")
    assert {name: back[name] for name in same} == {name: record[name] for name in same}


def test_the_whole_book_is_backed_up_and_restored(
    capsys: Captured, tmp_path: Path
) -> None:
    book(capsys, "add", "colours", "Red", *RED)
    file = str(tmp_path / "backup.sqlite")
    book(capsys, "backup", file)
    book(capsys, "add", "colours", "Blue", "30", "5", "-40")
    before = data(capsys, "book", "restore", file)["before"]
    assert names(capsys, "colours") == ["Red"]
    listed = data(capsys, "book", "list", "colours", "--book", before)
    assert {each["name"] for each in listed} == {"Red", "Blue"}
    assert "whole" in book(capsys, "check")


def test_a_damaged_row_is_found_by_the_check(capsys: Captured, path: Path) -> None:
    book(capsys, "add", "guns", "Anna")
    with open_book(path) as opened, opened._database.raw() as connection:
        connection.execute("UPDATE guns SET body = '{'")
    assert "'Anna'" in book(capsys, "check", status=1)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("book", "show", "colours", "Green"), "no colour called 'Green'"),
        (("book", "put-back", "guns", "Anna"), "none is called 'Anna'"),
        (("book", "forget", "lines", "Other"), "no paint line called 'Other'"),
        (("book", "add", "leftovers", "Red", "90", "--since", "May"), "is not a day"),
        (("plan", "kept:Door", "--out", "x.pdf"), "no job called 'Door'"),
        (("book", "add", "guns", "ANNA"), "called 'ANNA' already"),
        (("book", "add", "colours", "Red", "nonsense"), "nonsense"),
        (("book", "add", "colours", "Red"), "Give the colour in one way"),
        (("book", "add", "records", "Green", "4"), "no colour called 'Green'"),
        (("book", "export", "shelves", "--out", "x.csv"), "Say which"),
        (("book", "export", "colours", "--out", "x.doc"), "end the file's name so"),
        (("book", "restore", DEMO_JOB), "not a book"),
        (("book", "import", "colours", "nowhere.txt"), "nowhere.txt' cannot be read"),
        (("book", "import", "colours", DEMO_JOB), "neither CGATS text nor CxF3"),
        (("pick", "kept:Green"), "no colour called 'Green'"),
        (("pick", "green", "--book"), "no colour called 'green'"),
        (("pick", *RED, "--line", "Other"), "no paint line called 'Other'"),
        (("pick", *RED, "--gun", "Other"), "no gun called 'Other'"),
        (("pick", *RED, "--gun", "a", "--gun", "b"), "Give one --gun"),
        (("pick", *RED, "--keep", " "), "name is empty"),
        (("pick", *RED, "--undercoats", "kept:Mine"), "no shelf called 'Mine'"),
    ],
)
def test_bad_input_is_told_in_one_sentence(
    capsys: Captured, words: tuple[str, ...], said: str
) -> None:
    book(capsys, "add", "guns", "Anna")
    assert said in refused(capsys, *words)
