"""The book's file: versions, damage, full disks, copies, files only to be read."""

import gzip
import os
import sqlite3
import subprocess
import sys
import tempfile
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy import inspect

from shadecore.book import whole_book
from shadecore.book.book import Book, open_book
from shadecore.book.errors import BookError
from shadecore.book.records import BookColour, BookSeen, BookShelf
from shadecore.book.schema import METADATA, MIGRATIONS, VERSION, Migration
from shadecore.book.shop_records import BookJob, BookLeftOver, BookSteps, PaintLine
from shadecore.book.whole_file import copy_whole
from shadecore.job.estimate import ShopRates

BOOKS = Path(__file__).parent / "data" / "books"
RED = BookColour("Invented red", (45.0, 60.0, 35.0))
LATER = (
    *MIGRATIONS,
    Migration(
        VERSION + 1,
        (
            "ALTER TABLE colours ADD COLUMN shade TEXT NOT NULL DEFAULT ''",
            "UPDATE colours SET shade = lower(name)",
        ),
    ),
)
"""A version that might come."""
UNIX_ONLY = pytest.mark.skipif(os.name != "posix", reason="needs Unix")


def test_the_tables_that_are_written_are_those_that_are_read(tmp_path: Path) -> None:
    with open_book(tmp_path / "book.sqlite") as book:
        found = inspect(book._database._engine)
        for name, table in METADATA.tables.items():
            columns = {each["name"] for each in found.get_columns(name)}
            assert columns == {each.name for each in table.columns}


@pytest.mark.parametrize("version", range(1, VERSION + 1))
def test_books_of_every_version_open(tmp_path: Path, version: int) -> None:
    path = tmp_path / "book.sqlite"
    packed = BOOKS / f"version-{version}.sqlite.gz"
    path.write_bytes(gzip.decompress(packed.read_bytes()))
    with open_book(path) as book:
        assert book.check() == ()
        red = book.show(BookColour, "X 1")
        assert red.thing.name == "Invented red"
        assert len(red.thing.angles[0].reflectance) == 31
        assert book.show(BookShelf, "Own shelf").thing.items[0].stock == 0.5
        assert book.list(BookSeen)[0].thing.colour == red.uid
        assert book.list(BookJob)[0].thing.line == book.list(PaintLine)[0].uid
        settings = book.settings().thing
        assert settings.shop == "Shop of no one"
        rates = ShopRates(58.5, 12.0, 5.0, 20.0) if version > 2 else None
        assert settings.rates == rates
        for left in book.list(BookLeftOver):
            assert left.thing.colour == red.uid
        assert len(book.list(BookLeftOver)) == (version > 1)
        sets = book.list(BookSteps)
        assert len(sets) == (version > 2)
        for kept in sets:
            assert [each.key for each in kept.thing.changes] == ["wash", "mask_2"]


def test_a_later_version_takes_over_an_earlier_book(tmp_path: Path) -> None:
    path = tmp_path / "book.sqlite"
    with open_book(path) as book:
        kept = book.add(RED)
    with Book(path, LATER) as book:
        assert book.list(BookColour) == (kept,)
        assert book.check() == ()
    with closing(sqlite3.connect(path)) as found:
        assert found.execute("SELECT shade FROM colours").fetchall() == [
            ("invented red",)
        ]
    with pytest.raises(BookError, match="newer shadecore"):
        open_book(path)
    # What the earlier program could read stays beside it.
    with open_book(path.with_name(f"book.sqlite.version-{VERSION}")) as book:
        assert book.list(BookColour) == (kept,)


def test_a_migration_that_fails_changes_nothing(tmp_path: Path) -> None:
    path = tmp_path / "book.sqlite"
    with open_book(path) as book:
        kept = book.add(RED)
    wrong = (
        *MIGRATIONS,
        Migration(VERSION + 1, ("DELETE FROM colours", "SELECT * FROM nowhere")),
    )
    with pytest.raises(BookError):
        Book(path, wrong)
    with open_book(path) as book:
        assert book.list(BookColour) == (kept,)


def test_a_migration_that_loses_what_things_belong_to_is_refused(
    tmp_path: Path,
) -> None:
    path = tmp_path / "book.sqlite"
    with open_book(path) as book:
        line = book.add(PaintLine("Invented line"))
        book.add(replace(RED, line=line.uid))
    with pytest.raises(BookError, match="belongs to nothing"):
        Book(path, (*MIGRATIONS, Migration(VERSION + 1, ("DELETE FROM lines",))))
    with open_book(path) as book:
        assert book.list(PaintLine) == (line,)


