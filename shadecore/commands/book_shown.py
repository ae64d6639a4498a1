"""What the book holds, as tables for a terminal and as data for programs."""

from collections.abc import Sequence
from typing import Any, Final, NamedTuple

import msgspec

from shadecore.book.book import Book
from shadecore.book.import_plan import Import
from shadecore.book.in_use import IN_USE
from shadecore.book.kept import Change, Kept
from shadecore.book.kinds import kind_of
from shadecore.book.names import SHORT_UID
from shadecore.book.records import (
    BookCard,
    BookColour,
    BookPhoto,
    BookSeen,
    BookShelf,
)
from shadecore.book.shop_records import (
    BookJob,
    BookLeftOver,
    BookSheet,
    BookSteps,
    PaintLine,
    SprayGun,
)
from shadecore.commands.book_columns import COLUMNS, NAMED, seen_text
from shadecore.pages.blocks import Block, Document, Section, Table, Text
from shadecore.telling.book_words import dropped_words
from shadecore.telling.set_up_words import changes_words

RECORDS: Final[dict[str, type[Any]]] = {
    "colours": BookColour,
    "jobs": BookJob,
    "shelves": BookShelf,
    "records": BookSeen,
    "lines": PaintLine,
    "guns": SprayGun,
    "sheets": BookSheet,
    "leftovers": BookLeftOver,
    "cards": BookCard,
    "steps": BookSteps,
    "photos": BookPhoto,
}
"""Kinds of things by the words of the command line."""
_REFERRED: Final[dict[str, type[Any]]] = {
    "colour": BookColour,
    "job": BookJob,
    "line": PaintLine,
    "gun": SprayGun,
    "sheet": BookSheet,
    "shelf": BookShelf,
}
"""What the fields hold that name another thing."""
_LONG: Final = ("text", "reflectance", "question", "angles", "card")
"""Fields that a page names by their size only."""


class Shown(NamedTuple):
    """What a verb says.

    Attributes
    ----------
    page : Document
        For a terminal.
    record : object
        For programs, ready for JSON.
    """

    page: Document
    record: Any


def thing_record(kept: Kept[Any]) -> dict[str, Any]:
    """A thing as plain data.

    Parameters
    ----------
    kept : Kept
        The thing.

    Returns
    -------
    dict
    """
    about = msgspec.to_builtins(kept)
    thing = about.pop("thing")
    return {"kind": _word(kept), **about, **thing}


def list_page(book: Book, word: str, things: Sequence[Kept[Any]]) -> Shown:
    """Things of one kind as a table.

    Parameters
    ----------
    book : Book
        Where the things stand that they belong to.
    word : str
        One of ``RECORDS``.
    things : sequence of Kept
        The things.

    Returns
    -------
    Shown
    """
    headings, cells = COLUMNS.get(word, NAMED)
    setting = IN_USE.get(RECORDS[word])
    used = getattr(book.settings().thing, setting) if setting else ""
    rows = tuple(
        (
            each.uid[:SHORT_UID],
            *cells(book, each),
            *(["yes" if each.uid == used else ""] if setting else []),
            _day(each),
        )
        for each in things
    )
    headings = (*headings, "In use") if setting else headings
    block: Block = Text(f"The book holds no {word}.")
    if rows:
        block = Table(("Which", *headings, "Changed"), rows)
    return Shown(Document(blocks=(block,)), [thing_record(each) for each in things])


def found_page(things: Sequence[Kept[Any]]) -> Shown:
    """Things of several kinds as a table.

    Parameters
    ----------
    things : sequence of Kept
        The things.

    Returns
    -------
    Shown
    """
    rows = tuple(
        (each.uid[:SHORT_UID], _word(each), _name(each), _day(each)) for each in things
    )
    block: Block = Text("Nothing is there.")
    if rows:
        block = Table(("Which", "What", "Name", "Changed"), rows)
    return Shown(Document(blocks=(block,)), [thing_record(each) for each in things])


def thing_page(book: Book, kept: Kept[Any]) -> Shown:
    """One thing with all that is known of it.

    Parameters
    ----------
    book : Book
        Where the things stand that it belongs to.
    kept : Kept
        The thing.

    Returns
    -------
    Shown
    """
    record = thing_record(kept)
    belongs = {
        name: _name(book.show(_REFERRED[name], record[name]))
        for name in kind_of(type(kept.thing)).references
        if record[name]
    }
    moments = {
        name: f"{moment.astimezone():%Y-%m-%d %H:%M}"
        for name in ("created", "changed", "removed")
        if (moment := getattr(kept, name)) is not None
    }
    told = record | belongs | moments
    if isinstance(kept.thing, BookSteps):
        told["changes"] = changes_words(kept.thing.changes)
    lines = [
        Text(_words(name, value), name.replace("_", " ").capitalize())
        for name, value in told.items()
        if value not in ("", None, (), [], {})
    ]
    return Shown(Document(blocks=tuple(lines)), record)


