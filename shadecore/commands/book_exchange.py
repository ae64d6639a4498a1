"""What ``book import`` and ``book export`` read and write."""

import argparse
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Final

from shadecore.book.book import Book
from shadecore.book.errors import BookError
from shadecore.book.exchange import write_colours
from shadecore.book.file_export import (
    colours_table,
    job_times_table,
    shelf_table,
)
from shadecore.book.file_import import import_exchanged, import_text
from shadecore.book.import_plan import Import
from shadecore.book.records import BookColour, BookPhoto, BookShelf
from shadecore.book.samples import MOST_BYTES
from shadecore.book.seen_file import records_table
from shadecore.book.shop_records import BookJob, BookSteps
from shadecore.commands.ask_condition import condition_of
from shadecore.formats.table import read_content, read_text
from shadecore.formats.text_file import open_text
from shadecore.job.step_files import write_steps

_PICTURES: Final = (".jpg", ".jpeg")
_FORMATS: Final = {".cxf": "cxf", ".txt": "cgats", ".cgats": "cgats"}
IMPORTED: Final = ("colours", "jobs", "shelves", "records", "steps")
"""Kinds that can be imported."""
EXPORTED: Final = (*IMPORTED, "photos")
"""Kinds that can be exported."""
_WHOLE: Final = {"jobs", "steps"}
"""Those of them that are read whole; tables are read in blocks."""


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
    path = Path(options.file)
    if options.kind == "colours" and path.suffix.lower() != ".csv":
        return import_exchanged(book, read_content(path, MOST_BYTES), path.name)
    text = read_text(path) if options.kind in _WHOLE else open_text(path)
    condition = condition_of(options)
    return import_text(book, options.kind, text, path.name, condition)


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
    return shelf_table(book.show(BookShelf, which).thing)


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
    return book.picture(book.show(BookPhoto, which))


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
