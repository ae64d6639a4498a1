"""Other commands with the shop's book."""

import json
from pathlib import Path

import pytest
from book_commands import RED, WHITE, Captured, a_shop, book, data, names, refused, run

import shadecore
from shadecore.book.asking import colour_of, keep, question_of
from shadecore.book.book import open_book
from shadecore.book.jobs import job_of
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

DEMO_JOB = str(data_file("demo-job.toml"))


@pytest.fixture(autouse=True)
def path(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """File of the shop's own book, which is not there yet."""
    own = tmp_path / "own" / "book.sqlite"
    monkeypatch.setenv("SHADECORE_BOOK", str(own))
    return own


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


def test_a_test_card_in_the_book_is_answered_from(
    capsys: Captured, tmp_path: Path
) -> None:
    card = tmp_path / "card.csv"
    card.write_text(
        "area,coats,L,a,b\nblack,2,38.4,48.1,27.0\nwhite,2,47.6,62.4,37.6\n"
        "full,,45,60,35\n",
        "utf-8",
    )
    book(capsys, "add", "colours", "Red", *RED)
    book(capsys, "add", "cards", "Red", str(card), "--name", "May")
    assert "May" in book(capsys, "list", "cards")
    found = data(capsys, "pick", "kept:Red")
    by_file = data(capsys, "pick", *RED, "--card", str(card))
    assert found["basis"] == "test card"
    assert found["undercoats"] == by_file["undercoats"]
    # Its fit holds for the film of its own coats.
    (uid,) = [each["uid"] for each in data(capsys, "book", "list", "cards")]
    book(capsys, "remove", "cards", uid[:8])
    book(capsys, "add", "cards", "Red", str(card), "--film", "20")
    assert main(["pick", "kept:Red", "--json"]) == 0
    said = capsys.readouterr()
    assert json.loads(said.out)["basis"] == "colour"
    assert "its coats are 20 um and 10 um are asked about" in said.err


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


def test_a_plan_is_kept_as_a_job_with_its_colour(
    capsys: Captured, tmp_path: Path, path: Path
) -> None:
    a_shop(capsys)
    out = str(tmp_path / "sheet.html")
    words = ("--line", "Invented line", "--took", f"3 over {WHITE}", "--out", out)
    run(capsys, "plan", DEMO_JOB, *words, "--keep", "Left door")
    assert names(capsys, "jobs") == ["Left door"]
    with open_book(path) as opened:
        job = opened.show(BookJob, "Left door")
        colour = opened.show(BookColour, job.thing.colour)
        line = opened.show(PaintLine, "Invented line").uid
        request = job_of(opened, job)
        assert opened.changes(1)[0].what == "kept the job Left door"
    assert colour.thing.name == " ".join(RED)
    assert (job.thing.line, colour.thing.line) == (line, line)
    assert request.question.loading.jobs == 3
    assert [each.coats_high for each in request.question.seen] == [3]
    # Planned again from the book, and kept under the name that it has or another.
    run(capsys, "plan", "kept:Left door", "--out", out, "--keep", "Left door")
    assert names(capsys, "jobs") == ["Left door"]
    assert "a job called 'left door' already" in refused(
        capsys, "plan", DEMO_JOB, "--out", out, "--keep", "left door"
    )


def test_what_was_learned_is_told_with_what_it_would_be_without(
    capsys: Captured,
) -> None:
    a_shop(capsys)
    words = ("pick", *RED, "--line", "Invented line")
    told = " ".join(run(capsys, *words).split())
    found, usual = data(capsys, *words), data(capsys, "pick", *RED)
    assert "This line covers" in told
    assert "better than usual, from 3 jobs. Without that it would be" in told
    assert found["without_what_was_learned"] == usual["undercoats"][0]
    assert usual["without_what_was_learned"] is None
    # Left out for once.
    run(capsys, *words, "--keep", "Red")
    assert data(capsys, "pick", "kept:Red")["loading"]["jobs"] == 3
    assert data(capsys, "pick", "kept:Red", "--line", "")["loading"]["jobs"] == 0


def test_files_of_colours_take_what_was_learned(capsys: Captured) -> None:
    a_shop(capsys)
    words = ("chart", str(data_file("demo-colours.csv")), "--line", "Invented line")
    assert main(words) == 0
    said = capsys.readouterr()
    assert "from 3 jobs" in said.err
    assert said.out != run(capsys, *words[:2])


def test_no_book_is_needed_to_use_nothing_of_it(capsys: Captured, path: Path) -> None:
    plain = data(capsys, "pick", *RED)
    assert data(capsys, "pick", *RED, "--line", "", "--gun", "") == plain
    assert not path.exists()


def test_nothing_is_kept_where_nothing_is_answered(
    capsys: Captured, tmp_path: Path, path: Path
) -> None:
    bare = tmp_path / "job.toml"
    bare.write_text("start = 2026-03-02T08:00:00\n", "utf-8")
    words = ("--out", str(tmp_path / "x.pdf"), "--keep", "Door")
    assert "nothing to paint" in refused(capsys, "plan", str(bare), *words)
    assert not path.exists()


def test_a_gun_gives_its_settings_and_its_name(capsys: Captured) -> None:
    a_shop(capsys)
    words = ("--gun", "200,25,40", "--gun", "Anna 1.3")
    both = data(capsys, "pick", *RED, *words)
    alone = data(capsys, "pick", *RED, *words[:2])
    assert both["settings"] == alone["settings"]
    assert both["loading"]["jobs"] == 3


def test_a_gun_with_a_comma_in_its_name(capsys: Captured) -> None:
    for name in ("Anna, 1.3", "1.3, Anna"):
        book(capsys, "add", "guns", name)
    for name in ("Anna, 1.3", "kept:1.3, Anna"):
        assert data(capsys, "pick", *RED, "--gun", name)["loading"]["jobs"] == 0
    assert "'1.3, Anna' is not fluid delivery" in refused(
        capsys, "pick", *RED, "--gun", "1.3, Anna"
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