def plan_page(plan: Import, *, done: bool) -> Shown:
    """What an import adds, changes and skips.

    Parameters
    ----------
    plan : Import
        The plan.
    done : bool
        Whether it was done.

    Returns
    -------
    Shown
    """
    lost = dropped_words(plan)
    record = {
        "add": [_called(each) for each in plan.add],
        "change": [_called(each) for _, each in plan.change],
        "skip": [{"name": name, "reason": reason} for name, reason in plan.skip],
        "drop": list(lost),
        "problems": list(plan.problems),
        "done": done,
    }
    skipped = [f"{name} ({reason})" for name, reason in plan.skip]
    counted = (
        ("Add", [_called(each) for each in plan.add]),
        ("Change", [_called(each) for _, each in plan.change]),
        ("Skip", skipped),
    )
    lines = [Text(_some(names), label) for label, names in counted]
    lines += [Text(each, "Drops") for each in lost]
    lines += [Text(each, "Problem") for each in plan.problems]
    end = "Done." if done else "Nothing was written yet; add --yes to do it."
    return Shown(Document(blocks=(*lines, Text(end))), record)


def changes_page(changes: Sequence[Change]) -> Shown:
    """Changes that can be undone, as a table.

    Parameters
    ----------
    changes : sequence of Change
        The changes, newest first.

    Returns
    -------
    Shown
    """
    rows = tuple(
        (f"{each.at.astimezone():%Y-%m-%d %H:%M}", each.what) for each in changes
    )
    block: Block = Text("There is nothing to undo.")
    if rows:
        block = Table(("When", "What"), rows)
    return Shown(Document(blocks=(block,)), msgspec.to_builtins(changes))


def said_page(sentence: str, **record: Any) -> Shown:  # noqa: ANN401 - for JSON
    """A sentence on what was done.

    Parameters
    ----------
    sentence : str
        The sentence.
    **record
        The same for programs.

    Returns
    -------
    Shown
    """
    return Shown(Document(blocks=(Text(sentence),)), {"said": sentence, **record})


def problems_page(problems: Sequence[str]) -> Shown:
    """What a check found.

    Parameters
    ----------
    problems : sequence of str
        A sentence each.

    Returns
    -------
    Shown
    """
    lines = tuple(Text(each) for each in problems or ("The book is whole.",))
    return Shown(Document(sections=(Section("Check", lines),)), list(problems))


def _some(names: Sequence[str], most: int = 20) -> str:
    more = f" and {len(names) - most} more" if len(names) > most else ""
    listed = f": {', '.join(names[:most])}{more}" if names else ""
    return f"{len(names)}{listed}"


def _called(thing: Any) -> str:  # noqa: ANN401 - a record of any kind
    if isinstance(thing, BookSeen):
        return seen_text(thing)
    return str(thing.name)


def _word(kept: Kept[Any]) -> str:
    return kind_of(type(kept.thing)).word


def _name(kept: Kept[Any]) -> str:
    return _called(kept.thing) or kept.uid


def _day(kept: Kept[Any]) -> str:
    return f"{kept.changed.astimezone():%Y-%m-%d}"


def _words(name: str, value: Any) -> str:  # noqa: ANN401 - a field of any kind
    if name in _LONG or (isinstance(value, str) and "\n" in value):
        unit = "characters" if isinstance(value, str) else "values"
        return f"{len(value)} {unit}; --json shows them"
    if name == "undercoat":
        return _grey_words(value)
    if name == "items":
        return ", ".join(
            _grey_words(each["undercoat"], each["stock"]) for each in value
        )
    if isinstance(value, dict):
        return ", ".join(f"{key} {each}" for key, each in value.items() if each)
    if isinstance(value, list | tuple):
        return " ".join(f"{each:.4g}" for each in value)
    return str(value)


def _grey_words(grey: dict[str, Any], stock: float | None = None) -> str:
    """An undercoat without its spectrum, and how much of it is left."""
    unit = f" {grey['unit']}" if grey["unit"] else ""
    left = "" if stock is None else f", {stock:g}{unit} left"
    return f"{grey['name']} (L* {grey['lab'][0]:.1f}{left})"
