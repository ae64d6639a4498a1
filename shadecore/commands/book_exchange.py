"""What ``book import`` and ``book export`` read and write."""

import argparse
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any, Final

from shadecore.book.asking import colour_of, record_of, seen_of
from shadecore.book.book import Book
from shadecore.book.errors import BookError
from shadecore.book.exchange import read_colours, write_colours
from shadecore.book.job_times import HEADING, job_times
from shadecore.book.kept import Kept
from shadecore.book.records import BookColour, BookSeen, BookShelf, Stocked
from shadecore.book.shop_records import BookJob
from shadecore.coats.seen_table import Noted, parse_seen, write_seen
from shadecore.colour.colour_file import parse_colour_file
from shadecore.commands.ask_condition import condition_of
from shadecore.commands.book_shown import Import
from shadecore.formats.table import read_text
from shadecore.formats.table_writer import Cell, write_records
from shadecore.formats.text_file import open_text
from shadecore.job.job_file import parse_job
from shadecore.question.question import Question
from shadecore.undercoats.shelf_table import demo_shelf, read_shelf, write_shelf

_FORMATS: Final = {".cxf": "cxf", ".txt": "cgats", ".cgats": "cgats"}
_ALREADY: Final = "the book holds it already"


def planned_import(options: argparse.Namespace, book: Book) -> Import:
    """What an import does, before it does it.

    Parameters
    ----------
    options : argparse.Namespace
        With ``kind`` and ``file``.
    book : Book
        The book.

    Returns
    -------
    Import
    """
    return _READERS[options.kind](options, book)


def _colours(options: argparse.Namespace, book: Book) -> Import:
    path = Path(options.file)
    problems: tuple[str, ...]
    if path.suffix.lower() == ".csv":
        colours, problems = _colours_of_table(options)
    else:
        found = read_colours(_content(path), path.name)
        colours, problems = found.colours, found.problems
    plan = book.plan_import(colours)
    skip = tuple((each.colour.name, each.reason) for each in plan.skip)
    return Import(plan.add, plan.change, skip, problems)


def _content(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as error:
        reason = (error.strerror or "it failed").lower()
        message = f"{path} cannot be read: {reason}; check the name."
        raise BookError(message) from error


def _colours_of_table(
    options: argparse.Namespace,
) -> tuple[tuple[BookColour, ...], tuple[str, ...]]:
    name = Path(options.file).name
    condition = condition_of(options)
    every = parse_colour_file(open_text(options.file), name, condition)
    colours = []
    rows = zip(
        every.colours.codes, every.colours.lab, every.kinds, every.readings, strict=True
    )
    for code, lab, kind, readings in rows:
        # The table's Lab is under the working condition already.
        words = " ".join(repr(float(value)) for value in lab)
        question = Question("" if readings else words, kind=kind, angles=readings)
        colours.append(_only_kept(colour_of(code, question), code))
    bad = tuple(f"{name}, {row}" for row in every.colours.bad)
    return tuple(colours), bad


def _only_kept(colour: BookColour, code: str) -> BookColour:
    return BookColour(
        colour.name,
        colour.lab,
        colour.entered,
        colour.condition,
        angles=colour.angles,
        kind=colour.kind,
        code=code,
    )


def _by_name(book: Book, thing: Any, problems: tuple[str, ...]) -> Import:  # noqa: ANN401
    """Plan of one thing, which is the one of its name in the book."""
    try:
        there: Kept[Any] = book.show(type(thing), thing.name)
    except BookError:
        return Import(add=(thing,), problems=problems)
    if there.thing == thing:
        return Import(skip=((thing.name, _ALREADY),), problems=problems)
    return Import(change=((there, thing),), problems=problems)


def _shelves(options: argparse.Namespace, book: Book) -> Import:
    path = Path(options.file)
    shelf, bad = read_shelf(path, condition_of(options))
    thing = BookShelf(path.stem, tuple(map(Stocked, shelf)))
    return _by_name(book, thing, tuple(f"{path.name}, {row}" for row in bad))


def _jobs(options: argparse.Namespace, book: Book) -> Import:
    text = read_text(options.file)
    job = parse_job(text, options.file)
    return _by_name(book, BookJob(job.name, text), ())


def _records(options: argparse.Namespace, book: Book) -> Import:
    path = Path(options.file)
    add: list[BookSeen] = []
    skip: list[tuple[str, str]] = []
    for noted in parse_seen(open_text(path), path.name, demo_shelf()):
        try:
            colour = book.show(BookColour, noted.code)
        except BookError:
            skip.append((noted.code, "the book holds no such colour"))
            continue
        record = record_of(colour, noted.seen)
        known = book.list(BookSeen, belongs={"colour": colour.uid})
        if any(seen_of(each.thing) == noted.seen for each in known):
            skip.append((noted.code, _ALREADY))
        else:
            add.append(record)
    return Import(tuple(add), skip=tuple(skip))


_READERS: Final[dict[str, Callable[[argparse.Namespace, Book], Import]]] = {
    "colours": _colours,
    "jobs": _jobs,
    "shelves": _shelves,
    "records": _records,
}
IMPORTED: Final = tuple(_READERS)
"""Kinds that can be imported and exported."""


def exported(kind: str, name: str | None, suffix: str, book: Book) -> bytes:
    """Things of the book as a file.

    Parameters
    ----------
    kind : str
        One of ``IMPORTED``.
    name : str or None
        Which one; None for all, of colours and records only.
    suffix : str
        End of the file's name, which says how it is written.
    book : Book
        The book.

    Returns
    -------
    bytes

    Raises
    ------
    BookError
        If there is nothing to write, or it cannot be written so.
    """
    if kind == "colours":
        return _colours_file(name, suffix, book)
    if kind == "records":
        return _records_file(name, book)
    if name is None:
        message = f"Say which of the {kind} to export; list them to see their names."
        raise BookError(message)
    if kind == "shelves":
        return write_shelf(book.show(BookShelf, name).thing.shelf).encode()
    job = book.show(BookJob, name).thing
    if suffix == ".csv":
        rows = [dict(zip(HEADING, row, strict=True)) for row in job_times(job)]
        return write_records(HEADING, rows).encode()
    return job.text.encode()


def _colours_file(name: str | None, suffix: str, book: Book) -> bytes:
    kept = book.list(BookColour) if name is None else (book.show(BookColour, name),)
    colours = tuple(each.thing for each in kept)
    if suffix in _FORMATS:
        return write_colours(colours, _FORMATS[suffix], datetime.now().astimezone())
    if suffix != ".csv":
        ends = ", ".join((".csv", *_FORMATS))
        message = f"Colours are written as {ends}; end the file's name so."
        raise BookError(message)
    rows: list[dict[str, Cell]] = [
        {"code": each.code or each.name, **dict(zip("Lab", each.lab, strict=True))}
        for each in colours
    ]
    return write_records(("code", "L", "a", "b"), rows).encode()


def _records_file(name: str | None, book: Book) -> bytes:
    belongs = None if name is None else {"colour": book.show(BookColour, name).uid}
    noted = []
    for kept in book.list(BookSeen, belongs=belongs):
        colour = book.show(BookColour, kept.thing.colour).thing
        noted.append(Noted(colour.code or colour.name, seen_of(kept.thing)))
    return write_seen(noted).encode()
