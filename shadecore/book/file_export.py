"""What the book holds as files, for other programs."""

from collections.abc import Callable, Sequence
from datetime import datetime
from typing import Any, Final

from shadecore.book.asked import readings_of
from shadecore.book.book import Book
from shadecore.book.errors import BookError
from shadecore.book.exchange import write_colours
from shadecore.book.job_times import write_job_times
from shadecore.book.kept import Kept
from shadecore.book.kinds import kind_of
from shadecore.book.records import BookColour, BookPhoto, BookSeen, BookShelf
from shadecore.book.seen_file import records_table
from shadecore.book.shop_records import BookJob, BookSheet, BookSteps
from shadecore.formats.table_writer import Cell, write_records
from shadecore.job.job_file import parse_job
from shadecore.job.step_files import write_steps
from shadecore.undercoats.shelf_table import write_shelf

_PICTURES: Final = (".jpg", ".jpeg")
_FORMATS: Final = {".cxf": "cxf", ".txt": "cgats", ".cgats": "cgats"}


def exported(book: Book, record: type, which: str | None, suffix: str) -> bytes:
    """Things of the book as a file.

    Parameters
    ----------
    book : Book
        The book.
    record : type
        Class of their record.
    which : str or None
        Which one; of records, of which colour. None for all, of colours and records
        only.
    suffix : str
        End of the file's name, which says how it is written.

    Returns
    -------
    bytes

    Raises
    ------
    BookError
        If there is nothing to write, or it cannot be written so.
    """
    if record is BookColour:
        return _colours_file(which, suffix, book)
    if record is BookSeen:
        return records_table(book, which)
    word = kind_of(record).word
    if record not in _WRITERS:
        message = f"A {word} is not written as a file; back up the whole book."
        raise BookError(message)
    if which is None:
        message = f"Say which {word} to export; list them to see their names."
        raise BookError(message)
    return _WRITERS[record](book.show(record, which), suffix, book)


def _shelf_file(kept: Kept[BookShelf], _: str, __: Book) -> bytes:
    return shelf_table(kept.thing)


def _job_file(kept: Kept[BookJob], suffix: str, _: Book) -> bytes:
    job = kept.thing
    return job_times_table(job) if suffix == ".csv" else job.text.encode()


def _steps_file(kept: Kept[BookSteps], _: str, __: Book) -> bytes:
    return write_steps(kept.thing.name, kept.thing.changes).encode()


def _sheet_file(kept: Kept[BookSheet], _: str, __: Book) -> bytes:
    return kept.thing.text.encode()


def _picture(kept: Kept[BookPhoto], suffix: str, book: Book) -> bytes:
    if suffix not in _PICTURES:
        message = f"A photo is written as {_PICTURES[0]}; end the file's name so."
        raise BookError(message)
    return book.picture(kept)


_WRITERS: Final[dict[type, Callable[[Kept[Any], str, Book], bytes]]] = {
    BookJob: _job_file,
    BookShelf: _shelf_file,
    BookSteps: _steps_file,
    BookSheet: _sheet_file,
    BookPhoto: _picture,
}


def _colours_file(which: str | None, suffix: str, book: Book) -> bytes:
    kept = book.list(BookColour) if which is None else (book.show(BookColour, which),)
    colours = tuple(each.thing for each in kept)
    if suffix in _FORMATS:
        return write_colours(colours, _FORMATS[suffix], datetime.now().astimezone())
    if suffix != ".csv":
        ends = ", ".join((".csv", *_FORMATS))
        message = f"Colours are written as {ends}; end the file's name so."
        raise BookError(message)
    return colours_table(colours)


def colours_table(colours: Sequence[BookColour]) -> bytes:
    """Colours as CSV, by their code or name, with all but their spectra.

    Parameters
    ----------
    colours : sequence of BookColour
        The colours.

    Returns
    -------
    bytes
    """
    rows: list[dict[str, Cell]] = []
    angles: set[float] = set()
    for each in colours:
        row: dict[str, Cell] = {"code": each.code or each.name, "name": each.name}
        row |= {"kind": each.kind, "car": each.car}
        row |= zip("Lab", each.lab, strict=True)
        # Readings that cannot be asked about could not be read back, either.
        if each.angles and readings_of(each) is not None:
            for one in each.angles:
                angles.add(one.aspecular_deg)
                row |= zip(_angle_columns(one.aspecular_deg), one.lab, strict=True)
        rows.append(row)
    columns = ["code", "name", "kind", "car", "L", "a", "b"]
    for angle in sorted(angles):
        columns += _angle_columns(angle)
    return write_records(columns, rows).encode()


def _angle_columns(angle: float) -> tuple[str, ...]:
    return tuple(f"{letter}{angle:g}" for letter in "Lab")


def shelf_table(shelf: BookShelf) -> bytes:
    """A shelf as CSV, with prices and stock.

    Parameters
    ----------
    shelf : BookShelf
        The shelf.

    Returns
    -------
    bytes
    """
    return write_shelf(shelf.shelf, shelf.stock).encode()


def job_times_table(job: BookJob) -> bytes:
    """Times of a job as CSV, for the accounts.

    Parameters
    ----------
    job : BookJob
        The job.

    Returns
    -------
    bytes

    Raises
    ------
    JobError
        If its text cannot be read.
    """
    request = parse_job(job.text, job.name)
    return write_job_times(request, job.name, job.code, job.car).encode()
