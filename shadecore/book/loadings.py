"""What the book's records say of a paint line and a gun, as a question takes it."""

import math
from typing import Final

import numpy as np

from shadecore.book.asking import asked_of, seen_of
from shadecore.book.book import Book
from shadecore.book.experience import observation
from shadecore.book.learning import Observation, Usual, learn
from shadecore.book.records import BookColour, BookSeen
from shadecore.coats.evidence import hiding_films, resolved
from shadecore.coats.loading import Loading, default_loading
from shadecore.coats.paints import Paints
from shadecore.coats.seen import Seen
from shadecore.errors import ShadecoreError
from shadecore.question.answer import paints_of
from shadecore.question.question import Question

_NEWEST: Final = 400
"""Records that are learned from, the newest ones; this tool's own limit. Each colour
among them is looked up once, so that the answer does not wait for a long book."""


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
    usual = default_loading()
    observations = observed(book, leave_out)
    learned = learn(observations, Usual(usual.mean, usual.spread)).loading(
        line, gun, batch
    )
    return Loading(learned.mean, learned.spread, learned.jobs)


def observed(book: Book, leave_out: str = "") -> tuple[Observation, ...]:
    """Records of the book beside what the engine says of their colours.

    Parameters
    ----------
    book : Book
        The book.
    leave_out : str
        ``uid`` of a colour whose records stay out.

    Returns
    -------
    tuple of Observation
        Records of colours that cannot be asked about, or lie in the bin, stay out.
    """
    found = []
    colours: dict[str, tuple[Question, Paints] | None] = {}
    for record in book.list(BookSeen, limit=_NEWEST):
        seen = record.thing
        if seen.colour == leave_out:
            continue
        if seen.colour not in colours:
            colours[seen.colour] = _colour(book, seen.colour)
        known = colours[seen.colour]
        if known is not None:
            question, paints = known
            (asked,) = resolved((seen_of(seen),), question.settings)
            film_um = asked.film_um or question.film.coat.dry_film_um
            found.append(observation(seen, _ln_thickness(asked, paints), film_um))
    return tuple(found)


def _colour(book: Book, uid: str) -> tuple[Question, Paints] | None:
    """A colour's question and what its paint may be by its reading alone."""
    try:
        kept = book.show(BookColour, uid)
        # A test card would tell the loading, which is what is to be learned.
        question, _ = asked_of(kept.thing)
        by_reading = Question(
            question.colour,
            question.kind,
            question.angles,
            question.condition,
            question.photo,
            film=question.film,
            tolerance=question.tolerance,
        )
        if kept.removed is not None:
            return None
        by_reading.settings  # noqa: B018 - raises where they cannot be used
        return by_reading, paints_of(by_reading)
    except ShadecoreError:
        return None


def _ln_thickness(record: Seen, paints: Paints) -> tuple[float, float]:
    """Mean and standard deviation of the log of the film that hides."""
    ln_film, part = hiding_films(record, paints)
    weight = paints.weight[:, None] * part
    mean = float(np.sum(weight * ln_film))
    return mean, math.sqrt(float(np.sum(weight * (ln_film - mean) ** 2)))
