"""What the book gives a question to begin with, and how it keeps one as it changes."""

from dataclasses import replace
from typing import Final

from shadecore.book.alike import same_colour, same_settings
from shadecore.book.asked import asked_of
from shadecore.book.asking import (
    colour_of,
    keep,
    question_of,
    seen_in,
    with_own_words,
)
from shadecore.book.book import Book
from shadecore.book.errors import BookConflict
from shadecore.book.kept import Kept
from shadecore.book.kinds import folded
from shadecore.book.loadings import learned_loading
from shadecore.book.records import (
    BookCard,
    BookColour,
    BookPhoto,
    BookSeen,
    BookShelf,
)
from shadecore.book.shop_records import BookJob, PaintLine
from shadecore.colour.kinds import NOT_SAID, SOLID
from shadecore.question.question import Question
from shadecore.question.read_plain import Read
from shadecore.undercoats.shelf import Shelf
from shadecore.undercoats.shelf_table import demo_shelf

_BELONGING: Final[tuple[type, ...]] = (BookSeen, BookPhoto, BookCard, BookJob)
"""What may belong to a colour."""
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
    question = Question(units=settings.units, shelf=own_shelf(book))
    if not (settings.line or settings.gun):
        return question
    batch = batch_of(book, settings.line)
    loading = learned_loading(book, settings.line, settings.gun, batch)
    return replace(question, loading=loading)


def own_shelf(book: Book) -> Shelf:
    """The undercoats that the shop asks over.

    Parameters
    ----------
    book : Book
        The book.

    Returns
    -------
    tuple of Undercoat
        The shelf in use; the invented greys where the shop has none. Read once for
        each state of the book.
    """
    return book.once("own shelf", lambda: _own_shelf(book))


def _own_shelf(book: Book) -> Shelf:
    uid = book.settings().thing.shelf
    return book.show(BookShelf, uid).thing.shelf if uid else demo_shelf()


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
    """The question of a kept colour, asked of the shop as it is now.

    Parameters
    ----------
    book : Book
        The book.
    kept : Kept of BookColour
        The colour.

    Returns
    -------
    Read
        Over the shelf in use, with what was learned since it was kept; read once for
        each state of the book.
    """
    known: dict[tuple[str, int], Read] = book.once("asked again", dict)
    key = kept.uid, kept.version
    found = known.get(key)
    if found is None:
        found = known[key] = _asked_again(book, kept)
    return found


def _asked_again(book: Book, kept: Kept[BookColour]) -> Read:
    read = over_own_shelf(book, question_of(book, kept))
    line, gun = kept.thing.line, kept.thing.gun
    if not (line or gun):
        return read
    loading = learned_loading(book, line, gun, batch_of(book, line), kept.uid)
    return read._replace(question=replace(read.question, loading=loading))


def over_own_shelf(book: Book, read: Read) -> Read:
    """A kept question over the shelf that the shop has now.

    Parameters
    ----------
    book : Book
        The book.
    read : Read
        The question as it was kept.

    Returns
    -------
    Read
        The same where the shop has no shelf of its own.
    """
    if not book.settings().thing.shelf:
        return read
    shelf = own_shelf(book)
    names = {each.name for each in shelf}
    bare = tuple(name for name in read.question.areas if name in names)
    return read._replace(question=replace(read.question, shelf=shelf, areas=bare))


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


def stays(book: Book, kept: Kept[BookColour]) -> bool:
    """Whether a colour stays in the book when another is typed.

    Parameters
    ----------
    book : Book
        The book.
    kept : Kept of BookColour
        The colour.

    Returns
    -------
    bool
        Where somebody named it, or a record, a photo, a card or a job belongs to it.
    """
    return is_named(kept) or book.holds_any(_BELONGING, {"colour": kept.uid})


def without_records(question: Question, base: Question) -> Question:
    """A question about another colour, without what was seen of the one before.

    Parameters
    ----------
    question : Question
        What is asked now.
    base : Question
        The colour before.

    Returns
    -------
    Question
    """
    return replace(
        question,
        seen=tuple(each for each in question.seen if each not in base.seen),
        card=None if question.card == base.card else question.card,
    )


def save(
    book: Book, question: Question, uid: str = "", base: Question | None = None
) -> Kept[BookColour]:
    """Keep a question as somebody works on it.

    Parameters
    ----------
    book : Book
        The book.
    question : Question
        What is asked.
    uid : str
        Of the colour that was worked on before; empty for none.
    base : Question, optional
        The colour's question as whoever works on it read it; where the book's is
        another by now, it is not written over.

    Returns
    -------
    Kept of BookColour
        That colour with the new settings, where the topcoat is the same or nothing
        makes the one before stay; else the colour of this topcoat, new where the book
        has none.

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
    changed = onto is not None and changed_since(onto, base)
    if onto is not None and same_colour(asked_of(onto.thing).question, question):
        if changed and not same_settings(asked_of(onto.thing).question, question):
            message = (
                f"Somebody changed the colour {onto.thing.name!r} meanwhile, so this "
                "was not kept; choose which version stays."
            )
            raise BookConflict(message, question, onto)
        return _put(book, question, onto, onto.thing.name, base)
    name = usual_name(question)
    there = _called(book, name)
    if there is not None:
        return _put(book, question, there, name)
    if onto is not None and not changed and not stays(book, onto):
        return _put(book, question, onto, name, base)
    return save_new(book, question, name)


def changed_since(kept: Kept[BookColour], base: Question | None) -> bool:
    """Whether a colour was changed since somebody read it.

    Parameters
    ----------
    kept : Kept of BookColour
        The colour as it is now.
    base : Question or None
        Its question as it was read; None where nobody knows.

    Returns
    -------
    bool
    """
    return base is not None and not same_settings(asked_of(kept.thing).question, base)


def save_new(book: Book, question: Question, name: str) -> Kept[BookColour]:
    """Keep a question as a new colour.

    Parameters
    ----------
    book : Book
        The book.
    question : Question
        What is asked.
    name : str
        What to call it; a number follows where the book has that name.

    Returns
    -------
    Kept of BookColour

    Raises
    ------
    ShadecoreError
        If the question cannot be answered, or it cannot be kept.
    """
    settings = book.settings().thing
    free, number = name, 1
    while _called(book, free) is not None:
        number += 1
        free = f"{name} ({number})"
    colour = replace(colour_of(free, question), line=settings.line, gun=settings.gun)
    return keep(book, colour, question.seen, batch=batch_of(book, settings.line))


def _called(book: Book, name: str) -> Kept[BookColour] | None:
    # One may be known by that code, too.
    key = folded(name)
    found = book.called(BookColour, name)
    return next((each for each in found if folded(each.thing.name) == key), None)


def _put(
    book: Book,
    question: Question,
    onto: Kept[BookColour],
    name: str,
    base: Question | None = None,
) -> Kept[BookColour]:
    """Write the question anew; nothing where the book holds it so already."""
    before = onto.thing
    colour = with_own_words(colour_of(name, question), before)
    colour = replace(colour, line=before.line, gun=before.gun)
    there = seen_in(book, onto)
    known = set(base.seen if base else ())
    gone = there & known - set(question.seen)
    # What was read from the book and is gone from it was replaced there, as the record
    # of a job is when somebody looks again.
    new = tuple(each for each in question.seen if each not in known | there)
    if colour == before and not gone and not new:
        return onto
    batch = batch_of(book, before.line)
    return keep(book, colour, new, batch=batch, onto=onto, gone=gone)
