"""The words about the shop's book: which one, whose loading, what is kept.

The rooms of the book are loaded only where one of these words is given, so that other
answers need not wait for a database.
"""

import argparse
import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

from shadecore.colour.condition import Condition
from shadecore.colour.topcoat import parse_topcoat
from shadecore.commands.ask_condition import condition_of
from shadecore.commands.ask_film import gun_name
from shadecore.errors import ShadecoreError
from shadecore.question.question import Question
from shadecore.undercoats.shelf import Shelf

if TYPE_CHECKING:
    from shadecore.book.book import Book
    from shadecore.book.kept import Kept
    from shadecore.book.records import BookColour

KEPT: Final = "kept:"
"""Before a name that is always the book's."""


def add_book(parser: argparse.ArgumentParser) -> None:
    """Take what the shop's book says, and what it is to keep.

    Parameters
    ----------
    parser : argparse.ArgumentParser
        Of a command with the words of a gun.
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
        "--line", metavar="NAME", help="paint line, to use what was learned of it"
    )
    group.add_argument(
        "--keep",
        metavar="NAME",
        help="keep the colour with its question and what was seen of it",
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
        help="gun of the shop's book, to use what was learned of it",
    )


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
    from shadecore.book.where import book_path  # noqa: PLC0415

    named = getattr(options, "book", None)
    path = Path(named).expanduser() if named else book_path()
    if not new and not path.exists():
        message = (
            f"There is no book {path} yet; begin one with --keep NAME or with "
            "shadecore book add."
        )
        raise BookError(message)
    return open_book(path)


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

    with opened(options, new=_keeps(options)) as book:
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
        return book.show(BookShelf, written.removeprefix(KEPT).strip()).thing.shelf


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


def with_book(options: argparse.Namespace, question: Question) -> Question:
    """A question with what the book learned; kept there where that is asked.

    Parameters
    ----------
    options : argparse.Namespace
        Of a parser with :func:`add_book` and the words of a gun.
    question : Question
        What all other words came to.

    Returns
    -------
    Question

    Raises
    ------
    BookError
        If the book holds no such line or gun, or the colour cannot be kept.
    """
    words = (options.book, options.line, gun_name(options), options.keep)
    if words == (None, None, None, None):
        return question
    from shadecore.book.asking import colour_of, keep  # noqa: PLC0415
    from shadecore.book.loadings import learned_loading  # noqa: PLC0415

    with opened(options, new=_keeps(options)) as book:
        kept = _kept_colour(options, book)
        line, gun, batch = _line_and_gun(options, book, kept)
        if _learns(options, kept) and (line or gun):
            uid = "" if kept is None else kept.uid
            loading = learned_loading(book, line, gun, batch, leave_out=uid)
            question = replace(question, loading=loading)
        if options.keep is not None:
            colour = replace(colour_of(options.keep, question), line=line, gun=gun)
            again = kept if kept is not None and _same(kept, options.keep) else None
            keep(book, colour, question.seen, batch=batch, onto=again)
            sys.stderr.write(
                f"shadecore: the book {book.path} keeps {colour.name!r}.\n"
            )
    return question


def _keeps(options: argparse.Namespace) -> bool:
    return getattr(options, "keep", None) is not None


def _learns(options: argparse.Namespace, kept: "Kept[BookColour] | None") -> bool:
    """Whether a loading is to be learned: a kept colour has that of its question."""
    return kept is None or (options.line, gun_name(options)) != (None, None)


def _same(kept: "Kept[BookColour]", name: str) -> bool:
    from shadecore.book.kinds import folded  # noqa: PLC0415

    return folded(kept.thing.name) == folded(name)


def _colour(book: "Book", written: str) -> "Kept[BookColour]":
    from shadecore.book.records import BookColour  # noqa: PLC0415

    return book.show(BookColour, written.removeprefix(KEPT).strip())


def _kept_colour(
    options: argparse.Namespace, book: "Book"
) -> "Kept[BookColour] | None":
    written = " ".join(getattr(options, "colour", ()))
    if not written or not is_kept(options, written, condition_of(options)):
        return None
    return _colour(book, written)


def _line_and_gun(
    options: argparse.Namespace, book: "Book", kept: "Kept[BookColour] | None"
) -> tuple[str, str, str]:
    """``uid`` of the paint line and of the gun, and the batch; empty for none.

    As given, else those of the kept colour, else those in use with ``--book``.
    """
    from shadecore.book.shop_records import PaintLine, SprayGun  # noqa: PLC0415

    in_use = book.settings().thing if options.book is not None else None
    usual = in_use if kept is None else kept.thing
    line = "" if usual is None else usual.line
    gun = "" if usual is None else usual.gun
    if options.line is not None:
        line = book.show(PaintLine, options.line).uid
    name = gun_name(options)
    if name is not None:
        gun = book.show(SprayGun, name).uid
    batch = book.show(PaintLine, line).thing.batch if line else ""
    return line, gun, batch
