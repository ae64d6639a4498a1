"""Records of what was seen as a table: written with all that is known, read back."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from functools import cache
from typing import Any, Final

from shadecore.book.asking import record_of, seen_of
from shadecore.book.book import Book
from shadecore.book.errors import BookError
from shadecore.book.import_plan import ALREADY, Import
from shadecore.book.kept import Kept
from shadecore.book.kinds import kind_of
from shadecore.book.records import BookColour, BookSeen
from shadecore.book.shop_records import BookJob, PaintLine, SprayGun
from shadecore.book.working import own_shelf
from shadecore.coats.seen_table import Noted, parse_seen, write_seen
from shadecore.errors import ShadecoreError
from shadecore.formats.echo import shown
from shadecore.formats.text_file import TableText
from shadecore.undercoats.shelf import Shelf, Undercoat
from shadecore.undercoats.shelf_table import demo_shelf

_LINKS: Final[dict[str, type[Any]]] = {
    "line": PaintLine,
    "gun": SprayGun,
    "job": BookJob,
}
_WORDS: Final = ("batch", "who", "when", "note")


def records_table(book: Book, colour: str | None = None) -> bytes:
    """Records of what was seen as CSV, with line, gun, job, batch, who and when.

    Parameters
    ----------
    book : Book
        The book.
    colour : str, optional
        Name, code or ``uid`` of the colour; those of all unless given.

    Returns
    -------
    bytes
        What :func:`import_records` reads back, into this book or another one that has
        the same colours, lines, guns and jobs.

    Raises
    ------
    BookError
        If there is no such colour.
    """
    belongs = None if colour is None else {"colour": book.show(BookColour, colour).uid}
    name = _names(book)
    noted = []
    for kept in book.list(BookSeen, belongs=belongs):
        thing = kept.thing
        about = {each: name(_LINKS[each], getattr(thing, each)) for each in _LINKS}
        about |= {
            "batch": thing.batch,
            "who": thing.who,
            "when": "" if thing.when is None else thing.when.isoformat(),
            "note": thing.note,
        }
        code = name(BookColour, thing.colour)
        noted.append(Noted(code, seen_of(thing), tuple(about.items())))
    return write_seen(noted).encode()


def _names(book: Book) -> Callable[..., str]:
    """What things are called in a file: code or name, where that tells them apart."""

    @cache
    def name(record: type[Any], uid: str) -> str:
        if not uid:
            return ""
        thing = book.show(record, uid).thing
        # A job's code is its colour's, which other jobs have as well.
        code = "" if record is BookJob else getattr(thing, "code", "")
        for called in (code, thing.name):
            if [each.uid for each in book.called(record, called)] == [uid]:
                return str(called)
        return uid

    return name


def import_records(book: Book, text: TableText, name: str) -> Import:
    """What records of what was seen would do.

    Parameters
    ----------
    book : Book
        The book, whose colours they name.
    text : str or TextFile
        As :func:`shadecore.coats.seen_table.parse_seen` reads it. Where it has columns
        ``line``, ``gun``, ``job``, ``batch``, ``who``, ``when`` or ``note``, they say
        it; else line and gun are those of the colour.
    name : str
        What to call the file in a message.

    Returns
    -------
    Import
        A record that the book, or an earlier row, has with all that the row says is
        left out.

    Raises
    ------
    ShadecoreError
        If it cannot be read.
    """
    add: list[BookSeen] = []
    skip: list[tuple[str, str]] = []
    problems: dict[str, None] = {}
    known: dict[str, set[BookSeen]] = {}
    found = _found(book)
    for noted in parse_seen(text, name, known_greys(book)):
        about = dict(noted.about)
        colour = found(BookColour, noted.code)
        if colour is None:
            skip.append((noted.code, "the book holds no such colour"))
            continue
        links = {each: found(_LINKS[each], about.get(each, "")) for each in _LINKS}
        missing = [each for each in _LINKS if about.get(each) and not links[each]]
        unknown = [_no_such(each, about[each]) for each in missing if each != "job"]
        if unknown:
            skip.append((noted.code, f"{unknown[0]}; add it first"))
            continue
        if missing:
            said = _no_such("job", about["job"])
            problems[f"{said[0].upper()}{said[1:]}, so its records name none."] = None
        record = replace(record_of(colour, noted.seen), **_said(about, links))
        if colour.uid not in known:
            there = book.list(BookSeen, belongs={"colour": colour.uid})
            known[colour.uid] = {_told(each.thing, about) for each in there}
        told = _told(record, about)
        if told in known[colour.uid]:
            skip.append((noted.code, ALREADY))
        else:
            add.append(record)
            known[colour.uid].add(told)
    return Import(tuple(add), skip=tuple(skip), problems=tuple(problems))


def known_greys(book: Book, more: Shelf = ()) -> Shelf:
    """What the undercoat of a record may be by its name alone.

    Parameters
    ----------
    book : Book
        The book.
    more : tuple of Undercoat
        Others that may be meant, after those of the shelf in use.

    Returns
    -------
    tuple of Undercoat
        The shelf in use, these, and the invented greys, each name once.
    """
    greys: dict[str, Undercoat] = {}
    for each in (*own_shelf(book), *more, *demo_shelf()):
        greys.setdefault(each.name, each)
    return tuple(greys.values())


def _no_such(kind: str, called: str) -> str:
    return f"the book holds no {kind_of(_LINKS[kind]).word} called {shown(called)}"


def _found(book: Book) -> Callable[..., Kept[Any] | None]:
    @cache
    def found(record: type[Any], which: str) -> Kept[Any] | None:
        try:
            return book.show(record, which) if which else None
        except ShadecoreError:
            return None

    return found


def _said(about: dict[str, str], links: dict[str, Kept[Any] | None]) -> dict[str, Any]:
    """Fields of a record that its row says."""
    said: dict[str, Any] = {
        name: "" if kept is None else kept.uid
        for name, kept in links.items()
        if name in about
    }
    for name in ("batch", "who", "note"):
        if name in about:
            said[name] = about[name]
    if about.get("when"):
        said["when"] = _moment(about["when"])
    return said


def _moment(written: str) -> datetime:
    try:
        return datetime.fromisoformat(written).replace(tzinfo=None)
    except ValueError as error:
        message = (
            f"When something was seen, {shown(written)}, cannot be read; write it like "
            "2026-03-02T14:30."
        )
        raise BookError(message) from error


def _told(record: BookSeen, about: dict[str, str]) -> BookSeen:
    """A record with only what a row says of it."""
    nothing = BookSeen(record.colour, record.source, 1, 1)
    unsaid = {
        name: getattr(nothing, name) for name in (*_LINKS, *_WORDS) if name not in about
    }
    return replace(record, **({"note": record.note.strip()} | unsaid))
