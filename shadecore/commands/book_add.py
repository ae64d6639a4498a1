"""Things that ``book add`` keeps, made of what stands on the command line."""

import argparse
from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime
from typing import Any, Final, NamedTuple

from shadecore.book.asked import asked_of
from shadecore.book.asking import colour_of, record_of
from shadecore.book.book import Book
from shadecore.book.errors import BookError
from shadecore.book.jobs import as_kept, refuse_twice
from shadecore.book.left_overs import left_over, sheets_of
from shadecore.book.records import BookCard, BookColour, BookShelf, Stocked
from shadecore.book.seen_file import known_greys
from shadecore.book.shop_records import (
    BookJob,
    BookLeftOver,
    BookSheet,
    BookSteps,
    PaintLine,
    SprayGun,
)
from shadecore.card.card_table import parse_card
from shadecore.coats.seen import SOURCES
from shadecore.coats.seen_table import HOW_TO_SAY, parse_took
from shadecore.commands.ask_colour import add_colour, with_colour
from shadecore.commands.ask_condition import add_condition, condition_of
from shadecore.film.build import DEFAULT_DRY_FILM_UM
from shadecore.formats.bad_rows import BadRow
from shadecore.formats.echo import shown
from shadecore.formats.table import read_text
from shadecore.formats.text_file import open_text
from shadecore.job.job_file import parse_job
from shadecore.job.step_files import parse_steps
from shadecore.products.sheet_file import read_sheet
from shadecore.question.question import Question
from shadecore.undercoats.shelf_table import parse_stock

_SHOWN: Final = ("code", "car", "who", "note")


class Added(NamedTuple):
    """What is to be kept.

    Attributes
    ----------
    thing : object
        The record.
    bad : tuple of BadRow
        Rows of its file that were left out.
    """

    thing: Any
    bad: tuple[BadRow, ...] = ()


class Adding(NamedTuple):
    """How a kind of thing is added.

    Attributes
    ----------
    words : callable
        Puts what it takes on a parser.
    make : callable
        Makes it of what was given.
    """

    words: Callable[[argparse.ArgumentParser], None]
    make: Callable[[argparse.Namespace, Book], Added]


def _texts(parser: argparse.ArgumentParser, *names: str) -> None:
    for name in names:
        parser.add_argument(f"--{name}", metavar="TEXT", default="")


