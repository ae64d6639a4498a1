"""The words about the shop's book: which one, whose loading, what is kept.

The rooms of the book are loaded only where one of these words is given, so that other
answers need not wait for a database.
"""

import argparse
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from shadecore.colour.condition import Condition
from shadecore.colour.topcoat import parse_topcoat
from shadecore.commands.ask_condition import condition_of
from shadecore.commands.ask_film import KEPT
from shadecore.errors import ShadecoreError
from shadecore.pages.letterhead import BARE, Letterhead
from shadecore.question.question import Question
from shadecore.undercoats.shelf import Shelf

if TYPE_CHECKING:
    from shadecore.book.book import Book
    from shadecore.book.kept import Kept
    from shadecore.book.records import BookColour
    from shadecore.job.estimate import ShopRates
    from shadecore.job.own_steps import StepChange


def add_book(
    parser: argparse.ArgumentParser, what: str = "the colour with its question"
) -> None:
    """Take what the shop's book says, and what it is to keep.

    Parameters
    ----------
    parser : argparse.ArgumentParser
        Of a command with the words of a gun.
    what : str
        What ``--keep`` keeps; empty for a command that keeps nothing.
    """
    group = parser.add_argument_group(
        "the shop's book",
        "Used only where one of these, a gun's name or kept:NAME is given.",
    )
    group.add_argument(
        "--book",
        nargs="?",
        const="",
        metavar="FILE",
        help="answer with the shelf, paint line, gun and units in use, of the shop's "
        "own book or of FILE",
    )
    group.add_argument(
        "--line",
        metavar="NAME",
        help="paint line, to use what was learned of it; '' to use nothing of any line",
    )
    if what:
        group.add_argument(
            "--keep",
            metavar="NAME",
            help=f"keep {what} and what was seen of it",
        )


def add_gun_name(parser: argparse.ArgumentParser) -> None:
    """Take a gun of the book, where the command takes no gun otherwise.

    Parameters
    ----------
    parser : argparse.ArgumentParser
        Of a command.
    """
    parser.add_argument(
        "--gun",
        action="append",
        default=[],
        metavar="NAME",
        help="gun of the shop's book, to use what was learned of it; '' for none",
    )


def book_file(options: argparse.Namespace) -> Path:
    """File of the book that is meant.

    Parameters
    ----------
    options : argparse.Namespace
        Of a command; without :func:`add_book` the shop's own book is meant.

    Returns
    -------
    Path
        It need not be there.
    """
    from shadecore.book.where import book_path  # noqa: PLC0415 - see above

    named = getattr(options, "book", None)
    return Path(named).expanduser() if named else book_path()


def opened(options: argparse.Namespace, *, new: bool = False) -> "Book":
    """Open the book that is meant.

    Parameters
    ----------
    options : argparse.Namespace
        Of a command; without :func:`add_book` the shop's own book is meant.
    new : bool
        Whether one may be begun.

    Returns
    -------
    Book

    Raises
    ------
    BookError
        If it cannot be opened, or is not there and may not be begun.
    """
    from shadecore.book.book import open_book  # noqa: PLC0415 - see above
    from shadecore.book.errors import BookError  # noqa: PLC0415

    path = book_file(options)
    if not new and not path.exists():
        message = (
            f"There is no book {path} yet; begin one with --keep NAME or with "
            "shadecore book add."
        )
        raise BookError(message)
    return open_book(path)


@contextmanager
def rehearsed(options: argparse.Namespace) -> Iterator["Book"]:
    """Open the book to see what would be done; where there is none, an empty one.

    Parameters
    ----------
    options : argparse.Namespace
        Of a command.

    Yields
    ------
    Book
        Nothing of it is left where the book that is meant is not there.
    """
    if book_file(options).exists():
        with opened(options) as book:
            yield book
        return
    from shadecore.book.book import open_book  # noqa: PLC0415 - see above

    with (
        tempfile.TemporaryDirectory() as folder,
        open_book(Path(folder) / "book.sqlite") as book,
    ):
        yield book


def first_question(options: argparse.Namespace) -> Question:
    """What a question begins with: as the shop has it, where ``--book`` is given.

    Parameters
    ----------
    options : argparse.Namespace
        Of any command.

    Returns
    -------
    Question
        As usual without ``--book``.
    """
    if getattr(options, "book", None) is None:
        return Question()
    from shadecore.book.working import shop_question  # noqa: PLC0415

    with opened(options, new=keeps(options)) as book:
        return shop_question(book)


