"""Commands that write, ended by kill -9 at random moments, and what they leave.

A server process imports the command line once and forks a child for each kill, so that
a kill costs no start of Python. In the child a file is written slowly, half by half, so
that many kills fall into the middle of it.
"""

import contextlib
import json
import os
import signal
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from typing import Final, Self

from shadecore.book.book import open_book
from shadecore.cli import main
from shadecore.datafiles import data_file

from .command import OLD, Quiet, left_behind, unwhole

_HALF_S: Final = 0.1
_MEAN_S: Final = 0.3
_TIMES: Final = 10_000
_BOOK: Final = "book.sqlite"
_RED: Final = ("45", "60", "35")
_JOB: Final = str(data_file("demo-job.toml"))
COMMANDS: Final[dict[str, tuple[tuple[str, ...], str]]] = {
    "chart": (("chart", "COLOURS", "--out", "OUT"), "out.csv"),
    "sheet": (("plan", "JOB", "--out", "OUT"), "out.html"),
    "printed sheet": (("plan", "JOB", "--out", "OUT"), "out.pdf"),
    "calendar": (("plan", "JOB", "--out", "OUT"), "out.ics"),
    "handout": (("handout", *_RED, "--out", "OUT"), "out.html"),
    "wall chart": (("wallchart", "COLOURS", "--out", "OUT"), "out.pdf"),
    "keep": (("pick", *_RED, "--book", "BOOK", "--keep", "NEW"), ""),
    "add": (("book", "add", "colours", "NEW", *_RED, "--book", "BOOK"), ""),
    "import": (("book", "import", "colours", "COLOURS", "--yes", "--book", "BOOK"), ""),
    "remove": (("book", "remove", "colours", "Kept", "--book", "BOOK"), ""),
    "export": (
        ("book", "export", "colours", "--out", "OUT", "--book", "BOOK"),
        "out.csv",
    ),
    "back up": (("book", "backup", "OUT", "--book", "BOOK"), "out.backup"),
    "restore": (("book", "restore", "GIVEN", "--book", "BOOK"), ""),
}
"""Words of each command that writes, and what it writes beside the book."""


class Server:
    """The process that forks a child for each kill."""

    def __init__(self) -> None:
        self._process = subprocess.Popen(
            [sys.executable, "-m", __name__],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            cwd=Path(__file__).parents[1],
        )

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._process.communicate()

    def kill(self, words: list[str], after_s: float) -> None:
        """Let a command run again and again, and kill it.

        Parameters
        ----------
        words : list of str
            The command; ``NEW`` is another name each time.
        after_s : float
            How long it may run. [s]
        """
        self._say({"words": words, "times": _TIMES})
        pid = int(self._line())
        time.sleep(after_s)
        os.kill(pid, signal.SIGKILL)
        assert self._line() == "over"

    def run(self, words: list[str]) -> None:
        """Let a command run once, to its end."""
        self._say({"words": words, "times": 1})
        assert self._line() == "over"

    def _say(self, order: dict[str, object]) -> None:
        assert self._process.stdin is not None
        self._process.stdin.write(f"{json.dumps(order)}\n")
        self._process.stdin.flush()

    def _line(self) -> str:
        assert self._process.stdout is not None
        return self._process.stdout.readline().strip()


@dataclass
class Kills:
    """What kills left.

    Attributes
    ----------
    done : Counter of str
        Kills by command.
    in_the_middle : int
        Kills that left a part of a file, which the next write removed.
    faults : list of str
        What was damaged or left.
    """

    done: Counter[str] = field(default_factory=Counter)
    in_the_middle: int = 0
    faults: list[str] = field(default_factory=list)


def said(found: Kills) -> Iterator[str]:
    """A report in lines.

    Parameters
    ----------
    found : Kills
        The report.

    Yields
    ------
    str
    """
    yield from found.faults
    for name, count in found.done.items():
        yield f"{name:16} {count:6} kills"
    yield (
        f"{found.done.total()} kills, {found.in_the_middle} within the writing of a "
        f"file, {len(found.faults)} faults"
    )