def _belongs(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--line", metavar="NAME", help="paint line of the book")
    parser.add_argument("--gun", metavar="NAME", help="gun of the book")


def _given(options: argparse.Namespace, *names: str) -> dict[str, Any]:
    return {name: getattr(options, name) for name in names}


def _links(options: argparse.Namespace, book: Book) -> dict[str, Any]:
    """``uid`` of the paint line and of the gun; empty where none was named."""
    line, gun = options.line, options.gun
    return {
        "line": "" if line is None else book.show(PaintLine, line).uid,
        "gun": "" if gun is None else book.show(SprayGun, gun).uid,
    }


def _colour_words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("name")
    add_colour(parser)
    add_condition(parser)
    _texts(parser, *_SHOWN)
    _belongs(parser)


def _colour(options: argparse.Namespace, book: Book) -> Added:
    question = Question(condition=condition_of(options))
    colour = colour_of(options.name, with_colour(options, question))
    about = _given(options, *_SHOWN)
    # Only kept: the question is left open, so that the shop's own answers it.
    return Added(replace(colour, question={}, **about, **_links(options, book)))


def _job_words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("name")
    parser.add_argument("file", metavar="FILE", help="job file (TOML)")
    parser.add_argument("--colour", metavar="NAME", help="colour of the book")
    _texts(parser, *_SHOWN, "plate", "customer")
    _belongs(parser)


def _job(options: argparse.Namespace, book: Book) -> Added:
    text = read_text(options.file)
    request = parse_job(text, options.file)
    refuse_twice(book, request)
    named = options.colour
    colour = "" if named is None else book.show(BookColour, named).uid
    about = _given(options, *_SHOWN, "plate", "customer")
    job = BookJob(options.name, text, colour=colour, **about, **_links(options, book))
    return Added(as_kept(replace(request, name=options.name), job, text=text))


def _shelf_words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("name")
    parser.add_argument(
        "file", metavar="FILE", help="CSV with name,L and a,b,price,unit,stock"
    )
    add_condition(parser)
    _texts(parser, "note")


def _shelf(options: argparse.Namespace, _: Book) -> Added:
    text, condition = open_text(options.file), condition_of(options)
    shelf, bad = parse_stock(text, options.file, condition)
    items = tuple(Stocked(*each) for each in shelf)
    return Added(BookShelf(options.name, items, options.note), bad)


def _record_words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("colour", metavar="COLOUR", help="colour of the book")
    parser.add_argument("took", metavar="COATS", help=HOW_TO_SAY)
    parser.add_argument("--source", choices=SOURCES, help="job unless given")
    parser.add_argument("--job", metavar="NAME", help="job of the book")
    parser.add_argument("--film", type=float, metavar="UM", help="dry film of a coat")
    _texts(parser, "batch", "who", "note")
    _belongs(parser)


def _record(options: argparse.Namespace, book: Book) -> Added:
    colour = book.show(BookColour, options.colour)
    more = asked_of(colour.thing).question.shelf
    seen = parse_took(options.took, known_greys(book, more))
    links = _links(options, book)
    record = record_of(colour, seen)
    about = _given(options, "batch", "who", "note")
    said = {name: uid for name, uid in links.items() if uid}
    line = said.get("line", record.line)
    if line and not about["batch"]:
        about["batch"] = book.show(PaintLine, line).thing.batch
    job = "" if options.job is None else book.show(BookJob, options.job).uid
    if options.source is not None:
        said["source"] = options.source
    film_um = seen.film_um if options.film is None else options.film
    return Added(replace(record, film_um=film_um, job=job, **about, **said))


def _line_words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("name")
    _texts(parser, "batch", "note")


def _line(options: argparse.Namespace, _: Book) -> Added:
    return Added(PaintLine(options.name, batch=options.batch, note=options.note))


def _gun_words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("name")
    _texts(parser, "note")


def _gun(options: argparse.Namespace, _: Book) -> Added:
    return Added(SprayGun(options.name, options.note))


def _sheet_words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("name")
    parser.add_argument("file", metavar="FILE", help="product sheet (TOML)")
    _texts(parser, "note")


def _sheet(options: argparse.Namespace, _: Book) -> Added:
    read_sheet(options.file)
    return Added(BookSheet(options.name, read_text(options.file), options.note))


def _steps_words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("name")
    parser.add_argument(
        "file", metavar="FILE", help="set of steps (TOML), as plan --write-steps writes"
    )
    _texts(parser, "note")


def _steps(options: argparse.Namespace, _: Book) -> Added:
    _title, changes = parse_steps(read_text(options.file), options.file)
    return Added(BookSteps(options.name.strip(), changes, options.note))


def _card_words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("colour", metavar="COLOUR", help="colour of the book")
    parser.add_argument("file", metavar="FILE", help="CSV with area,coats,L,a,b")
    parser.add_argument(
        "--film", type=float, metavar="UM", help="dry film of a coat; 10 unless given"
    )
    add_condition(parser)
    _texts(parser, "name", "note")


def _card(options: argparse.Namespace, book: Book) -> Added:
    condition = condition_of(options)
    colour = book.show(BookColour, options.colour)
    card = parse_card(read_text(options.file), options.file, condition)
    film_um = DEFAULT_DRY_FILM_UM if options.film is None else options.film
    about = _given(options, "name", "note")
    return Added(BookCard(colour.uid, card, film_um, **about))


def _left_words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("name")
    parser.add_argument(
        "ml", metavar="ML", nargs="+", help="how much is left, like 200 ml or 200"
    )
    parser.add_argument(
        "--product",
        metavar="KEY",
        default="base_coat",
        help="key, kind or name in a product sheet of the book; %(default)s",
    )
    parser.add_argument(
        "--since",
        metavar="YYYY-MM-DD",
        help="when it was mixed or its can opened; today unless given",
    )
    parser.add_argument(
        "--can", action="store_true", help="left in an opened can, not mixed"
    )
    parser.add_argument("--colour", metavar="NAME", help="colour of the book")
    parser.add_argument("--line", metavar="NAME", help="paint line of the book")
    _texts(parser, "batch", "note")


def _day(written: str | None) -> date:
    if written is None:
        return datetime.now().astimezone().date()
    try:
        return date.fromisoformat(written)
    except ValueError as error:
        message = f"{shown(written)} is not a day; write it like 2026-03-02."
        raise BookError(message) from error


def _left(options: argparse.Namespace, book: Book) -> Added:
    colour, line = options.colour, options.line
    left = left_over(
        sheets_of(book),
        options.product,
        " ".join(options.ml),
        _day(options.since),
        _day(None),
        mixed=not options.can,
        batch=options.batch,
    )
    return Added(
        BookLeftOver(
            options.name,
            left,
            colour="" if colour is None else book.show(BookColour, colour).uid,
            line="" if line is None else book.show(PaintLine, line).uid,
            note=options.note,
        )
    )


ADDING: Final = {
    "colours": Adding(_colour_words, _colour),
    "jobs": Adding(_job_words, _job),
    "shelves": Adding(_shelf_words, _shelf),
    "records": Adding(_record_words, _record),
    "lines": Adding(_line_words, _line),
    "guns": Adding(_gun_words, _gun),
    "sheets": Adding(_sheet_words, _sheet),
    "leftovers": Adding(_left_words, _left),
    "cards": Adding(_card_words, _card),
    "steps": Adding(_steps_words, _steps),
}
"""How each kind is added, by the words of the command line."""
