"""What an import of colours would do to the book, before it does it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, Final, Generic, NamedTuple, TypeVar

from sqlalchemy import Connection, select

from shadecore.book.asked import asked_of
from shadecore.book.kept import Kept
from shadecore.book.kinds import folded, kind_of
from shadecore.book.records import BookColour, BookShelf
from shadecore.book.schema import TABLES, in_parts
from shadecore.colour.kinds import NOT_SAID, SOLID
from shadecore.question.plain import to_plain

T = TypeVar("T")
ALREADY: Final = "the book holds it already"
_READ: Final = ("reflectance", "photo_spread", "angles")
"""What a colour may have been read as, beside its Lab."""
_STALE: Final = ("photo", "angles")
"""Names in a question that another reading empties."""
_OF_READING: Final = ("colour", "illuminant", "observer", "specular", *_STALE)
_LAB_ROUNDING: Final = 0.0051
_ROUNDING: Final = 0.000051
"""Half of the second and fourth decimal, to which tables are often rounded, and a
little."""


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


class Import(NamedTuple):
    """What an import does.

    Attributes
    ----------
    add : tuple
        Records that are new.
    change : tuple of (Kept, record)
        Things of the book, and what they become.
    skip : tuple of (str, str)
        What is left out, and why.
    problems : tuple of str
        What could not be read: a sentence each.
    """

    add: tuple[Any, ...] = ()
    change: tuple[tuple[Kept[Any], Any], ...] = ()
    skip: tuple[tuple[str, str], ...] = ()
    problems: tuple[str, ...] = ()


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
            skip.append(Skipped(colour, ALREADY))
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
    read = _reading(old, new)
    return replace(
        read,
        # A table that names its colours by code says nothing about their names.
        name=old.name if folded(new.name) == folded(new.code) else new.name,
        code=old.code if folded(new.code) == folded(old.name) else new.code or old.code,
        car=new.car or old.car,
        kind=_kind(old, new),
        who=new.who or old.who,
        measured=new.measured or old.measured,
        note=new.note or old.note,
    )


def _reading(old: BookColour, new: BookColour) -> BookColour:
    """The old colour as it was read last.

    A file of the same reading that says less of it takes nothing away.
    """
    same = _close(old.lab, new.lab, _LAB_ROUNDING)
    read = replace(
        old,
        lab=new.lab,
        entered=new.entered,
        condition=new.condition,
        **{
            name: getattr(old if same and _covers(old, new, name) else new, name)
            for name in _READ
        },
    )
    if same and all(getattr(read, name) == getattr(old, name) for name in _READ):
        return old
    if not old.question:
        return read
    # The question's own copy of the colour follows the reading; see
    # shadecore.question.plain for the names.
    asked = to_plain(asked_of(replace(read, question={})).question)
    question = {
        name: value for name, value in old.question.items() if name not in _STALE
    }
    question |= {
        name: asked[name] for name in _OF_READING if asked[name] or name not in _STALE
    }
    return replace(read, question=question)


def _covers(old: BookColour, new: BookColour, name: str) -> bool:
    """Whether the old colour has all that the new one says of a field."""
    said = getattr(new, name)
    if name != "angles":
        return not said or _close(getattr(old, name), said)
    known = {each.aspecular_deg: each for each in old.angles}
    return all(
        each.aspecular_deg in known
        and _close(known[each.aspecular_deg].lab, each.lab, _LAB_ROUNDING)
        and (
            not each.reflectance
            or _close(known[each.aspecular_deg].reflectance, each.reflectance)
        )
        for each in said
    )


def _close(
    one: Sequence[float], other: Sequence[float], within: float = _ROUNDING
) -> bool:
    """Whether numbers are the same but for the rounding of a table."""
    return len(one) == len(other) and all(
        abs(a - b) <= within for a, b in zip(one, other, strict=True)
    )


def dropped(old: object, new: object) -> tuple[str, ...]:
    """What a change takes away.

    Parameters
    ----------
    old, new : object
        A record of any kind before and after.

    Returns
    -------
    tuple of str
        Such as ``its spectrum``; empty where nothing is lost.
    """
    if isinstance(old, BookShelf) and isinstance(new, BookShelf):
        left = {each.undercoat.name for each in new.items}
        names = (each.undercoat.name for each in old.items)
        return tuple(name for name in names if name not in left)
    if isinstance(old, BookColour) and isinstance(new, BookColour):
        return tuple(_readings_dropped(old, new))
    return ()


def _readings_dropped(old: BookColour, new: BookColour) -> list[str]:
    lost = []
    if old.reflectance and not new.reflectance:
        lost.append("its spectrum")
    angles = {each.aspecular_deg for each in old.angles}
    angles -= {each.aspecular_deg for each in new.angles}
    if angles:
        listed = ", ".join(f"{each:g}" for each in sorted(angles))
        lost.append(f"its readings at {listed} degrees")
    if old.photo_spread and not new.photo_spread:
        lost.append("the doubt of its photo")
    return lost


def _kind(old: BookColour, new: BookColour) -> str:
    """The kind that somebody said, which a file of readings does not undo."""
    told = new.kind not in {NOT_SAID, SOLID}
    turned = bool(new.angles) and old.kind == SOLID
    return new.kind if told or turned else old.kind
