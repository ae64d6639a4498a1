"""What the book gives a question to begin with, and how it keeps one as it changes."""

from dataclasses import replace
from typing import Final

from shadecore.book.asking import asked_of, colour_of, keep, question_of
from shadecore.book.book import Book
from shadecore.book.kept import Kept
from shadecore.book.kinds import folded
from shadecore.book.loadings import learned_loading
from shadecore.book.records import BookColour, BookShelf
from shadecore.book.shop_records import PaintLine
from shadecore.colour.kinds import NOT_SAID, SOLID
from shadecore.question.question import Question
from shadecore.question.read_plain import Read

_LONGEST_NAME: Final = 60
"""Characters of a name made from what was typed; a spectrum is longer."""


def shop_question(book: Book) -> Question:
    """The question that a new colour of the shop begins with.

    Parameters
    ----------
    book : Book
        The book.

    Returns
    -------
    Question
        With the shelf and units in use, and what was learned of the paint line and gun
        in use.
    """
    settings = book.settings().thing
    question = Question(units=settings.units)
    if settings.shelf:
        shelf = book.show(BookShelf, settings.shelf).thing.shelf
        question = replace(question, shelf=shelf)
    if not (settings.line or settings.gun):
        return question
    batch = batch_of(book, settings.line)
    loading = learned_loading(book, settings.line, settings.gun, batch)
    return replace(question, loading=loading)


def batch_of(book: Book, line: str) -> str:
    """The batch of a paint line that is in use.

    Parameters
    ----------
    book : Book
        The book.
    line : str
        ``uid`` of the line; empty for none.

    Returns
    -------
    str
        Empty where nobody said.
    """
    return book.show(PaintLine, line).thing.batch if line else ""


def asked_again(book: Book, kept: Kept[BookColour]) -> Read:
    """The question of a kept colour, with what was learned since it was kept.

    Parameters
    ----------
    book : Book
        The book.
    kept : Kept of BookColour
        The colour.

    Returns
    -------
    Read
    """
    read = question_of(book, kept)
    line, gun = kept.thing.line, kept.thing.gun
    if not (line or gun):
        return read
    loading = learned_loading(book, line, gun, batch_of(book, line), kept.uid)
    return read._replace(question=replace(read.question, loading=loading))


def usual_name(question: Question) -> str:
    """Name of a colour that nobody has named: what was typed.

    Parameters
    ----------
    question : Question
        What is asked.

    Returns
    -------
    str
    """
    lab = "Lab " + " ".join(f"{value:.1f}" for value in question.topcoat.lab)
    words = question.colour.strip() if question.angles is None else lab
    words = words if len(words) <= _LONGEST_NAME and words.isprintable() else lab
    kind = question.kind
    return words if kind in {NOT_SAID, SOLID} else f"{words}, {kind}"


def is_named(kept: Kept[BookColour]) -> bool:
    """Whether somebody named a colour of the book.

    Parameters
    ----------
    kept : Kept of BookColour
        The colour.

    Returns
    -------
    bool
        False where its name is what was typed; such a colour gives way to the next
        that is typed.
    """
    return kept.thing.name != usual_name(asked_of(kept.thing).question)


def same_colour(one: Question, other: Question) -> bool:
    """Whether two questions ask about the same topcoat.

    Parameters
    ----------
    one, other : Question
        The questions.

    Returns
    -------
    bool
    """
    return (one.colour, one.angles, one.condition) == (
        other.colour,
        other.angles,
        other.condition,
    )


def save(book: Book, question: Question, uid: str = "") -> Kept[BookColour]:
    """Keep a question as somebody works on it.

    Parameters
    ----------
    book : Book
        The book.
    question : Question
        What is asked.
    uid : str
        Of the colour that was worked on before; empty for none.

    Returns
    -------
    Kept of BookColour
        That colour with the new settings, where the topcoat is the same or nobody had
        named it; else the colour of this topcoat, new where the book has none.

    Raises
    ------
    BookConflict
        If somebody changed the colour since it was read.
    BookError
        If it cannot be kept.
    ShadecoreError
        If the question cannot be answered.
    """
    onto = book.show(BookColour, uid) if uid else None
    if onto is not None and onto.removed is not None:
        onto = None
    if onto is not None and same_colour(asked_of(onto.thing).question, question):
        return _put(book, question, onto, onto.thing.name)
    name = usual_name(question)
    there = _unnamed(book, name)
    if there is not None:
        return _put(book, question, there, name)
    if onto is not None and not is_named(onto):
        return _put(book, question, onto, name)
    settings = book.settings().thing
    colour = replace(colour_of(name, question), line=settings.line, gun=settings.gun)
    return keep(book, colour, question.seen, batch=batch_of(book, settings.line))


def _unnamed(book: Book, name: str) -> Kept[BookColour] | None:
    key = folded(name)
    found = book.search(name, records=(BookColour,))
    return next((each for each in found if folded(each.thing.name) == key), None)


def _put(
    book: Book, question: Question, onto: Kept[BookColour], name: str
) -> Kept[BookColour]:
    """Write the question anew; nothing where the book holds it so already."""
    before = onto.thing
    colour = colour_of(name, question)
    colour = replace(
        colour,
        code=before.code,
        car=before.car,
        line=before.line,
        gun=before.gun,
        who=before.who,
        measured=before.measured,
        note=before.note,
    )
    if colour == before and question_of(book, onto).question.seen == question.seen:
        return onto
    batch = batch_of(book, before.line)
    return keep(book, colour, question.seen, batch=batch, onto=onto)
