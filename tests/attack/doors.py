"""Everything that reads what somebody gives, and how it is asked to."""

import shlex
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, partial
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from typing import Final

from shadecore.datafiles import data_file
from shadecore.errors import ShadecoreError
from shadecore.formats.packed import pack, unpack
from shadecore.job.days import parse_days
from shadecore.job.job_link import read_job_link, read_products_link
from shadecore.question.link import from_link, to_link
from shadecore.screens.lesson.link import read_guess, read_lesson

from . import given
from .command import Outcome, run_command
from .mutate import harmed, mutated, mutated_bytes

Door = Callable[[Random, Path], Outcome]
"""Puts one damaged input to a door, in an empty folder."""
RED: Final = ("45", "60", "35")
_PACKED: Final = (".z", "job", "products")
_PICK: Final = ("pick", *RED, "--no-mixing")


@dataclass(frozen=True)
class FileDoor:
    """A command that reads a file.

    Attributes
    ----------
    words : tuple of str
        The command; ``FILE`` stands for the damaged file, ``OUT`` for what it writes.
    inputs : callable
        Gives contents that can be read.
    end : str
        Of the damaged file's name.
    out : str
        Name of what it writes; empty where it writes nothing.
    """

    words: tuple[str, ...]
    inputs: Callable[[], Sequence[str | bytes]]
    end: str = ".csv"
    out: str = ""

    def __call__(self, rng: Random, folder: Path) -> Outcome:
        """Damage a file and run the command on it."""
        content = rng.choice(self.inputs())
        raw = content.encode() if isinstance(content, str) else content
        path = folder / f"given{self.end}"
        path.write_bytes(mutated_bytes(raw, rng))
        places = {
            "FILE": str(path),
            "OUT": str(folder / self.out),
            "JOB": str(data_file("demo-job.toml")),
            "COLOURS": str(data_file("demo-colours.csv")),
        }
        words = [places.get(each, each) for each in self.words]
        return run_command(words, folder, self.out)


def colour_words(rng: Random, folder: Path) -> Outcome:
    """Words of a colour on the command line."""
    text = mutated(rng.choice(given.WORDS), rng)[:10_000]
    words = [each.replace("\x00", "") for each in text.split() or [text]]
    return run_command(["pick", *words, "--no-mixing"], folder)


def took_words(rng: Random, folder: Path) -> Outcome:
    """What a paint took, and numbers of options."""
    took = mutated(rng.choice(given.TOOK), rng)[:10_000].replace("\x00", "")
    number = mutated("10", rng)[:2_000].replace("\x00", "")
    option = rng.choice(
        ("--film", "--tolerance", "--cap", "--mix", "--gun", "--solids")
    )
    words = rng.choice(([f"--took={took}"], [f"{option}={number}"]))
    return run_command([*_PICK, *words], folder)


def link(rng: Random, folder: Path) -> Outcome:  # noqa: ARG001 - it reads no file
    """Parameters of a link, a job's and a product sheet's among them."""
    query = damaged_link(rng)
    outcome = Outcome(shown=shlex.join(f"{k}={v[:300]}" for k, v in query.items()))
    read = from_link(query)
    outcome.messages += read.problems
    # What was taken is written and read back without loss.
    again = from_link(to_link(read.question))
    if again.question != read.question or again.problems:
        outcome.faults.append("what was taken of a link is not read back equal")
    for reader in (
        partial(read_job_link, query, read.question),
        partial(read_products_link, query),
        partial(read_lesson, query, read.question),
        partial(read_guess, query),
    ):
        try:
            reader()
        except ShadecoreError as error:
            outcome.messages += (str(error),)
    return outcome


def damaged_link(rng: Random, rounds: int = 2) -> dict[str, str]:
    """Parameters of a link, some of them damaged within what is packed, too."""
    query = dict(rng.choice(given.links()))
    for _ in range(rng.randrange(1, rounds + 1)):
        name = rng.choice(list(query))
        text = query[name]
        if name.endswith(_PACKED) and rng.random() < 0.8:
            try:
                query[name] = pack(mutated(unpack(text, name), rng))
            except (ShadecoreError, UnicodeEncodeError):
                query[name] = mutated(text, rng)
        else:
            query[name] = mutated(text, rng)
        if rng.random() < 0.1:
            query[mutated(name, rng)] = query.pop(name)
    return query


def days(rng: Random, folder: Path) -> Outcome:  # noqa: ARG001 - it reads no file
    """A forecast, which only the page reads."""
    text = mutated(rng.choice(given.DAYS), rng)
    outcome = Outcome(shown=text[:300])
    try:
        parse_days(text, "forecast")
    except ShadecoreError as error:
        outcome.messages += (str(error),)
    return outcome


