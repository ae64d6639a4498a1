"""A question kept in the book as a colour with its records, and asked again."""

import math
from collections.abc import Collection, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any, Final

from shadecore.book.asked import asked_of
from shadecore.book.book import Book
from shadecore.book.kept import Kept
from shadecore.book.kinds import kind_of
from shadecore.book.names import name_taken
from shadecore.book.records import AngleReading, BookCard, BookColour, BookSeen
from shadecore.coats.evidence import MOST_OF_A_COLOUR
from shadecore.coats.seen import Seen
from shadecore.colour.angles import AngleReadings
from shadecore.colour.kinds import NOT_SAID, SOLID
from shadecore.question.plain import to_plain
from shadecore.question.question import Question
from shadecore.question.read_plain import Read

_SAME_FILM: Final = 0.01


def question_of(book: Book, kept: Kept[BookColour]) -> Read:
    """The question that a colour of the book was kept with.

    Parameters
    ----------
    book : Book
        The book.
    kept : Kept of BookColour
        The colour.

    Returns
    -------
    Read
        The question with all that was seen of the colour, and with its newest test
        card where the question has none of its own; what could not be used is as usual
        and named in ``problems``.
    """
    read = asked_of(kept.thing)
    records = book.list(BookSeen, belongs={"colour": kept.uid})
    newest = sorted(records, key=_noted, reverse=True)[:MOST_OF_A_COLOUR]
    count = {each.uid for each in newest}
    # Those that count come last, and each part in an order of its own, so that the same
    # records make the same question.
    parts: tuple[list[Seen], list[Seen]] = ([], [])
    for each in records:
        parts[each.uid in count].append(seen_of(each.thing))
    seen = (one for part in parts for one in sorted(part, key=repr))
    question = replace(read.question, seen=tuple(seen))
    return _with_card(book, kept, read._replace(question=question))


def seen_in(book: Book, kept: Kept[BookColour]) -> frozenset[Seen]:
    """What the book holds of what was seen of a colour.

    Parameters
    ----------
    book : Book
        The book.
    kept : Kept of BookColour
        The colour.

    Returns
    -------
    frozenset of Seen
    """
    records = book.list(BookSeen, belongs={"colour": kept.uid})
    return frozenset(seen_of(each.thing) for each in records)


def _noted(record: Kept[BookSeen]) -> tuple[datetime, str]:
    """When something was seen, or else written down."""
    when = record.thing.when or record.created.astimezone()
    return (when.replace(tzinfo=None), record.uid)


def _with_card(book: Book, kept: Kept[BookColour], read: Read) -> Read:
    """What is asked, with the colour's newest test card where it has none itself."""
    question = read.question
    if question.card is not None or question.flakes:
        return read
    cards = book.list(BookCard, limit=1, belongs={"colour": kept.uid})
    if not cards:
        return read
    card, film_um = cards[0].thing, question.film.coat.dry_film_um
    if math.isclose(card.film_um, film_um, rel_tol=_SAME_FILM):
        return read._replace(question=replace(question, card=card.card))
    # The card is fitted with the film that is asked about.
    problem = (
        f"The test card of {kept.thing.name!r} is not used, as its coats are "
        f"{card.film_um:g} um and {film_um:g} um are asked about."
    )
    return read._replace(problems=(*read.problems, problem))


def seen_of(record: BookSeen) -> Seen:
    """A record of the book as a question has it.

    Parameters
    ----------
    record : BookSeen
        The record.

    Returns
    -------
    Seen
    """
    source: Any = record.source
    return Seen(
        source,
        record.coats_low,
        record.coats_high,
        record.hid,
        record.undercoat,
        record.film_um,
        record.tolerance,
        record.looked,
    )