def kept_shelf(options: argparse.Namespace, written: str) -> Shelf:
    """A shelf of the book.

    Parameters
    ----------
    options : argparse.Namespace
        Of a command.
    written : str
        ``kept:`` and its name.

    Returns
    -------
    tuple of Undercoat
    """
    from shadecore.book.records import BookShelf  # noqa: PLC0415

    with opened(options) as book:
        return book.show(BookShelf, bare_name(written)).thing.shelf


def kept_steps(options: argparse.Namespace, written: str) -> "tuple[StepChange, ...]":
    """A set of the shop's own steps.

    Parameters
    ----------
    options : argparse.Namespace
        Of a command.
    written : str
        ``kept:`` and its name.

    Returns
    -------
    tuple of StepChange
        What is done otherwise than usual.
    """
    from shadecore.book.shop_records import BookSteps  # noqa: PLC0415

    with opened(options) as book:
        return book.show(BookSteps, bare_name(written)).thing.changes


def kept_rates(options: argparse.Namespace) -> "ShopRates | None":
    """The rates of the shop's estimates, where words ask for its book.

    Parameters
    ----------
    options : argparse.Namespace
        Of the command ``plan``.

    Returns
    -------
    ShopRates or None
        None without ``--book`` or ``kept:NAME``, and where the book keeps none.
    """
    if not _asks_book(options):
        return None
    with opened(options, new=keeps(options)) as book:
        return book.settings().thing.rates


def kept_letterhead(options: argparse.Namespace) -> Letterhead:
    """What the shop's prints carry, where words ask for its book.

    Parameters
    ----------
    options : argparse.Namespace
        Of a command that prints.

    Returns
    -------
    Letterhead
        Bare without ``--book`` or ``kept:NAME``.
    """
    if not _asks_book(options):
        return BARE
    with opened(options, new=keeps(options)) as book:
        settings = book.settings().thing
    return Letterhead(settings.shop, settings.paper)


def _asks_book(options: argparse.Namespace) -> bool:
    """Whether ``--book`` is given, or the job or the colour is one of the book's."""
    named = getattr(options, "job", None) or " ".join(getattr(options, "colour", ()))
    return getattr(options, "book", None) is not None or named.startswith(KEPT)


def is_kept(options: argparse.Namespace, written: str, condition: Condition) -> bool:
    """Whether words name a colour of the book.

    Parameters
    ----------
    options : argparse.Namespace
        Of a command.
    written : str
        The words.
    condition : Condition
        That a colour would be read under.

    Returns
    -------
    bool
        True after ``kept:``; with ``--book`` also where they do not read as a colour.
    """
    if written.startswith(KEPT):
        return True
    if not written or getattr(options, "book", None) is None:
        return False
    try:
        parse_topcoat(written, condition)
    except ShadecoreError:
        return True
    return False


def kept_question(options: argparse.Namespace, written: str) -> Question:
    """The question that a colour was kept with.

    Parameters
    ----------
    options : argparse.Namespace
        Of a command.
    written : str
        Its name, with or without ``kept:``.

    Returns
    -------
    Question

    Raises
    ------
    BookError
        If the book holds no such colour.
    """
    from shadecore.book.asking import question_of  # noqa: PLC0415

    with opened(options) as book:
        kept = _colour(book, written)
        read = question_of(book, kept)
    for problem in read.problems:
        sys.stderr.write(f"shadecore: {kept.thing.name!r} in the book: {problem}\n")
    return read.question


def keeps(options: argparse.Namespace) -> bool:
    """Whether something is to be kept.

    Parameters
    ----------
    options : argparse.Namespace
        Of any command.

    Returns
    -------
    bool
    """
    return getattr(options, "keep", None) is not None


def bare_name(written: str) -> str:
    """A name without the ``kept:`` before it.

    Parameters
    ----------
    written : str
        With or without.

    Returns
    -------
    str
    """
    return written.removeprefix(KEPT).strip()


def _colour(book: "Book", written: str) -> "Kept[BookColour]":
    from shadecore.book.records import BookColour  # noqa: PLC0415

    return book.show(BookColour, bare_name(written))


def kept_colour(options: argparse.Namespace, book: "Book") -> "Kept[BookColour] | None":
    """The colour of the book that is asked about.

    Parameters
    ----------
    options : argparse.Namespace
        Of any command.
    book : Book
        The book.

    Returns
    -------
    Kept of BookColour or None
        None where it is another colour.
    """
    written = " ".join(getattr(options, "colour", ()))
    if not written or not is_kept(options, written, condition_of(options)):
        return None
    return _colour(book, written)
