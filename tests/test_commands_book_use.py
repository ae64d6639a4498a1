"""What is in use, what leaves no book behind, and what a file says of its colours."""

from pathlib import Path

import pytest
from book_commands import RED, WHITE, Captured, a_shop, book, data, names, refused, run

from shadecore.book.book import open_book
from shadecore.book.errors import BookError
from shadecore.book.records import BookColour, BookSeen, BookShelf
from shadecore.book.shop_records import PaintLine, SprayGun

LAB = "CGATS.17\nNUMBER_OF_FIELDS 4\nBEGIN_DATA_FORMAT\n"
LAB += "SAMPLE_NAME LAB_L LAB_A LAB_B\nEND_DATA_FORMAT\nNUMBER_OF_SETS 1\n"
LAB += "BEGIN_DATA\nRed 45 60 35\nEND_DATA\n"


@pytest.fixture(autouse=True)
def path(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """File of the shop's own book, which is not there yet."""
    own = tmp_path / "own" / "book.sqlite"
    monkeypatch.setenv("SHADECORE_BOOK", str(own))
    return own


@pytest.fixture
def table(tmp_path: Path) -> Path:
    written = tmp_path / "colours.csv"
    written.write_text("code,L,a,b\nR 1,45,60,35\n", "utf-8")
    return written


def test_what_only_looks_or_fails_begins_no_book(
    capsys: Captured, path: Path, table: Path, tmp_path: Path
) -> None:
    run(capsys, "book", "import", "colours", str(table))
    for words in (
        ("import", "colours", str(tmp_path / "nowhere.csv"), "--yes"),
        ("import", "jobs", str(table), "--yes"),
        ("restore", str(table)),
        ("add", "colours", "Red", "no colour"),
        ("add", "shelves", "Mine", str(tmp_path / "nowhere.csv")),
        ("rates",),
    ):
        refused(capsys, "book", *words)
    assert not path.exists()
    run(capsys, "book", "import", "colours", str(table), "--yes")
    assert names(capsys, "colours") == ["R 1"]


def test_a_backup_is_restored_where_there_was_no_book(
    capsys: Captured, path: Path, tmp_path: Path
) -> None:
    backup = tmp_path / "backup.sqlite"
    with open_book(tmp_path / "other.sqlite") as other:
        other.add(PaintLine("Line"))
        other.backup(backup)
    book(capsys, "restore", str(backup))
    assert path.exists()
    assert names(capsys, "lines") == ["Line"]


def test_the_shelf_line_and_gun_in_use_are_set_and_listed(
    capsys: Captured, tmp_path: Path
) -> None:
    shelf = tmp_path / "Mine.csv"
    shelf.write_text("name,L\nmilk,91\ncoal,24\n", "utf-8")
    a_shop(capsys)
    book(capsys, "import", "shelves", str(shelf), "--yes")
    book(capsys, "add", "lines", "Other line")
    for kind, name in (
        ("shelves", "Mine"),
        ("lines", "Invented line"),
        ("guns", "Anna 1.3"),
    ):
        assert "yes" not in book(capsys, "list", kind)
        book(capsys, "use", kind, name)
        used = [row for row in book(capsys, "list", kind).splitlines() if "yes" in row]
        assert [name in row for row in used] == [True]
    asked = data(capsys, "pick", *RED, "--book")
    assert {each["name"] for each in asked["undercoats"]} == {"milk", "coal"}
    assert asked["loading"]["jobs"] == 3
    book(capsys, "use", "lines", "")
    book(capsys, "use", "guns", "")
    assert data(capsys, "pick", *RED, "--book")["loading"]["jobs"] == 0
    assert "no gun called 'Bert'" in refused(capsys, "book", "use", "guns", "Bert")


def test_only_what_is_there_can_be_used(path: Path) -> None:
    with open_book(path) as opened:
        gone = opened.remove(opened.add(SprayGun("Anna")))
        with pytest.raises(BookError, match="lies in the bin"):
            opened.use(SprayGun, gone)
        with pytest.raises(BookError, match="A colour cannot be in use"):
            opened.use(BookColour, None)
        line = opened.add(PaintLine("Line"))
        opened.use(PaintLine, line)
        assert opened.changes()[0].what == "uses the paint line Line"
        opened.undo()
        assert opened.settings().thing.line == ""


def test_no_spectrum_is_printed_in_full(capsys: Captured, tmp_path: Path) -> None:
    shelf = tmp_path / "Mine.csv"
    shelf.write_text("name,L,unit,stock\nmilk,91,L,2.5\n", "utf-8")
    a_shop(capsys)
    book(capsys, "import", "shelves", str(shelf), "--yes")
    uid = data(capsys, "book", "list", "records")[0]["uid"]
    record = book(capsys, "show", "records", uid[:8])
    assert f"{WHITE} (L* 90.2)" in record
    assert "reflectance" not in record
    assert "milk (L* 91.0, 2.5 L left)" in book(capsys, "show", "shelves", "Mine")


def test_what_a_file_does_not_say_is_said_beside_it(
    capsys: Captured, tmp_path: Path, path: Path
) -> None:
    silent, says = tmp_path / "silent.txt", tmp_path / "says.txt"
    silent.write_text(LAB, "utf-8")
    says.write_text(LAB.replace("\n", '\nILLUMINANT "D50"\n', 1), "utf-8")
    words = ("--illuminant", "A", "--observer", "2")
    book(capsys, "import", "colours", str(silent), "--yes", *words)
    with open_book(path) as opened:
        condition = opened.show(BookColour, "Red").thing.condition
    assert (condition.illuminant, condition.observer) == ("A", 2)
    told = refused(capsys, "book", "import", "colours", str(says), "--yes", *words)
    assert (
        "says.txt says that its colours were measured with the illuminant D50" in told
    )


def test_a_record_is_added_over_the_shelf_in_use(
    capsys: Captured, tmp_path: Path, path: Path
) -> None:
    shelf = tmp_path / "Mine.csv"
    shelf.write_text("name,L\nmilk,91\n", "utf-8")
    book(capsys, "add", "colours", "Red", *RED)
    book(capsys, "import", "shelves", str(shelf), "--yes")
    book(capsys, "use", "shelves", "Mine")
    book(capsys, "add", "records", "Red", "4 over milk")
    with open_book(path) as opened:
        (record,) = opened.list(BookSeen)
        (milk,) = opened.show(BookShelf, "Mine").thing.shelf
    assert record.thing.undercoat == milk


def test_the_library_carries_things_as_the_command_line_does(
    table: Path, tmp_path: Path
) -> None:
    with open_book(tmp_path / "library.sqlite") as opened:
        assert [each.name for each in opened.import_file(table).add] == ["R 1"]
        assert opened.list(BookColour) == ()
        opened.import_file(table, BookColour, yes=True)
        line = opened.add(PaintLine("Line"))
        opened.forget(line)
        assert opened.show(PaintLine, "Line").thing.forgotten is not None
        out = tmp_path / "out.txt"
        opened.export(BookColour, out, "R 1")
        assert opened.import_file(out).skip == (("R 1", "the book holds it already"),)
        with pytest.raises(BookError, match="Say which shelf"):
            opened.export(BookShelf, tmp_path / "shelf.csv")
        with pytest.raises(BookError, match="A gun is not written as a file"):
            opened.export(SprayGun, tmp_path / "gun.csv")
        with pytest.raises(BookError, match="A gun is not taken in"):
            opened.import_file(table, SprayGun)