def colour_of(name: str, question: Question) -> BookColour:
    """The colour of a question as the book keeps it, with the question.

    Parameters
    ----------
    name : str
        What the shop calls it.
    question : Question
        What was asked; what was seen is kept as records of its own.

    Returns
    -------
    BookColour

    Raises
    ------
    ShadecoreError
        If the question cannot be answered, or the name cannot be kept.
    """
    topcoat, angles = question.topcoat, question.angles
    question.settings  # noqa: B018 - raises where they cannot be used
    one_reading = SOLID if angles is None else NOT_SAID
    return BookColour(
        name.strip(),
        topcoat.lab,
        entered=question.colour if angles is None else "",
        condition=question.condition,
        reflectance=topcoat.reflectance or (),
        photo_spread=() if question.photo is None else question.photo.spread,
        angles=() if angles is None else _angles(angles),
        kind=question.kind or one_reading,
        question=to_plain(replace(question, seen=())),
    )


def with_own_words(colour: BookColour, before: BookColour) -> BookColour:
    """A colour with what the shop wrote of it before.

    Parameters
    ----------
    colour : BookColour
        As a question has it.
    before : BookColour
        As the book has it.

    Returns
    -------
    BookColour
    """
    return replace(
        colour,
        code=before.code,
        car=before.car,
        who=before.who,
        measured=before.measured,
        note=before.note,
    )


def _angles(readings: AngleReadings) -> tuple[AngleReading, ...]:
    spectra = readings.reflectance or ((),) * len(readings.angles)
    return tuple(
        AngleReading(angle, lab, spectrum)
        for angle, lab, spectrum in zip(
            readings.angles, readings.lab, spectra, strict=True
        )
    )


def keep(
    book: Book,
    colour: BookColour,
    seen: Sequence[Seen] = (),
    *,
    batch: str = "",
    onto: Kept[BookColour] | None = None,
    gone: Collection[Seen] = (),
) -> Kept[BookColour]:
    """Keep a colour and what was seen of it, all or nothing.

    Parameters
    ----------
    book : Book
        The book.
    colour : BookColour
        The colour; its line and gun are those of the records.
    seen : sequence of Seen
        What was seen; what the book has already is left out.
    batch : str
        Batch of the paint line.
    onto : Kept of BookColour, optional
        A colour in the book to write anew.
    gone : collection of Seen
        Records of that colour that go into the bin.

    Returns
    -------
    Kept of BookColour

    Raises
    ------
    BookConflict
        If somebody changed the colour since it was read.
    BookError
        If the book holds another colour of that name, or it cannot be kept.
    """
    known = []
    if onto is not None and (seen or gone):
        known = list(book.list(BookSeen, belongs={"colour": onto.uid}))
    there = {seen_of(each.thing) for each in known}
    if onto is None and book.called(BookColour, colour.name):
        raise name_taken(colour.name, kind_of(BookColour).word)
    with book.changing(f"kept the colour {colour.name}") as change:
        kind = kind_of(BookColour)
        if onto is None:
            (kept,) = change.add(kind, (colour,))
        else:
            kept = change.put(kind, onto, colour, removed=False)
        new = [each for each in dict.fromkeys(seen) if each not in there]
        records = kind_of(BookSeen)
        change.add(records, [record_of(kept, each, batch) for each in new])
        for each in known:
            if seen_of(each.thing) in gone:
                change.put(records, each, each.thing, removed=True)
    return kept


def record_of(kept: Kept[BookColour], seen: Seen, batch: str = "") -> BookSeen:
    """What was seen of a colour of the book, as the book keeps it.

    Parameters
    ----------
    kept : Kept of BookColour
        The colour; its line and gun are those of the record.
    seen : Seen
        What was seen.
    batch : str
        Batch of the paint line.

    Returns
    -------
    BookSeen
    """
    return BookSeen(
        kept.uid,
        seen.source,
        seen.coats_low,
        seen.coats_high,
        seen.hid,
        seen.undercoat,
        seen.film_um,
        seen.tolerance,
        seen.looked,
        line=kept.thing.line,
        gun=kept.thing.gun,
        batch=batch,
    )
