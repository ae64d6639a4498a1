"""The shop's book on the command line: its own command, and other commands with it."""

import json
from pathlib import Path
from typing import Any

import pytest

import shadecore
from shadecore.book.asking import colour_of, keep, question_of
from shadecore.book.book import open_book
from shadecore.book.loadings import learned_loading
from shadecore.book.records import BookColour, BookSeen, BookShelf
from shadecore.book.shop_records import BookJob, PaintLine, ShopSettings, SprayGun
from shadecore.cli import main
from shadecore.coats.loading import default_loading
from shadecore.coats.seen import Seen
from shadecore.datafiles import data_file
from shadecore.question.link import from_link, to_link
from shadecore.question.question import Question
from shadecore.undercoats.shelf_table import demo_shelf

Captured = pytest.CaptureFixture[str]
RED = ("45", "60", "35")
WHITE = demo_shelf()[0].name
DEMO_JOB = str(data_file("demo-job.toml"))


@pytest.fixture(autouse=True)
def path(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """File of the shop's own book, which is not there yet."""
    own = tmp_path / "own" / "book.sqlite"
    monkeypatch.setenv("SHADECORE_BOOK", str(own))
    return own


def run(capsys: Captured, *words: str, status: int = 0) -> str:
    assert main(words) == status
    return capsys.readouterr().out


def data(capsys: Captured, *words: str) -> Any:  # noqa: ANN401 - JSON
    return json.loads(run(capsys, *words, "--json"))


def refused(capsys: Captured, *words: str) -> str:
    """The one sentence of a command that can do nothing."""
    assert main(words) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith("shadecore: ")
    assert said.err.count("\n") == 1
    return said.err


def book(capsys: Captured, *words: str, status: int = 0) -> str:
    return run(capsys, "book", *words, status=status)


def names(capsys: Captured, kind: str) -> list[str]:
    return [each["name"] for each in data(capsys, "book", "list", kind)]


def a_shop(capsys: Captured) -> None:
    """A line and a gun with three colours that took two coats over white."""
    book(capsys, "add", "lines", "Invented line", "--batch", "first")
    book(capsys, "add", "guns", "Anna 1.3")
    for place in range(3):
        name = f"Colour {place}"
        words = ("--line", "Invented line", "--gun", "Anna 1.3")
        book(capsys, "add", "colours", name, f"{40 + 5 * place}", "40", "30", *words)
        book(capsys, "add", "records", name, f"2 over {WHITE}")


# The book's own command ---------------------------------------------------------------


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
    assert names(capsys, "shelves") == []
    book(capsys, "import", "shelves", str(shelf), "--yes")
    shelf.write_text("name,L\nmilk,92\ncoal,24\n", "utf-8")
    again = data(capsys, "book", "import", "shelves", str(shelf), "--yes")
    assert (again["add"], again["change"]) == ([], ["My shelf"])
    out = tmp_path / "out.csv"
    book(capsys, "export", "shelves", "My shelf", "--out", str(out))
    with open_book(path) as opened:
        kept = opened.show(BookShelf, "My shelf").thing.shelf
    assert shadecore.read_shelf(out)[0] == kept == shadecore.read_shelf(shelf)[0]


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
    assert data(capsys, "book", "list", "colours", "--book", other) == []
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
        (("book", "rename", "guns", "Anna", "Anna, 1.3"), "has a comma"),
        (("book", "add", "guns", "ANNA"), "by that name already"),
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


# Other commands with the book ---------------------------------------------------------


def test_without_a_word_of_the_book_there_is_none(capsys: Captured, path: Path) -> None:
    run(capsys, "pick", *RED)
    assert "There is no book" in refused(capsys, "pick", "kept:Red")
    assert "There is no book" in refused(capsys, "book", "list", "colours")
    assert not path.exists()


def test_a_kept_colour_gives_its_answer_again(capsys: Captured, path: Path) -> None:
    words = ("--tolerance", "1", "--film", "12", "--took", f"4 over {WHITE}")
    first = data(capsys, "pick", *RED, *words, "--keep", "Red")
    assert data(capsys, "pick", "kept:red") == first
    assert data(capsys, "pick", "red", "--book") == first
    with open_book(path) as opened:
        kept = opened.show(BookColour, "Red")
        question = question_of(opened, kept).question
        assert kept.thing.lab == pytest.approx((45, 60, 35))
        assert len(opened.list(BookSeen, belongs={"colour": kept.uid})) == 1
    assert shadecore.record(question) == first


def test_words_beside_a_kept_colour_replace_its_own(capsys: Captured) -> None:
    run(capsys, "pick", *RED, "--tolerance", "1", "--film", "12", "--keep", "Red")
    usual = data(capsys, "pick", "kept:Red", "--tolerance", "2")["settings"]
    assert (usual["tolerance_de00"], usual["dry_film_um_per_coat"]) == (2.0, 12.0)


def test_keeping_again_adds_what_was_seen(capsys: Captured) -> None:
    run(capsys, "pick", *RED, "--keep", "Red")
    said = refused(capsys, "pick", *RED, "--keep", "RED")
    assert "called 'RED' already" in said
    took = ("--took", f"4 over {WHITE}")
    run(capsys, "pick", "kept:Red", *took, "--keep", "Red")
    run(capsys, "pick", "kept:Red", *took, "--keep", "Red")
    assert len(data(capsys, "book", "list", "records")) == 1


def test_what_reads_as_a_colour_is_a_colour(capsys: Captured) -> None:
    run(capsys, "pick", "30", "5", "-40", "--keep", "#c82d35")
    by_words = data(capsys, "pick", "#c82d35", "--book")
    assert by_words["topcoat"] == data(capsys, "pick", "#c82d35")["topcoat"]
    assert by_words["topcoat"] != data(capsys, "pick", "kept:#c82d35")["topcoat"]


def test_learned_loading_through_every_door(capsys: Captured, path: Path) -> None:
    a_shop(capsys)
    words = ("--line", "Invented line", "--gun", "Anna 1.3")
    asked = data(capsys, "pick", *RED, *words, "--keep", "Red")
    assert asked["loading"]["jobs"] == 3
    assert "from 3 jobs" in " ".join(run(capsys, "pick", *RED, *words).split())
    with open_book(path) as opened:
        line, gun = (
            opened.show(PaintLine, "Invented line"),
            opened.show(SprayGun, "Anna 1.3"),
        )
        loading = learned_loading(opened, line.uid, gun.uid, "first")
        kept = question_of(opened, opened.show(BookColour, "Red")).question
    question = Question(" ".join(RED), loading=loading)
    assert shadecore.record(question) == asked
    assert shadecore.record(from_link(to_link(question)).question) == asked
    assert kept.loading == loading


def test_two_coats_over_white_say_that_a_line_covers_well(
    capsys: Captured, path: Path
) -> None:
    """Colours like these take more by themselves, so the line must cover better."""
    a_shop(capsys)
    usual = default_loading()
    with open_book(path) as opened:
        line = opened.show(PaintLine, "Invented line").uid
        other = opened.add(PaintLine("Other line")).uid
        learned = learned_loading(opened, line, batch="first")
        assert learned_loading(opened, other) == usual
        own = opened.show(BookColour, "Colour 0").uid
        assert learned_loading(opened, line, leave_out=own).jobs == 2
    assert learned.spread < usual.spread
    assert learned.jobs == 3


def test_with_the_book_the_shops_own_things_are_in_use(
    capsys: Captured, tmp_path: Path, path: Path
) -> None:
    a_shop(capsys)
    shelf = tmp_path / "shelf.csv"
    shelf.write_text("name,L\nmilk,91\ncoal,24\n", "utf-8")
    book(capsys, "add", "shelves", "Mine", str(shelf))
    with open_book(path) as opened:
        mine = opened.show(BookShelf, "Mine").uid
        line = opened.show(PaintLine, "Invented line").uid
        opened.change(opened.settings(), ShopSettings(shelf=mine, line=line))
    found = data(capsys, "pick", *RED, "--book")
    assert [each["name"] for each in found["undercoats"]] == ["milk", "coal"]
    assert found["loading"]["jobs"] == 3
    by_file = data(capsys, "pick", *RED, "--undercoats", str(shelf))
    assert by_file["loading"]["jobs"] == 0
    kept = data(capsys, "pick", *RED, "--undercoats", "kept:Mine")
    assert kept["undercoats"] == by_file["undercoats"]


def test_a_plan_takes_what_was_learned(capsys: Captured, tmp_path: Path) -> None:
    a_shop(capsys)
    out = str(tmp_path / "sheet.html")
    words = ("--line", "Invented line", "--keep", "From the plan")
    run(capsys, "plan", DEMO_JOB, "--out", out, *words)
    assert "From the plan" in names(capsys, "colours")


def test_a_gun_gives_its_settings_and_its_name(capsys: Captured) -> None:
    a_shop(capsys)
    words = ("--gun", "200,25,40", "--gun", "Anna 1.3")
    both = data(capsys, "pick", *RED, *words)
    alone = data(capsys, "pick", *RED, *words[:2])
    assert both["settings"] == alone["settings"]
    assert both["loading"]["jobs"] == 3
    assert "'Anna' is not fluid delivery" in refused(
        capsys, "chart", str(data_file("demo-colours.csv")), "--gun", "Anna"
    )


def test_the_library_opens_the_book(path: Path) -> None:
    with shadecore.open_book(path) as opened:
        kept = opened.add(colour_of("Red", Question(" ".join(RED))))
        opened.add(BookJob("Door", Path(DEMO_JOB).read_text("utf-8")))
        assert isinstance(opened, shadecore.Book)
        changed = opened.rename(kept, "Deep red")
        with pytest.raises(shadecore.BookConflict) as caught:
            opened.rename(kept, "Other red")
        assert caught.value.theirs == changed


def test_every_kind_of_record_comes_back_as_it_was(path: Path) -> None:
    seen = (
        Seen("job", 1, 3, hid=False, undercoat=demo_shelf()[0]),
        Seen("data-sheet", 2, None, tolerance=1.0),
        Seen("job", 1, 4, looked=False, film_um=12.0),
    )
    question = Question(" ".join(RED), seen=tuple(sorted(seen, key=repr)))
    with open_book(path) as opened:
        kept = keep(opened, colour_of("Red", question), question.seen)
        assert question_of(opened, kept).question == question
