"""What the book's records say of a paint line and a gun, as a question takes it."""

import math
from collections.abc import Collection, Sequence
from dataclasses import replace
from datetime import UTC, datetime
from functools import lru_cache
from typing import Any, Final

import numpy as np

from shadecore.book.asked import asked_of
from shadecore.book.asking import seen_of
from shadecore.book.book import Book
from shadecore.book.errors import BookError
from shadecore.book.experience import observation
from shadecore.book.kept import Kept
from shadecore.book.learning import Experience, Observation, Usual, learn
from shadecore.book.records import BookColour, BookSeen
from shadecore.book.shop_records import PaintLine, SprayGun
from shadecore.book.worked_out import Hides, key_of
from shadecore.coats.evidence import hiding_films, resolved
from shadecore.coats.loading import LINE_AND_GUN, Loading, default_loading
from shadecore.coats.paints import Paints
from shadecore.coats.seen import Seen
from shadecore.errors import ShadecoreError
from shadecore.question.answer import paints_of
from shadecore.question.question import Question

_NEWEST: Final = 400
"""Records that are learned from, the newest ones; this tool's own limit. Each colour
among them is worked out once, so that the answer does not wait for a long book."""
_REMEMBERED: Final = 64
"""States of what was learned that are kept: more than a first page shows colours."""
_NEVER: Final = datetime.min.replace(tzinfo=UTC)


def learned_loading(
    book: Book, line: str = "", gun: str = "", batch: str = "", leave_out: str = ""
) -> Loading:
    """Loading of a new colour, from what was seen of others.

    Parameters
    ----------
    book : Book
        The book.
    line, gun : str
        ``uid`` of the paint line and of the gun; empty for none.
    batch : str
        Batch of the line.
    leave_out : str
        ``uid`` of the colour that is asked about, whose own records the question has.

    Returns
    -------
    Loading
        With the number of jobs that it rests on; what is usual where neither the line
        nor the gun has any.
    """
    learned = experience(book, leave_out).loading(line, gun, batch)
    if not learned.jobs:
        return Loading(learned.mean, learned.spread)
    of = LINE_AND_GUN if line and gun else "line" if line else "gun"
    return Loading(learned.mean, learned.spread, learned.jobs, of)


def experience(book: Book, leave_out: str = "") -> Experience:
    """All that the book's records teach.

    Parameters
    ----------
    book : Book
        The book.
    leave_out : str
        ``uid`` of a colour whose records stay out.

    Returns
    -------
    Experience
        Worked out once for the same records, for all colours without records of their
        own together.
    """
    observations = observed(book)
    own = any(each.colour == leave_out for each in observations)
    return _experience(observations, leave_out if own else "")


@lru_cache(maxsize=_REMEMBERED)
def _experience(observations: tuple[Observation, ...], leave_out: str) -> Experience:
    usual = default_loading()
    return learn(observations, Usual(usual.mean, usual.spread), leave_out=leave_out)


def observed(book: Book) -> tuple[Observation, ...]:
    """Records of the book beside what the engine says of their colours.

    Parameters
    ----------
    book : Book
        The book.

    Returns
    -------
    tuple of Observation
        Records of colours that cannot be asked about, or lie in the bin, stay out, and
        so do those that a line or a gun is told to forget. They are read once for each
        state of the book.
    """
    return book.once("observed", lambda: _observed(book))


def _observed(book: Book) -> tuple[Observation, ...]:
    newest = book.list(BookSeen, limit=_NEWEST)
    records = [each.thing for each in _not_forgotten(book, newest)]
    colours = _colours(book, {each.colour for each in records})
    records = [each for each in records if each.colour in colours]
    keys = [key_of(colours[each.colour], each) for each in records]
    known = book.worked_out(keys)
    new: dict[str, Hides] = {}
    asked: dict[str, tuple[Question, Paints] | None] = {}
    found = []
    for key, record in zip(keys, records, strict=True):
        hides = known.get(key) or new.get(key)
        if hides is None:
            if record.colour not in asked:
                asked[record.colour] = _asked(colours[record.colour])
            about = asked[record.colour]
            if about is None:
                continue
            hides = new[key] = _hides(record, *about)
        found.append(observation(record, hides))
    book.keep_worked_out(new)
    return tuple(found)


def _not_forgotten(
    book: Book, records: Sequence[Kept[BookSeen]]
) -> list[Kept[BookSeen]]:
    """Records without those from before their line or gun was told to forget."""
    until: dict[str, datetime] = {}
    for line in book.list(PaintLine):
        until[line.uid] = line.thing.forgotten or _NEVER
    for gun in book.list(SprayGun):
        until[gun.uid] = gun.thing.forgotten or _NEVER
    return [
        each
        for each in records
        if each.created > until.get(each.thing.line, _NEVER)
        and each.created > until.get(each.thing.gun, _NEVER)
    ]


def _colours(book: Book, uids: Collection[str]) -> dict[str, BookColour]:
    """Colours by their ``uid``; none from the bin."""
    return {each.uid: each.thing for each in book.shown(BookColour, uids)}


def _asked(colour: BookColour) -> tuple[Question, Paints] | None:
    """A colour's question and what its paint may be by its reading alone."""
    try:
        # A test card would tell the loading, which is what is to be learned.
        question, _ = asked_of(colour)
        by_reading = Question(
            question.colour,
            question.kind,
            question.angles,
            question.condition,
            question.photo,
            film=question.film,
            tolerance=question.tolerance,
        )
        by_reading.settings  # noqa: B018 - raises where they cannot be used
        return by_reading, paints_of(by_reading)
    except ShadecoreError:
        return None


def _hides(record: BookSeen, question: Question, paints: Paints) -> Hides:
    """What the engine says of a record's colour, with the film of its coats."""
    (seen,) = resolved((seen_of(record),), question.settings)
    film_um = seen.film_um or question.film.coat.dry_film_um
    return Hides(*_ln_thickness(seen, paints), film_um)


def forget(book: Book, kept: Kept[Any], *, again: bool = False) -> Kept[Any]:
    """Let a paint line or a gun begin anew: no record made until now counts for it.

    The records stay with their colours, and the jobs to come are learned from.

    Parameters
    ----------
    book : Book
        The book.
    kept : Kept of PaintLine or SprayGun
        The line or the gun.
    again : bool
        Whether they are to count again.

    Returns
    -------
    Kept

    Raises
    ------
    BookConflict
        If somebody changed it since it was read.
    BookError
        If it is neither, or cannot be written.
    """
    thing = kept.thing
    if not isinstance(thing, PaintLine | SprayGun):
        message = "Only of a paint line and of a gun is anything learned."
        raise BookError(message)
    verb = "remembered" if again else "forgot"
    until = None if again else datetime.now(UTC)
    with book.changing(f"{verb} what was learned of {thing.name}"):
        return book.change(kept, replace(thing, forgotten=until))


def _ln_thickness(record: Seen, paints: Paints) -> tuple[float, float]:
    """Mean and standard deviation of the log of the film that hides."""
    ln_film, part = hiding_films(record, paints)
    weight = paints.weight[:, None] * part
    mean = float(np.sum(weight * ln_film))
    return mean, math.sqrt(float(np.sum(weight * (ln_film - mean) ** 2)))