def test_a_database_of_another_program_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "other.sqlite"
    with closing(sqlite3.connect(path)) as other:
        other.execute("CREATE TABLE notes (text)")
        other.commit()
    with pytest.raises(BookError, match="another program"):
        open_book(path)
    with closing(sqlite3.connect(path)) as other:
        assert [row[0] for row in other.execute("SELECT name FROM sqlite_schema")] == [
            "notes"
        ]


@pytest.mark.parametrize("content", [b"not a database at all" * 99, b"\0" * 5000])
def test_a_file_that_is_no_book_gets_one_sentence(
    tmp_path: Path, content: bytes
) -> None:
    path = tmp_path / "book.sqlite"
    path.write_bytes(content)
    with pytest.raises(BookError, match="damaged or is not a book"):
        open_book(path)
    with pytest.raises(BookError, match="is not a file"):
        open_book(tmp_path)
    (tmp_path / "file").write_text("x")
    with pytest.raises(BookError, match="cannot be made"):
        open_book(tmp_path / "file" / "book.sqlite")


def test_a_damaged_book_is_found_by_its_check(tmp_path: Path) -> None:
    path = tmp_path / "book.sqlite"
    with open_book(path) as book:
        kept = book.add(RED)
        book.add_all([replace(RED, name=f"Colour {i}") for i in range(500)])
    with closing(sqlite3.connect(path)) as direct:
        direct.execute(
            "UPDATE colours SET body = '{\"lab\": [1]}' WHERE uid = ?", (kept.uid,)
        )
        direct.commit()
    with open_book(path) as book:
        assert "Invented red" in book.check()[0]
        with pytest.raises(BookError, match="damaged"):
            book.show(BookColour, kept.uid)
    content = bytearray(path.read_bytes())
    content[20_000:60_000] = b"\x55" * 40_000
    path.write_bytes(content)
    try:
        with open_book(path) as book:
            assert book.check()
    except BookError as error:
        assert "damaged" in str(error)  # noqa: PT017 - either way is right


def test_a_backup_is_one_file_and_comes_back(tmp_path: Path) -> None:
    backup = tmp_path / "backup"
    with open_book(tmp_path / "book.sqlite") as book:
        red = book.add(RED)
        book.backup(backup)
        book.add(replace(RED, name="Late"))
        before = book.restore(backup)
        assert book.list(BookColour) == (red,)
        assert book.check() == ()
        with open_book(before) as other:
            assert len(other.list(BookColour)) == 2
        book.add(replace(RED, name="After"))
        assert len(book.list(BookColour)) == 2
        with pytest.raises(BookError, match="book itself"):
            book.backup(book.path)
    assert not list(tmp_path.glob(".*"))


def test_each_restore_keeps_a_copy_of_its_own(tmp_path: Path) -> None:
    with open_book(tmp_path / "book.sqlite") as book:
        book.backup(tmp_path / "empty")
        red = book.add(RED)
        first = book.restore(tmp_path / "empty")
        second = book.restore(tmp_path / "empty")
        assert first != second
        assert first.suffix == second.suffix == ".sqlite"
        book.restore(first)
        assert book.list(BookColour) == (red,)


