"""Kill -9 at random moments, and a disk that fills: changes are whole or not there.

The suite does it a few times; ``python tests/test_book_kills.py 200`` does it 200 times
for each kind of work.
"""

import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from shadecore.book.book import Book, open_book
from shadecore.book.errors import BookConflict, BookError
from shadecore.book.records import BookColour, BookSeen, BookShelf, Stocked
from shadecore.book.schema import MIGRATIONS, VERSION, Migration
from shadecore.undercoats.shelf_table import demo_shelf

IMPORTED = 400
_MOST_RESTORES = 40
"""More than are done before the kill; a restore on a full disk fails at the first."""
MANY = 3000
LATER = (
    *MIGRATIONS,
    Migration(
        VERSION + 1,
        (
            "ALTER TABLE colours ADD COLUMN shade TEXT NOT NULL DEFAULT ''",
            "UPDATE colours SET shade = lower(name) || name || search",
            "UPDATE colours SET name_key = name_key || '!'",
            "CREATE INDEX colours_by_shade ON colours (shade)",
        ),
    ),
)
"""A version that might come, which takes a moment."""
pytestmark = pytest.mark.skipif(os.name != "posix", reason="needs Unix signals")


def colour(name: str) -> BookColour:
    """A colour."""
    return BookColour(name, (45.0, 60.0, 35.0), note="n" * 300)


def write(book: Book) -> None:
    """Add pairs of things in one change each, and change one, until killed."""
    shelf = tuple(Stocked(each) for each in demo_shelf())
    _ready()
    for count in range(100_000):
        with book.changing("a pair") as pair:
            (kept,) = pair.add(_kind(BookColour), (colour(f"Colour {count}"),))
            pair.add(_kind(BookSeen), (BookSeen(kept.uid, "job", 1, 2),))
        book.rename(kept, f"Colour {count}, renamed")
        if count % 10 == 0:
            book.add(BookShelf(f"Shelf {count}", shelf))
        _say(count)


def import_many(book: Book) -> None:
    """Import colours over and over until killed."""
    _ready()
    for count in range(100_000):
        colours = tuple(colour(f"{count} {i}") for i in range(IMPORTED))
        book.apply(book.plan_import(colours))
        _say(count)


def migrate(book: Book) -> None:
    """Bring the book to a later version."""
    path = book.path
    book.close()
    _ready()
    Book(path, LATER).close()
    _say(0)


def restore(book: Book) -> None:
    """Put one backup and then another in the place of the book, until killed."""
    _ready()
    for count in range(_MOST_RESTORES):
        book.restore(book.path.with_name("backup" if count % 2 else "empty"))
        _say(count)


WORK = {each.__name__: each for each in (write, import_many, migrate, restore)}


def _kind(record):  # noqa: ANN001, ANN202
    from shadecore.book.kinds import kind_of  # noqa: PLC0415

    return kind_of(record)


def _ready() -> None:
    _say(f"ready {os.getpid()}")


def _say(what: object) -> None:
    sys.stdout.write(f"{what}\n")
    sys.stdout.flush()


class Workers:
    """A process that has all imported and forks one worker after another.

    So a kill costs no start of Python.
    """

    def __init__(self) -> None:
        self.server = subprocess.Popen(
            [sys.executable, __file__, "--serve"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )

    def start(self, work: str, path: Path, most: int) -> int:
        """Start the work, and give its process id."""
        assert self.server.stdin is not None
        assert self.server.stdout is not None
        self.server.stdin.write(f"{work} {most} {path}\n")
        self.server.stdin.flush()
        ready, _, pid = self.server.stdout.readline().partition(" ")
        assert ready == "ready"
        return int(pid)

    def said(self) -> list[str]:
        """What the work said until it was over."""
        assert self.server.stdout is not None
        return list(iter(self.server.stdout.readline, "over\n"))

    def kill_once(self, work: str, path: Path, rng: random.Random) -> list[str]:
        """Start the work, kill it at a random moment, and give what it said."""
        pid = self.start(work, path, 0)
        time.sleep(rng.expovariate(1 / 0.25))
        os.kill(pid, signal.SIGKILL)
        return self.said()

    def fill_once(self, work: str, path: Path, rng: random.Random) -> list[str]:
        """Do the work with no file larger than some size, and give what it said."""
        most = path.stat().st_size + rng.randrange(1_500_000)
        self.start(work, path, most)
        return self.said()

    def close(self) -> None:
        """End the process."""
        self.server.communicate()


def serve() -> None:
    """Fork a worker for each line, and say when it is over."""
    for line in sys.stdin:
        work, most, path = line.strip().split(" ", 2)
        child = os.fork()
        if not child:
            if int(most):
                _until_full(work, path, int(most))
                os._exit(0)
            with open_book(path) as book:
                WORK[work](book)
            # Stay to be killed, so that the process id means nobody else.
            time.sleep(60)
            os._exit(0)
        os.waitpid(child, 0)
        _say("over")


def _until_full(work: str, path: str, most: int) -> None:
    """Do the work until no file may grow any more."""
    import resource  # noqa: PLC0415 - there is none on Windows

    with open_book(path) as book:
        resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))
        try:
            WORK[work](book)
        except BookError as error:
            _say(f"refused: {error}")


def hit_once(
    workers: Workers, work: str, folder: Path, rng: random.Random, *, full: bool
) -> None:
    """Kill the work at a random moment or fill its disk, and look at what it left."""
    path = folder / "book.sqlite"
    with open_book(path) as book:
        if work == "restore":
            book.backup(folder / "empty")
        if work in {"migrate", "restore"}:
            book.add_all([colour(f"Colour {i}") for i in range(MANY)])
            book.backup(folder / "backup")
    hit = workers.fill_once if full else workers.kill_once
    said = [line.strip() for line in hit(work, path, rng)]
    refused = [line for line in said if line.startswith("refused: ")]
    assert all(_told_well(line) for line in refused), refused
    assert refused or not full or work in {"migrate", "restore"}
    numbers = [int(each) for each in said if each.isdecimal()]
    done = len(numbers) and max(numbers) + 1
    LOOK[work](path, done)
    assert not list(folder.glob(".*"))


