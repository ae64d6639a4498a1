"""What ``book import`` and ``book export`` read and write."""

import argparse
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Final

from shadecore.book.book import Book
from shadecore.book.errors import BookError
from shadecore.book.exchange import read_colours, write_colours
from shadecore.book.file_export import colours_table, job_times_table, records_table
from shadecore.book.file_import import (
    Import,
    colours_of_table,
    import_by_name,
    import_colours,
    import_job,
    import_records,
)
from shadecore.book.records import BookColour, BookPhoto, BookShelf, Stocked
from shadecore.book.samples import MOST_BYTES
from shadecore.book.shop_records import BookJob, BookSteps
from shadecore.book.step_sets import set_of_file
from shadecore.commands.ask_condition import condition_of
from shadecore.commands.book_shown import SHORT_UID
from shadecore.formats.table import read_content, read_text
from shadecore.formats.text_file import open_text
from shadecore.job.own_steps import write_steps
from shadecore.undercoats.shelf_table import read_shelf, write_shelf

_PICTURES: Final = (".jpg", ".jpeg")
_FORMATS: Final = {".cxf": "cxf", ".txt": "cgats", ".cgats": "cgats"}


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
    if path.suffix.lower() == ".csv":
        text = open_text(options.file)
        colours, problems = colours_of_table(text, path.name, condition_of(options))
        return import_colours(book, colours, problems)
    found = read_colours(read_content(path, MOST_BYTES), path.name)
    return import_colours(book, found.colours, found.problems)


def _shelves(options: argparse.Namespace, book: Book) -> Import:
    path = Path(options.file)
    shelf, bad = read_shelf(path, condition_of(options))
    thing = BookShelf(path.stem, tuple(map(Stocked, shelf)))
    return import_by_name(book, thing, tuple(f"{path.name}, {row}" for row in bad))


def _jobs(options: argparse.Namespace, book: Book) -> Import:
    return import_job(book, read_text(options.file), options.file)


def _records(options: argparse.Namespace, book: Book) -> Import:
    return import_records(book, open_text(options.file), Path(options.file).name)


def _steps(options: argparse.Namespace, book: Book) -> Import:
    found = set_of_file(read_text(options.file), options.file)
    return import_by_name(book, found, ())


_READERS: Final[dict[str, Callable[[argparse.Namespace, Book], Import]]] = {
    "colours": _colours,
    "jobs": _jobs,
    "shelves": _shelves,
    "records": _records,
    "steps": _steps,
}
IMPORTED: Final = tuple(_READERS)
"""Kinds that can be imported."""
EXPORTED: Final = (*IMPORTED, "photos")
"""Kinds that can be exported."""


def exported(kind: str, name: str | None, suffix: str, book: Book) -> bytes:
    """Things of the book as a file.

    Parameters
    ----------
    kind : str
        One of ``EXPORTED``.
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
        return records_table(book, name)
    if name is None:
        message = f"Say which of the {kind} to export; list them to see their names."
        raise BookError(message)
    return _WRITERS[kind](name, suffix, book)


def _shelf_file(which: str, _: str, book: Book) -> bytes:
    return write_shelf(book.show(BookShelf, which).thing.shelf).encode()


def _job_file(which: str, suffix: str, book: Book) -> bytes:
    job = book.show(BookJob, which).thing
    return job_times_table(job) if suffix == ".csv" else job.text.encode()


def _steps_file(which: str, _: str, book: Book) -> bytes:
    found = book.show(BookSteps, which).thing
    return write_steps(found.name, found.changes).encode()


def _picture(which: str, suffix: str, book: Book) -> bytes:
    if suffix not in _PICTURES:
        message = f"A photo is written as {_PICTURES[0]}; end the file's name so."
        raise BookError(message)
    # Photos of two colours may share a name, which their uid does not.
    starts = [each for each in book.list(BookPhoto) if each.uid.startswith(which)]
    found = len(starts) == 1 and len(which) >= SHORT_UID
    return book.picture(starts[0] if found else book.show(BookPhoto, which))


_WRITERS: Final[dict[str, Callable[[str, str, Book], bytes]]] = {
    "jobs": _job_file,
    "shelves": _shelf_file,
    "steps": _steps_file,
    "photos": _picture,
}


def _colours_file(name: str | None, suffix: str, book: Book) -> bytes:
    kept = book.list(BookColour) if name is None else (book.show(BookColour, name),)
    colours = tuple(each.thing for each in kept)
    if suffix in _FORMATS:
        return write_colours(colours, _FORMATS[suffix], datetime.now().astimezone())
    if suffix != ".csv":
        ends = ", ".join((".csv", *_FORMATS))
        message = f"Colours are written as {ends}; end the file's name so."
        raise BookError(message)
    return colours_table(colours)