def test_nobody_writes_between_the_two_copies_of_a_restore(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    refused = []

    def copy(source: sqlite3.Connection, path: Path) -> None:
        if "before-restore" in path.name:
            with closing(sqlite3.connect(tmp_path / "book.sqlite", timeout=0)) as other:
                try:
                    other.execute("BEGIN IMMEDIATE")
                except sqlite3.OperationalError as error:
                    refused.append(str(error))
        copy_whole(source, path)

    monkeypatch.setattr(whole_book, "copy_whole", copy)
    with open_book(tmp_path / "book.sqlite") as book:
        book.backup(tmp_path / "empty")
        book.add(RED)
        before = book.restore(tmp_path / "empty")
    assert refused == ["database is locked"]
    with open_book(before) as other_book:
        assert len(other_book.list(BookColour)) == 1


def test_a_backup_of_an_earlier_version_comes_back(tmp_path: Path) -> None:
    backup = tmp_path / "backup"
    with open_book(tmp_path / "old.sqlite") as book:
        kept = book.add(RED)
        book.backup(backup)
    with Book(tmp_path / "book.sqlite", LATER) as book:
        book.restore(backup)
        assert book.list(BookColour) == (kept,)
        newer = tmp_path / "newer"
        book.backup(newer)
    with open_book(tmp_path / "old.sqlite") as book:
        with pytest.raises(BookError, match="newer shadecore"):
            book.restore(newer)
        assert book.list(BookColour) == (kept,)


def test_what_is_no_backup_changes_nothing(tmp_path: Path) -> None:
    other = tmp_path / "other.sqlite"
    with closing(sqlite3.connect(other)) as written:
        written.execute("CREATE TABLE notes (text)")
        written.commit()
    (tmp_path / "text").write_text("no database at all, and long enough for a page")
    cut = tmp_path / "cut"
    with open_book(tmp_path / "book.sqlite") as book:
        red = book.add(RED)
        book.backup(cut)
        cut.write_bytes(cut.read_bytes()[:30_000])
        for name in ("other.sqlite", "text", "cut", "nowhere"):
            with pytest.raises(BookError) as caught:
                book.restore(tmp_path / name)
            assert len(str(caught.value)) < 400
        assert book.list(BookColour) == (red,)
        assert book.check() == ()


_FULL_DISK = """
import resource, sys
from dataclasses import replace
from pathlib import Path
from shadecore.book.book import open_book
from shadecore.book.errors import BookError
from shadecore.book.records import BookColour
red = BookColour("Invented red", (45.0, 60.0, 35.0), note="x" * 3000)
path = Path(sys.argv[1])
with open_book(path) as book:
    limit = path.stat().st_size + 600_000
    resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
    kept = 0
    try:
        for count in range(2000):
            book.add_all([replace(red, name=f"{count} {i}") for i in range(5)])
            kept += 5
    except BookError as error:
        print(kept, error)
    resource.setrlimit(resource.RLIMIT_FSIZE, (50_000, 50_000))
    try:
        book.backup(path.with_name("backup"))
    except BookError as error:
        print(error)
"""


@UNIX_ONLY
def test_a_full_disk_loses_nothing_that_was_kept(tmp_path: Path) -> None:
    path = tmp_path / "book.sqlite"
    said = _run(_FULL_DISK, str(path)).splitlines()
    kept, _, sentence = said[0].partition(" ")
    assert "the disk is full or fails" in sentence
    assert "cannot be written" in said[1]
    with open_book(path) as book:
        assert book.check() == ()
        assert len(book.list(BookColour)) == int(kept)
        book.add(RED)
    assert not (tmp_path / "backup").exists()
    assert not list(tmp_path.glob(".*"))


_READ_ONLY = """
import os, sys
from pathlib import Path
from shadecore.book.book import open_book
from shadecore.book.errors import BookError
from shadecore.book.records import BookColour
red = BookColour("Invented red", (45.0, 60.0, 35.0))
if os.geteuid() == 0:
    os.setgid(65534)
    os.setuid(65534)
path = Path(sys.argv[1])
with open_book(path) as book:
    print(book.read_only, len(book.list(BookColour)), len(book.search("red")))
    print(book.check(), book.settings().version)
    for verb in (lambda: book.add(red), book.undo, book.empty_bin,
                 lambda: book.restore(path)):
        try:
            verb()
        except BookError as error:
            print(error)
try:
    open_book(path.with_name("new.sqlite"))
except BookError as error:
    print(error)
"""


@UNIX_ONLY
def test_a_book_that_may_only_be_read_is_read() -> None:
    # Not in pytest's own folder, which other users cannot enter.
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        path = folder / "book.sqlite"
        with open_book(path) as book:
            book.add(RED)
        path.chmod(0o444)
        folder.chmod(0o555)
        try:
            said = _run(_READ_ONLY, str(path)).splitlines()
        finally:
            folder.chmod(0o755)
    assert said[0] == "True 1 1"
    assert said[1] == "() 0"
    assert len(said) == 7
    assert all("may only be read" in line for line in said[2:6])
    assert "cannot be made: permission denied" in said[6]


def _run(program: str, *words: str) -> str:
    done = subprocess.run(
        [sys.executable, "-c", program, *words],
        capture_output=True,
        text=True,
        check=False,
        timeout=240,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_damage_that_python_cannot_read_is_told_as_damage() -> None:
    """SQLite's own message may repeat bytes of the file that are no text."""
    from shadecore.book import database  # noqa: PLC0415

    with (
        pytest.raises(BookError, match="damaged"),
        database._in_words(Path("book.sqlite")),
    ):
        b"\xe8".decode()