def kill_many(seed: int, count: int, names: Sequence[str] = tuple(COMMANDS)) -> Kills:
    """Kill the commands in turn.

    Parameters
    ----------
    seed : int
        Of the moments.
    count : int
        How many kills.
    names : sequence of str
        Commands that take turns.

    Returns
    -------
    Kills
    """
    rng = Random(seed)  # noqa: S311 - nothing secret
    found = Kills()
    with Server() as server:
        for number in range(count):
            name = names[number % len(names)]
            with TemporaryDirectory() as folder:
                said = list(_kill_one(server, name, Path(folder), rng, found))
            found.done[name] += 1
            found.faults += [f"kill {number} of seed {seed}, {name}: {s}" for s in said]
    return found


def _kill_one(
    server: Server, name: str, folder: Path, rng: Random, found: Kills
) -> Iterator[str]:
    words, out = COMMANDS[name]
    places = _places(folder, out)
    placed = [places.get(each, each) for each in words]
    with open_book(folder / _BOOK):
        pass
    server.run(["book", "add", "colours", "Kept", *_RED, "--book", places["BOOK"]])
    server.run(["book", "backup", places["GIVEN"], "--book", places["BOOK"]])
    if out:
        (folder / out).write_bytes(OLD)
    server.kill(placed, rng.expovariate(1.0 / _MEAN_S))
    found.in_the_middle += any(folder.glob(".*.part"))
    if out and (folder / out).read_bytes() != OLD:
        yield from unwhole(folder / out)
    with open_book(folder / _BOOK) as book:
        yield from book.check()
    if name == "remove":
        server.run(["book", "add", "colours", "Kept", *_RED, "--book", places["BOOK"]])
    server.run(placed)
    if out:
        yield from unwhole(folder / out)
        if (folder / out).read_bytes() == OLD:
            yield "cannot write any more"
    yield from _left(folder, {_BOOK, out, "given.backup"})


def _left(folder: Path, known: set[str]) -> Iterator[str]:
    """What is wrong with the book and its copies, and what else lies there."""
    # A restore keeps the book that it takes the place of, for whoever wants it back.
    copies = {each.name for each in folder.glob(f"{_BOOK}-before-restore-*.sqlite")}
    for name in (_BOOK, *copies):
        with open_book(folder / name) as book:
            yield from book.check()
    left = left_behind(folder, known | copies)
    if left:
        yield f"leaves {left}"


def _places(folder: Path, out: str) -> dict[str, str]:
    """What the words of a command stand for, and where that is."""
    return {
        "OUT": str(folder / out),
        "BOOK": str(folder / _BOOK),
        "COLOURS": str(data_file("demo-colours.csv")),
        "JOB": _JOB,
        "GIVEN": str(folder / "given.backup"),
    }


def serve() -> None:
    """Fork a child for each order, and say when it is over."""
    # What takes long to load is loaded before, and not in each child.
    with Quiet(), TemporaryDirectory() as folder:
        for words, out in COMMANDS.values():
            places = _places(Path(folder), out)
            with contextlib.suppress(SystemExit):
                main([places.get(each, each) for each in words])
    for line in sys.stdin:
        order = json.loads(line)
        child = os.fork()
        if not child:
            _work(order["words"], order["times"])
            os._exit(0)
        os.waitpid(child, 0)
        _told("over")


def _work(words: list[str], times: int) -> None:
    with Quiet():
        for count in range(times):
            placed = [f"New {count}" if word == "NEW" else word for word in words]
            with contextlib.suppress(SystemExit):
                main(placed)
            if count == 0 and times > 1:
                # By now all is loaded, so that the kill falls into the work itself.
                _write_slowly()
                os.write(1, f"{os.getpid()}\n".encode())
    if times > 1:
        # Stay to be killed, so that the process id means nobody else.
        time.sleep(60)


def _write_slowly() -> None:
    whole = Path.write_bytes

    def slowly(path: Path, content: bytes) -> int:
        with path.open("wb") as file:
            for part in (content[: len(content) // 2], content[len(content) // 2 :]):
                file.write(part)
                file.flush()
                time.sleep(_HALF_S)
        return len(content)

    assert whole is not slowly
    Path.write_bytes = slowly  # type: ignore[method-assign]


def _told(what: object) -> None:
    sys.stdout.write(f"{what}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    serve()
