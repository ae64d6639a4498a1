"""What a file would bring: colours, a shelf, records, a job, a sheet, steps."""

from dataclasses import replace
from pathlib import Path, PurePath
from typing import Any, Final

from shadecore.book.asking import colour_of
from shadecore.book.book import Book
from shadecore.book.errors import BookError
from shadecore.book.exchange import read_colours
from shadecore.book.import_plan import ALREADY, Import
from shadecore.book.jobs import as_kept, find_job
from shadecore.book.kept import Kept
from shadecore.book.kinds import kind_of
from shadecore.book.names import free_name
from shadecore.book.records import BookColour, BookSeen, BookShelf, Stocked
from shadecore.book.samples import MOST_BYTES, MOST_SAMPLES
from shadecore.book.seen_file import import_records
from shadecore.book.shop_records import BookJob, BookSheet, BookSteps
from shadecore.book.step_sets import is_step_set, set_of_file
from shadecore.book.told import NOTHING_TOLD, Told
from shadecore.colour.colour_file import parse_colour_file
from shadecore.colour.condition import WORKING, Condition
from shadecore.formats.echo import tail
from shadecore.formats.table import decode, read_content, read_rows, read_text
from shadecore.formats.text_file import TableText, lines_of, open_text
from shadecore.job.job_file import parse_job
from shadecore.products.sheet_file import parse_sheet
from shadecore.question.question import Question
from shadecore.undercoats.shelf_table import parse_stock

_KINDS: Final[dict[type, str]] = {
    BookColour: "colours",
    BookShelf: "shelves",
    BookSeen: "records",
    BookJob: "jobs",
    BookSteps: "steps",
    BookSheet: "sheets",
}
"""What a file may hold, by the record that it becomes."""
_A_PRODUCT: Final = "[product."
"""Stands in every product sheet and in no job."""


def import_file(
    book: Book, content: bytes, name: str, given: Told = NOTHING_TOLD
) -> Import:
    """What a file of any kind would bring, by its name and its first line.

    Parameters
    ----------
    book : Book
        The book.
    content : bytes
        The file: a table (.csv) of colours, of a shelf or of records; a job, a
        product sheet or a set of steps (.toml); CGATS text or CxF3.
    name : str
        Its name.
    given : Told
        How its colours were measured, where the file does not say it: a table never
        does, and means the working condition.

    Returns
    -------
    Import

    Raises
    ------
    ShadecoreError
        If it is none of these, or nothing in it can be used.
    """
    end = PurePath(name).suffix.lower()
    if end == ".toml":
        text = decode(content, name)
        kind = _kind_of_toml(text, name)
    elif end == ".csv":
        text = decode(content, name)
        kind = _kind_of_table(text, name)
    else:
        return import_exchanged(book, content, name, given)
    return import_text(book, kind, text, name, condition_told(given))


def condition_told(given: Told) -> Condition:
    """How a table was measured, which says nothing of it itself.

    Parameters
    ----------
    given : Told
        What whoever takes it in says.

    Returns
    -------
    Condition
        The working condition where nobody says.
    """
    return Condition(
        given.illuminant or WORKING.illuminant,
        given.observer or WORKING.observer,
        given.specular or WORKING.specular,
    )


def _kind_of_toml(text: str, name: str) -> str:
    if _A_PRODUCT in text:
        return "sheets"
    return "steps" if is_step_set(text, name) else "jobs"


def _kind_of_table(text: str, name: str) -> str:
    first = next(read_rows(text, name, ()), None)
    columns = set() if first is None else set(first.cells)
    if "code" not in columns:
        return "shelves"
    return "records" if "coats_low" in columns else "colours"


def import_path(
    book: Book, path: str | Path, record: type | None = None, given: Told = NOTHING_TOLD
) -> Import:
    """What a file on the disk would bring.

    Parameters
    ----------
    book : Book
        The book.
    path : str or Path
        The file, as :func:`import_file` takes it.
    record : type, optional
        Class of what it holds; as its name and its first line say unless given.
    given : Told
        How its colours were measured, where the file does not say it.

    Returns
    -------
    Import

    Raises
    ------
    ShadecoreError
        If it cannot be read, or nothing in it can be used.
    """
    path = Path(path)
    if record is None:
        return import_file(book, read_content(path, MOST_BYTES), path.name, given)
    kind = _KINDS.get(record)
    if kind is None:
        message = f"A {kind_of(record).word} is not taken in from a file."
        raise BookError(message)
    if kind == "colours" and path.suffix.lower() != ".csv":
        content = read_content(path, MOST_BYTES)
        return import_exchanged(book, content, path.name, given)
    text = read_text(path) if path.suffix.lower() == ".toml" else open_text(path)
    return import_text(book, kind, text, path.name, condition_told(given))


def import_text(
    book: Book, kind: str, text: TableText, name: str, condition: Condition = WORKING
) -> Import:
    """What a text of a kind that is known would bring.

    Parameters
    ----------
    book : Book
        The book.
    kind : str
        ``colours``, ``shelves`` or ``records`` of a table; ``jobs``, ``steps`` or
        ``sheets`` of a TOML file.
    text : str or TextFile
        The file.
    name : str
        Its name.
    condition : Condition
        How colours in a table were measured.

    Returns
    -------
    Import

    Raises
    ------
    ShadecoreError
        If it cannot be read.
    """
    if kind == "colours":
        return import_colours(book, *colours_of_table(text, name, condition))
    if kind == "records":
        return import_records(book, text, name)
    if kind == "shelves":
        shelf, bad = parse_stock(text, name, condition)
        items = tuple(Stocked(*each) for each in shelf)
        thing = BookShelf(PurePath(name).stem, items)
        return import_by_name(book, thing, tuple(f"{name}, {row}" for row in bad))
    whole = "".join(lines_of(text))
    if kind == "jobs":
        return import_job(book, whole, name)
    if kind == "steps":
        return import_by_name(book, set_of_file(whole, name), ())
    parse_sheet(whole, name)
    return import_by_name(book, BookSheet(PurePath(name).stem, whole), ())


