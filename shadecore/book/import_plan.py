"""What an import of colours would do to the book, before it does it."""

from dataclasses import dataclass, replace
from typing import Generic, TypeVar

from sqlalchemy import Connection, select

from shadecore.book.kept import Kept
from shadecore.book.kinds import folded, kind_of
from shadecore.book.records import BookColour
from shadecore.book.schema import TABLES, in_parts
from shadecore.colour.kinds import NOT_SAID, SOLID

T = TypeVar("T")


@dataclass(frozen=True)
class Skipped:
    """A colour that an import leaves out.

    Attributes
    ----------
    colour : BookColour
        The colour.
    reason : str
        Why, as the end of "left out: ...".
    """

    colour: BookColour
    reason: str


@dataclass(frozen=True)
class ImportPlan(Generic[T]):
    """What an import would do.

    Attributes
    ----------
    add : tuple of object
        Records of one kind that are new.
    change : tuple of (Kept, object)
        Those that are in the book otherwise, and what they become.
    skip : tuple of Skipped
        Colours that are left out, and why.
    """

    add: tuple[T, ...] = ()
    change: tuple[tuple[Kept[T], T], ...] = ()
    skip: tuple[Skipped, ...] = ()


def plan_colours(
    connection: Connection, colours: tuple[BookColour, ...]
) -> ImportPlan[BookColour]:
    """Plan an import.

    A colour with a code is the one in the book with that code, else the one with that
    name which has no code: a table has one column for both. One without a code is the
    one in the book with its name.

    Parameters
    ----------
    connection : Connection
        To the book.
    colours : tuple of BookColour
        What is to be imported.

    Returns
    -------
    ImportPlan
    """
    known = _known(connection, colours)
    add: list[BookColour] = []
    change: list[tuple[Kept[BookColour], BookColour]] = []
    skip: list[Skipped] = []
    met: set[tuple[str, str]] = set()
    for colour in colours:
        key = _key(colour)
        there = known.get(key) or _uncoded(known, key)
        if key in met:
            skip.append(Skipped(colour, "it stands in the file twice"))
        elif len(there) > 1:
            skip.append(Skipped(colour, "the book holds more than one such colour"))
        elif not there:
            add.append(colour)
        elif (becomes := _merged(there[0].thing, colour)) == there[0].thing:
            skip.append(Skipped(colour, "the book holds it already"))
        else:
            change.append((there[0], becomes))
        met.add(key)
    return ImportPlan(tuple(add), tuple(change), tuple(skip))


def _key(colour: BookColour) -> tuple[str, str]:
    code = folded(colour.code)
    return ("code_key", code) if code else ("name_key", folded(colour.name))


def _uncoded(
    known: dict[tuple[str, str], list[Kept[BookColour]]], key: tuple[str, str]
) -> list[Kept[BookColour]]:
    named = known.get(("name_key", key[1]), [])
    return [each for each in named if not each.thing.code]


def _known(
    connection: Connection, colours: tuple[BookColour, ...]
) -> dict[tuple[str, str], list[Kept[BookColour]]]:
    kind = kind_of(BookColour)
    table = TABLES[kind.table]
    known: dict[tuple[str, str], list[Kept[BookColour]]] = {}
    keys = sorted({_key(colour) for colour in colours})
    for column in ("code_key", "name_key"):
        # A code may be the name of a colour without one.
        named = column == "name_key"
        wanted = [key for field, key in keys if named or field == column]
        for some in in_parts(wanted):
            query = select(table).where(
                table.c.removed.is_(None), table.c[column].in_(some)
            )
            for row in connection.execute(query).mappings():
                known.setdefault((column, row[column]), []).append(kind.kept(row))
    return known


def _merged(old: BookColour, new: BookColour) -> BookColour:
    """The old colour with the new reading; what the file does not say stays."""
    question = dict(old.question)
    if question:
        # The question's own copy of the colour follows the reading; see
        # shadecore.question.plain for the names.
        question |= {
            "colour": new.entered or old.entered,
            "illuminant": new.condition.illuminant,
            "observer": new.condition.observer,
            "specular": new.condition.specular,
        }
        for stale in ("photo", "angles"):
            question.pop(stale, None)
    return replace(
        old,
        # A table that names its colours by code says nothing about their names.
        name=old.name if folded(new.name) == folded(new.code) else new.name,
        code=old.code if folded(new.code) == folded(old.name) else new.code or old.code,
        car=new.car or old.car,
        lab=new.lab,
        entered=new.entered,
        condition=new.condition,
        reflectance=new.reflectance,
        photo_spread=new.photo_spread,
        angles=new.angles,
        kind=_kind(old, new),
        who=new.who or old.who,
        measured=new.measured or old.measured,
        note=new.note or old.note,
        question=question,
    )


def _kind(old: BookColour, new: BookColour) -> str:
    """The kind that somebody said, which a file of readings does not undo."""
    told = new.kind not in {NOT_SAID, SOLID}
    turned = bool(new.angles) and old.kind == SOLID
    return new.kind if told or turned else old.kind
