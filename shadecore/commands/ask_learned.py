"""What the shop's book adds to a question, and how it keeps one once it is answered."""

import argparse
import sys
from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from shadecore.coats.loading import default_loading
from shadecore.commands.ask_book import bare_name, book_file, keeps, kept_colour, opened
from shadecore.commands.ask_film import gun_name
from shadecore.question.question import Question

if TYPE_CHECKING:
    from shadecore.book.book import Book
    from shadecore.book.kept import Kept
    from shadecore.book.records import BookColour
    from shadecore.book.shop_records import BookJob


def with_book(options: argparse.Namespace, question: Question) -> Question:
    """A question with what the book learned, and kept there where that is asked.

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
        If the book holds no such line or gun, or the name to keep is taken.
    """
    if keeps(options):
        _check_free(options)
    question = with_learned(options, question)
    if keeps(options):
        afterwards(options, lambda: _keep(options, question))
    return question


def with_learned(
    options: argparse.Namespace, question: Question, kept: "Kept[BookJob] | None" = None
) -> Question:
    """A question with what the book learned of the line and gun that are meant.

    Parameters
    ----------
    options : argparse.Namespace
        Of a parser with :func:`add_book` and the words of a gun.
    question : Question
        What all other words came to.
    kept : Kept of BookJob, optional
        The job that is planned again.

    Returns
    -------
    Question

    Raises
    ------
    BookError
        If the book holds no such line or gun.
    """
    named = (options.line, gun_name(options)) != (None, None)
    if not named and options.book is None:
        return question
    if not (options.line or gun_name(options) or book_file(options).exists()):
        # To use nothing of any line or gun, no book is needed.
        return replace(question, loading=default_loading())
    from shadecore.book.loadings import learned_loading  # noqa: PLC0415

    with opened(options, new=keeps(options)) as book:
        known = kept or kept_colour(options, book)
        if known is not None and not named:
            # What was kept has the loading that it was asked with.
            return question
        line, gun, batch = line_and_gun(options, book, known)
        if not (line or gun):
            return replace(question, loading=default_loading())
        own = "" if known is None else getattr(known.thing, "colour", known.uid)
        loading = learned_loading(book, line, gun, batch, leave_out=own)
    return replace(question, loading=loading)


def afterwards(options: argparse.Namespace, work: Callable[[], None]) -> None:
    """Do something once the command has answered, so that a failure keeps nothing.

    Parameters
    ----------
    options : argparse.Namespace
        Of a command.
    work : callable
        What is done.
    """
    options.afterwards = work


def _keep(options: argparse.Namespace, question: Question) -> None:
    from shadecore.book.asking import (  # noqa: PLC0415
        colour_of,
        keep,
        with_own_words,
    )

    with opened(options, new=True) as book:
        kept = kept_colour(options, book)
        line, gun, batch = line_and_gun(options, book, kept)
        colour = replace(colour_of(options.keep, question), line=line, gun=gun)
        again = kept if kept is not None and _same(kept, options.keep) else None
        if again is not None:
            colour = with_own_words(colour, again.thing)
        keep(book, colour, question.seen, batch=batch, onto=again)
        sys.stderr.write(f"shadecore: the book {book.path} keeps {colour.name!r}.\n")


def _check_free(options: argparse.Namespace) -> None:
    """Refuse a name that is taken before anything is answered."""
    from shadecore.book import checks  # noqa: PLC0415
    from shadecore.book.names import name_taken  # noqa: PLC0415
    from shadecore.book.records import BookColour  # noqa: PLC0415

    checks.name(options.keep, "The colour's name", needed=True)
    if not book_file(options).exists():
        return
    with opened(options) as book:
        kept = kept_colour(options, book)
        again = kept is not None and _same(kept, options.keep)
        if not again and book.called(BookColour, options.keep):
            raise name_taken(options.keep, "colour")


def _same(kept: "Kept[BookColour]", name: str) -> bool:
    from shadecore.book.kinds import folded  # noqa: PLC0415

    return folded(kept.thing.name) == folded(name)


def line_and_gun(
    options: argparse.Namespace, book: "Book", kept: "Kept[Any] | None"
) -> tuple[str, str, str]:
    """The paint line, its batch and the gun that are meant.

    Parameters
    ----------
    options : argparse.Namespace
        Of a parser with :func:`add_book` and the words of a gun.
    book : Book
        The book.
    kept : Kept of BookColour or BookJob, or None
        What is asked about again.

    Returns
    -------
    tuple of str
        ``uid`` of the line and of the gun, and the batch; empty for none. As given,
        else those of the kept thing, else those in use with ``--book``.

    Raises
    ------
    BookError
        If the book holds no such line or gun.
    """
    from shadecore.book.shop_records import PaintLine, SprayGun  # noqa: PLC0415
    from shadecore.book.working import batch_of  # noqa: PLC0415

    in_use = book.settings().thing if options.book is not None else None
    usual = in_use if kept is None else kept.thing
    line = "" if usual is None else usual.line
    gun = "" if usual is None else usual.gun
    if options.line is not None:
        line = book.show(PaintLine, bare_name(options.line)).uid if options.line else ""
    name = gun_name(options)
    if name is not None:
        gun = book.show(SprayGun, bare_name(name)).uid if name else ""
    return line, gun, batch_of(book, line)