def import_exchanged(
    book: Book, content: bytes, name: str, given: Told = NOTHING_TOLD
) -> Import:
    """What colours in CGATS text or CxF3 would bring.

    Parameters
    ----------
    book : Book
        The book.
    content : bytes
        The file, which mostly says itself how they were measured.
    name : str
        Its name.
    given : Told
        How they were measured, where it does not.

    Returns
    -------
    Import

    Raises
    ------
    BookError
        If it is neither, or none of its colours can be used.
    """
    found = read_colours(content, name, given)
    return import_colours(book, found.colours, found.problems)


def colours_of_table(
    text: TableText, name: str, condition: Condition
) -> tuple[tuple[BookColour, ...], tuple[str, ...]]:
    """Colours of a table, and what of it could not be used.

    Parameters
    ----------
    text : str or TextFile
        As :func:`shadecore.colour.colour_file.parse_colour_file` reads it.
    name : str
        What to call the file in a message.
    condition : Condition
        How the colours were measured.

    Returns
    -------
    tuple of (tuple of BookColour, tuple of str)

    Raises
    ------
    TableError
        If no row can be used.
    BookError
        If there are more colours than the 100 000 of any file: an import is held as a
        whole, before it is done, and takes 4 kB a colour.
    """
    every = parse_colour_file(text, name, condition)
    if len(every.kinds) > MOST_SAMPLES:
        message = (
            f"{tail(name)} has {len(every.kinds):,} colours, more than the "
            f"{MOST_SAMPLES:,} that are imported at once; split it."
        )
        raise BookError(message)
    colours = []
    rows = zip(every.colours.codes, every.colours.lab, *every[1:], strict=True)
    for code, lab, kind, readings, called, car in rows:
        # The table's Lab is under the working condition already.
        words = " ".join(repr(float(value)) for value in lab)
        question = Question("" if readings else words, kind=kind, angles=readings)
        colour = replace(colour_of(called or code, question), code=code, car=car)
        colours.append(_only_kept(colour))
    return tuple(colours), tuple(f"{name}, {row}" for row in every.colours.bad)


def _only_kept(colour: BookColour) -> BookColour:
    """A colour without a question, as nobody asked one."""
    return BookColour(
        colour.name,
        colour.lab,
        colour.entered,
        colour.condition,
        angles=colour.angles,
        kind=colour.kind,
        code=colour.code,
        car=colour.car,
    )


def import_colours(
    book: Book, colours: tuple[BookColour, ...], problems: tuple[str, ...]
) -> Import:
    """What colours would do to the book.

    Parameters
    ----------
    book : Book
        The book.
    colours : tuple of BookColour
        The colours.
    problems : tuple of str
        What of their file could not be used.

    Returns
    -------
    Import
    """
    plan = book.plan_import(colours)
    skip = tuple((each.colour.name, each.reason) for each in plan.skip)
    return Import(plan.add, plan.change, skip, problems)


def import_by_name(
    book: Book,
    thing: Any,  # noqa: ANN401 - of any kind with a name
    problems: tuple[str, ...],
) -> Import:
    """What one thing would do, which is the one of its name in the book.

    Parameters
    ----------
    book : Book
        The book.
    thing : object
        Its record.
    problems : tuple of str
        What of its file could not be used.

    Returns
    -------
    Import
    """
    try:
        there: Kept[Any] | None = book.show(type(thing), thing.name)
    except BookError:
        there = None
    return _one(there, thing, problems)


def _one(there: Kept[Any] | None, thing: Any, problems: tuple[str, ...]) -> Import:  # noqa: ANN401
    if there is None:
        return Import(add=(thing,), problems=problems)
    becomes = _becomes(there.thing, thing)
    if there.thing == becomes:
        return Import(skip=((thing.name, ALREADY),), problems=problems)
    return Import(change=((there, becomes),), problems=problems)


def _becomes(old: Any, new: Any) -> Any:  # noqa: ANN401
    """The old thing with what the file says; what it does not say stays."""
    if isinstance(new, BookJob):
        return new
    if isinstance(new, BookShelf):
        stock = old.stock
        items = (
            each
            if each.stock is not None
            else replace(each, stock=stock.get(each.undercoat.name))
            for each in new.items
        )
        return old.with_items(tuple(items))
    return replace(new, note=old.note)


def import_job(book: Book, text: str, name: str) -> Import:
    """What a job file would do: a job that the book knows by its ``uid`` is changed.

    Parameters
    ----------
    book : Book
        The book.
    text : str
        The file.
    name : str
        What to call it in a message.

    Returns
    -------
    Import

    Raises
    ------
    JobError
        If it cannot be read.
    """
    job = parse_job(text, name)
    there = find_job(book, job.uid)
    if there is None and not job.uid:
        there = next(iter(book.called(BookJob, job.name)), None)
    before = BookJob(job.name, text) if there is None else there.thing
    own = "" if there is None else there.uid
    name = free_name(book, BookJob, job.name, own)
    request = replace(job, name=name, uid=job.uid or before.request)
    return _one(there, as_kept(request, before, text=text), ())