def _told_well(sentence: str) -> bool:
    """Whether a refusal is what somebody with a full disk can use."""
    return "cannot be written" in sentence and len(sentence) < 400


def _look_at_writes(path: Path, done: int) -> None:
    with open_book(path) as book:
        assert book.check() == ()
        colours, seen = book.list(BookColour), book.list(BookSeen)
        assert done <= len(colours) <= done + 1
        # Both of a pair are there, or neither.
        assert {each.thing.colour for each in seen} == {each.uid for each in colours}
        renamed = [each for each in colours if each.thing.name.endswith("renamed")]
        assert len(renamed) >= done
        assert all(each.version == 2 for each in renamed)
        book.add(colour("After"))


def _look_at_imports(path: Path, done: int) -> None:
    with open_book(path) as book:
        assert book.check() == ()
        count = len(book.list(BookColour))
        assert count in {done * IMPORTED, (done + 1) * IMPORTED}
        assert len(book.changes(500)) == count // IMPORTED


def _look_at_migration(path: Path, done: int) -> None:
    if done:
        assert path.with_name(f"book.sqlite.version-{VERSION}").exists()
    with Book(path, LATER) as book:
        assert book.check() == ()
        with book._database.raw() as direct:
            (count,) = direct.execute(
                "SELECT count(*) FROM colours WHERE shade LIKE '%colour%' "
                "AND name_key LIKE '%!' AND name_key NOT LIKE '%!!'"
            ).fetchone()
        assert count == MANY


def _look_at_restores(path: Path, _done: int) -> None:
    with open_book(path) as book:
        assert book.check() == ()
        assert len(book.list(BookColour)) in {0, MANY}


LOOK = {
    "write": _look_at_writes,
    "import_many": _look_at_imports,
    "migrate": _look_at_migration,
    "restore": _look_at_restores,
}


@pytest.fixture(scope="module")
def workers() -> Iterator[Workers]:
    """One for all tests."""
    found = Workers()
    yield found
    found.close()


@pytest.mark.parametrize("work", WORK)
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_kill_leaves_each_change_whole_or_not_at_all(
    workers: Workers, work: str, seed: int, tmp_path: Path
) -> None:
    rng = random.Random(seed)  # noqa: S311 - nothing secret
    hit_once(workers, work, tmp_path, rng, full=False)


# Single writes on a full disk are in test_book_file.py; the command does all of them.
@pytest.mark.parametrize("work", ["import_many", "migrate"])
def test_a_full_disk_leaves_each_change_whole_or_not_at_all(
    workers: Workers, work: str, tmp_path: Path
) -> None:
    rng = random.Random(1)  # noqa: S311 - nothing secret
    hit_once(workers, work, tmp_path, rng, full=True)


def in_two(path: Path, work: Callable[[Book, str], None]) -> None:
    """Let two forked processes open the book at once and do the work."""
    children = []
    for who in ("one", "two"):
        child = os.fork()
        if not child:
            with open_book(path) as book:
                work(book, who)
            os._exit(0)
        children.append(child)
    assert [os.waitpid(child, 0)[1] for child in children] == [0, 0]


def two_processes(path: Path, times: int) -> None:
    """Two processes begin a book, add colours, and count up one that they share."""

    def add(book: Book, who: str) -> None:
        for i in range(times):
            book.add(colour(f"{who} {i}"))

    def count_up(book: Book, _who: str) -> None:
        for _ in range(times):
            while True:
                shared = book.show(BookColour, "Shared")
                more = replace(shared.thing, note=str(int(shared.thing.note) + 1))
                try:
                    book.change(shared, more)
                except BookConflict:
                    continue
                break

    in_two(path, add)
    with open_book(path) as book:
        names = {each.thing.name for each in book.list(BookColour)}
        assert names == {f"{who} {i}" for who in ("one", "two") for i in range(times)}
        book.add(replace(colour("Shared"), note="0"))
    in_two(path, count_up)
    with open_book(path) as book:
        assert book.show(BookColour, "Shared").thing.note == str(2 * times)
        assert book.check() == ()


def test_two_processes_lose_nothing(tmp_path: Path) -> None:
    path = str(tmp_path / "book.sqlite")
    words = [sys.executable, __file__, "--two", path, "60"]
    subprocess.run(words, check=True, timeout=240)


def main(times: int) -> None:
    """Kill many times, and let two processes write 1 000 changes each."""
    rng = random.Random()  # noqa: S311 - nothing secret
    workers = Workers()
    for work in WORK:
        for full in (False, True):
            for _ in range(times):
                with tempfile.TemporaryDirectory() as folder:
                    hit_once(workers, work, Path(folder), rng, full=full)
            what = "its disk was filled" if full else "killed"
            sys.stdout.write(f"{work}: {what} {times} times, nothing lost\n")
            sys.stdout.flush()
    workers.close()
    with tempfile.TemporaryDirectory() as folder:
        two_processes(Path(folder) / "book.sqlite", 1000)
    sys.stdout.write("two processes: 1 000 changes each, twice, none lost\n")


if __name__ == "__main__":
    if sys.argv[1] == "--serve":
        serve()
    elif sys.argv[1] == "--two":
        two_processes(Path(sys.argv[2]), int(sys.argv[3]))
    else:
        main(int(sys.argv[1]))
