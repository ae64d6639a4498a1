"""The shop's own sets of steps in the book: from a job or a file, and used again."""

from typing import Final

from shadecore.book.book import Book
from shadecore.book.errors import BookError
from shadecore.book.kept import Kept
from shadecore.book.kinds import folded
from shadecore.book.shop_records import BookSteps
from shadecore.errors import JobError
from shadecore.formats.toml_table import parse_table
from shadecore.job.own_steps import StepChange
from shadecore.job.step_files import STEPS, parse_steps

_IN_A_SET: Final = {"name", STEPS}


def is_step_set(text: str, name: str) -> bool:
    """Whether a TOML file is a set of steps rather than a job.

    Parameters
    ----------
    text : str
        The file.
    name : str
        What to call it in a message.

    Returns
    -------
    bool

    Raises
    ------
    JobError
        If it is not TOML.
    """
    found = set(parse_table(text, name, JobError).values)
    return STEPS in found and found <= _IN_A_SET


def set_of_file(text: str, name: str) -> BookSteps:
    """A set of steps as the book keeps it.

    Parameters
    ----------
    text : str
        TOML, as :func:`shadecore.job.own_steps.write_steps` writes it.
    name : str
        What to call the file in a message.

    Returns
    -------
    BookSteps
        Under the name that the file gives it.

    Raises
    ------
    ShadecoreError
        If it cannot be read or changes nothing.
    """
    title, changes = parse_steps(text, name)
    return BookSteps(title, changes)


def find_steps(book: Book, name: str) -> Kept[BookSteps] | None:
    """A set of steps by its name, if the book holds it.

    Parameters
    ----------
    book : Book
        The book.
    name : str
        Its name, whatever its capitals.

    Returns
    -------
    Kept of BookSteps or None
    """
    key = folded(name)
    found = book.called(BookSteps, name)
    return next((each for each in found if folded(each.thing.name) == key), None)


def refuse_other(book: Book, thing: BookSteps) -> None:
    """Refuse a set of steps where the book holds another one of its name.

    Parameters
    ----------
    book : Book
        The book.
    thing : BookSteps
        The set.

    Raises
    ------
    BookError
        If it does.
    """
    there = find_steps(book, thing.name)
    if there is not None and there.thing.changes != thing.changes:
        message = (
            f"The book holds another set of steps called {there.thing.name!r}; choose "
            "another name, or remove that one first."
        )
        raise BookError(message)


def keep_steps(
    book: Book, name: str, changes: tuple[StepChange, ...], *, over: bool = False
) -> Kept[BookSteps]:
    """Keep a job's own steps as a set.

    Parameters
    ----------
    book : Book
        The book.
    name : str
        What the set is called.
    changes : tuple of StepChange
        What is done otherwise than usual.
    over : bool
        Whether it may take the place of a set of that name.

    Returns
    -------
    Kept of BookSteps

    Raises
    ------
    BookError
        If it cannot be kept, or the book holds another set of that name.
    """
    thing = BookSteps(name.strip(), changes)
    if not over:
        refuse_other(book, thing)
    there = find_steps(book, thing.name)
    if there is None:
        return book.add(thing)
    if there.thing.changes == changes:
        return there
    return book.change(there, BookSteps(there.thing.name, changes, there.thing.note))