def photo(rng: Random, folder: Path) -> Outcome:
    """A picture file, damaged as pictures are."""
    from test_photo_fuzz import damaged  # noqa: PLC0415 - slow to load

    content, name = damaged(rng.randrange(1_000_000))
    path = folder / name
    path.write_bytes(content)
    places = ["--swatch", "10,10,40,40", "--reference", "60,60,90,90"]
    return run_command(["photo", str(path), *places], folder)


def the_book_itself(rng: Random, folder: Path) -> Outcome:
    """A book whose file was damaged: it is opened, or refused and left as it was."""
    path = folder / "book.sqlite"
    content = harmed(_book(), rng)
    path.write_bytes(content)
    verb = rng.choice((["check"], ["list", "colours"], ["search", "brick"]))
    return run_command(["book", *verb, "--book", str(path)], folder)


def backup(rng: Random, folder: Path) -> Outcome:
    """A damaged backup is put into the place of a book, or refused."""
    whole, bad = folder / "book.sqlite", folder / "backup"
    whole.write_bytes(_book())
    bad.write_bytes(harmed(_book(), rng))
    return run_command(["book", "restore", str(bad), "--book", str(whole)], folder)


@cache
def _book() -> bytes:
    """A small book's file, made once."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "made.sqlite"
        for number, words in enumerate(given.WORDS[:4]):
            words_of = ["book", "add", "colours", f"Brick {number}", *words.split()]
            run_command([*words_of, "--book", str(path)], Path(folder))
        run_command(
            ["book", "backup", f"{path}.whole", "--book", str(path)], Path(folder)
        )
        return Path(f"{path}.whole").read_bytes()


def _import(kind: str) -> tuple[str, ...]:
    return ("book", "import", kind, "FILE", "--yes", "--book", "OUT")


def _instrument(end: str) -> Callable[[], Sequence[bytes]]:
    return lambda: (given.instruments()[end],)


_ROW: Final = "out.csv"
DOORS: Final[Mapping[str, Door]] = {
    "colour words": colour_words,
    "what it took": took_words,
    "link": link,
    "days": days,
    "colours": FileDoor(
        ("chart", "FILE", "--out", "OUT"), lambda: given.COLOURS, out=_ROW
    ),
    "shelf": FileDoor(
        ("chart", "COLOURS", "--undercoats", "FILE", "--out", "OUT"),
        lambda: given.SHELVES,
        out=_ROW,
    ),
    "records": FileDoor((*_PICK, "--seen", "FILE"), lambda: (given.SEEN,)),
    "card": FileDoor((*_PICK, "--card", "FILE"), lambda: given.CARDS),
    "angles": FileDoor(
        ("pick", "--kind", "metallic", "--angles", "FILE", "--no-mixing"),
        lambda: given.ANGLES,
    ),
    "spectrum": FileDoor(
        ("pick", "--spectrum", "FILE", "--no-mixing"), lambda: given.SPECTRA
    ),
    "panel": FileDoor(("midcoats", "FILE"), lambda: given.PANELS),
    "candy": FileDoor(("candy", "FILE"), lambda: given.STRIPS),
    "own colours": FileDoor(
        ("grounds", *RED, "--colours", "FILE"), lambda: given.COLOURS[:1]
    ),
    "job": FileDoor(("plan", "FILE", "--out", "OUT"), given.jobs, ".toml", "out.html"),
    "calendar": FileDoor(
        ("plan", "FILE", "--out", "OUT"), given.jobs, ".toml", "out.ics"
    ),
    "products": FileDoor(
        ("plan", "JOB", "--products", "FILE", "--out", "OUT"),
        given.sheets,
        ".toml",
        "out.html",
    ),
    "book's colours": FileDoor(
        _import("colours"), lambda: given.COLOURS, out="b.sqlite"
    ),
    "book's CGATS": FileDoor(
        _import("colours"), _instrument(".txt"), ".txt", "b.sqlite"
    ),
    "book's CxF": FileDoor(_import("colours"), _instrument(".cxf"), ".cxf", "b.sqlite"),
    "book's shelf": FileDoor(_import("shelves"), lambda: given.SHELVES, out="b.sqlite"),
    "book's job": FileDoor(_import("jobs"), given.jobs, ".toml", "b.sqlite"),
    "book's steps": FileDoor(_import("steps"), given.step_sets, ".toml", "b.sqlite"),
    "book's records": FileDoor(
        _import("records"), lambda: (given.SEEN,), out="b.sqlite"
    ),
    "book": the_book_itself,
    "backup": backup,
    "photo": photo,
}
"""All of them by name."""
