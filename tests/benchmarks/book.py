"""A large book beside an empty one: opening, searching, listing, learning, memory.

Run it by ``python tests/benchmarks/book.py``. The peer is a book without anything in
it, worked on in the same run.
"""

import math
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from itertools import count
from pathlib import Path

import numpy as np

from shadecore.book.asking import colour_of, keep
from shadecore.book.book import Book, open_book
from shadecore.book.learning import Observation, Usual, learn
from shadecore.book.records import BookColour
from shadecore.book.shop_records import BookJob, PaintLine
from shadecore.coats.seen import Seen
from shadecore.question.question import Question

COLOURS, JOBS = 20_000, 2_000
REPEATS = 7
_LEARNED = (
    "import sys, time; from shadecore.book.book import open_book; "
    "from shadecore.book.loadings import learned_loading; "
    "book = open_book(sys.argv[1]); start = time.perf_counter(); "
    "learned_loading(book, sys.argv[2]); print(time.perf_counter() - start)"
)
_MEMORY = (
    "import resource, sys; from shadecore.book.book import open_book; "
    "book = open_book(sys.argv[1]); "
    "[book.search(text) for text in ('', 'car 77', 'nothing')]; book.close(); "
    "print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)"
)


def main() -> None:
    """Time both."""
    with tempfile.TemporaryDirectory() as folder:
        empty, full = Path(folder) / "empty.sqlite", Path(folder) / "full.sqlite"
        open_book(empty).close()
        with open_book(full) as book:
            _fill(book)
        sys.stdout.write(f"{COLOURS} colours and {JOBS} jobs, beside an empty book\n")
        new = count(COLOURS)
        for name, work in (
            ("open", lambda _book: None),
            ("search for all", lambda book: book.search("")),
            ("search for some", lambda book: book.search("car 77")),
            ("search for one", lambda book: book.search("colour 19999")),
            ("search for none", lambda book: book.search("nothing of the kind")),
            ("show one by code", _show),
            ("last change", lambda book: book.last_change),
            ("newest fifty", lambda book: book.list(BookColour, limit=50)),
            ("add one", lambda book: book.add(_colour(next(new)))),
        ):
            _print(name, _seconds(full, work), _seconds(empty, work))
        large, small = (_memory(path) for path in (full, empty))
        sys.stdout.write(f"memory              {large:8.0f} MB {small:8.0f} MB\n")
        _print_learned(Path(folder) / "line.sqlite")
    _print("learn 2 000 records", _learning(2000), _learning(20))


def _fill(book: Book) -> None:
    spectrum = tuple(0.1 + i / 100 for i in range(31))
    book.add_all([_colour(i, spectrum) for i in range(COLOURS)])
    text = "# a job file\n" * 100
    book.add_all([BookJob(f"Job {i}", text, car=f"car {i}") for i in range(JOBS)])


def _colour(i: int, spectrum: tuple[float, ...] = ()) -> BookColour:
    return BookColour(
        f"Colour {i}", (45.0, 60.0, 35.0), reflectance=spectrum, code=f"C {i}",
        car=f"car {i % 997}",
    )  # fmt: skip


def _show(book: Book) -> None:
    for each in book.search("19999"):
        book.show(type(each.thing), each.uid)


def _seconds(path: Path, work: Callable[[Book], object]) -> float:
    times = []
    for _ in range(REPEATS):
        start = time.perf_counter()
        with open_book(path) as book:
            work(book)
        times.append(time.perf_counter() - start)
    return min(times)


def _memory(path: Path) -> float:
    words = [sys.executable, "-c", _MEMORY, str(path)]
    done = subprocess.run(words, capture_output=True, text=True, check=True)
    return float(done.stdout)


def _learning(records: int) -> float:
    rng = np.random.default_rng(1)
    usual = Usual(0.3, 0.5)
    counts = np.ceil(np.exp(rng.normal(0.7, 0.4, records))).astype(int)
    seen = [
        Observation(
            f"colour {i % 900}", f"line {i % 7}", f"gun {i % 4}", int(n), int(n),
            math.log(40.0), 0.3, 10.0,
        )
        for i, n in enumerate(counts)
    ]  # fmt: skip
    start = time.perf_counter()
    learn(seen, usual)
    return time.perf_counter() - start


def _print_learned(path: Path) -> None:
    """What a line taught, asked by one new process after another."""
    with open_book(path) as book:
        line = book.add(PaintLine("Invented line"))
        rng = np.random.default_rng(1)
        for i, lab in enumerate(rng.uniform((25, -40, -40), (75, 60, 60), (40, 3))):
            question = Question(" ".join(f"{value:.1f}" for value in lab))
            colour = replace(colour_of(f"Colour {i}", question), line=line.uid)
            seen = Seen("job", 3, 3, undercoat=question.shelf[i % 5])
            keep(book, colour, (seen,))
    words = [sys.executable, "-c", _LEARNED, str(path), line.uid]
    for which in ("first", "second"):
        done = subprocess.run(words, capture_output=True, text=True, check=True)
        name = f"learned, {which} time"
        sys.stdout.write(f"{name:<20}{float(done.stdout):8.4f} s  from 40 colours\n")


def _print(name: str, large: float, small: float) -> None:
    sys.stdout.write(
        f"{name:<20}{large:8.4f} s  {small:8.4f} s  +{large - small:.4f} s  "
        f"ratio {large / small:.1f}\n"
    )


if __name__ == "__main__":
    main()
