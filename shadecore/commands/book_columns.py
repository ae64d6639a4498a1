"""What a list of the book shows of each kind of thing."""

from collections.abc import Callable
from datetime import datetime
from typing import Any, Final

from shadecore.book.book import Book
from shadecore.book.errors import BookError
from shadecore.book.kept import Kept
from shadecore.book.left_overs import judged, sheets_of
from shadecore.book.records import BookColour, BookSeen
from shadecore.telling.left_over_words import verdict_words
from shadecore.telling.seen import seen_words
from shadecore.telling.set_up_words import changes_words


def seen_text(seen: BookSeen) -> str:
    """A record in a few words.

    Parameters
    ----------
    seen : BookSeen
        The record.

    Returns
    -------
    str
    """
    high = seen.coats_high
    over = "" if seen.undercoat is None else seen.undercoat.name
    low = seen.coats_low if seen.looked else 1
    return seen_words(low, high, over, hid=seen.hid, source=seen.source)


def _lab(colour: BookColour) -> str:
    return " ".join(f"{each:.1f}" for each in colour.lab)


def _colour_cells(_: Book, kept: Kept[Any]) -> tuple[str, ...]:
    each = kept.thing
    return each.name, each.code, each.car, _lab(each)


def _job_cells(_: Book, kept: Kept[Any]) -> tuple[str, ...]:
    each = kept.thing
    return each.name, each.code, each.car, each.state, each.step


def _shelf_cells(_: Book, kept: Kept[Any]) -> tuple[str, ...]:
    return kept.thing.name, str(len(kept.thing.items)), kept.thing.note


def _seen_cells(book: Book, kept: Kept[Any]) -> tuple[str, ...]:
    colour = _colour_name(book, kept.thing.colour)
    return colour, seen_text(kept.thing)


def _named_cells(_: Book, kept: Kept[Any]) -> tuple[str, ...]:
    return kept.thing.name, kept.thing.note


def _line_cells(_: Book, kept: Kept[Any]) -> tuple[str, ...]:
    return kept.thing.name, kept.thing.batch, kept.thing.note


def _card_cells(book: Book, kept: Kept[Any]) -> tuple[str, ...]:
    each = kept.thing
    coats = ", ".join(str(step.coats) for step in each.card.steps)
    film = f"{each.film_um:g} um"
    colour = _colour_name(book, each.colour)
    return colour, each.name, coats, film


def _photo_cells(book: Book, kept: Kept[Any]) -> tuple[str, ...]:
    each = kept.thing
    colour = _colour_name(book, each.colour)
    return colour, each.name, each.note


def _colour_name(book: Book, uid: str) -> str:
    try:
        return book.show(BookColour, uid).thing.name
    except BookError:
        return "?"


def _left_cells(book: Book, kept: Kept[Any]) -> tuple[str, ...]:
    left = kept.thing.left
    amount = f"{left.ml:g} ml"
    today = datetime.now().astimezone().date()
    verdict = verdict_words(judged(sheets_of(book), kept, today))
    return kept.thing.name, left.product, amount, f"{left.since}", left.batch, verdict


def _steps_cells(_: Book, kept: Kept[Any]) -> tuple[str, ...]:
    return kept.thing.name, changes_words(kept.thing.changes), kept.thing.note


_Cells = Callable[[Book, Kept[Any]], tuple[str, ...]]
COLUMNS: Final[dict[str, tuple[tuple[str, ...], _Cells]]] = {
    "colours": (("Name", "Code", "Car", "L* a* b*"), _colour_cells),
    "jobs": (("Name", "Code", "Car", "State", "Step"), _job_cells),
    "shelves": (("Name", "Sealers", "Note"), _shelf_cells),
    "records": (("Colour", "Seen"), _seen_cells),
    "lines": (("Name", "Batch", "Note"), _line_cells),
    "cards": (("Colour", "Name", "Coats", "Film"), _card_cells),
    "leftovers": (
        ("Name", "Product", "Left", "Since", "Batch", "Verdict"),
        _left_cells,
    ),
    "photos": (("Colour", "Name", "Note"), _photo_cells),
    "steps": (("Name", "Done otherwise", "Note"), _steps_cells),
}
"""Headings and cells of each kind's list, between its uid and its day."""
NAMED: Final = (("Name", "Note"), _named_cells)
"""Of kinds that have no more to say."""
