"""Things found by what people call them, and names that are taken."""

from typing import TYPE_CHECKING, Any, Final, TypeVar

from sqlalchemy import Connection, or_, select

from shadecore.book import ledger
from shadecore.book.errors import BookError
from shadecore.book.kept import Kept
from shadecore.book.kinds import Kind, folded
from shadecore.book.records import BookCard, BookPhoto
from shadecore.book.rows import newest
from shadecore.book.schema import TABLES
from shadecore.formats.echo import shown

if TYPE_CHECKING:
    from shadecore.book.things import Things

T = TypeVar("T")
SHORT_UID: Final = 8
"""First characters of a uid that tell a thing from others in a list."""
_MOST_CALLED: Final = 20
_MAY_SHARE: Final = (BookCard, BookPhoto)
"""What is told apart by its colour, so that names may repeat."""
_AFTER_ANY: Final = "\uffff"


def called(connection: Connection, kind: Kind[T], name: str) -> tuple[Kept[T], ...]:
    """Things of a name or a code, whatever its capitals; none from the bin.

    Parameters
    ----------
    connection : Connection
        To the book.
    kind : Kind
        Their kind.
    name : str
        The name or the code.

    Returns
    -------
    tuple of Kept
        Those changed last first; twenty at most.
    """
    key, table = folded(name), TABLES[kind.table]
    if not key:
        return ()
    query = select(table).where(
        table.c.removed.is_(None),
        or_(table.c.name_key == key, table.c.code_key == key),
    )
    return newest(connection, kind, query.limit(_MOST_CALLED))


def find(connection: Connection, kind: Kind[T], which: str) -> Kept[T]:
    """One thing by what somebody calls it.

    Parameters
    ----------
    connection : Connection
        To the book.
    kind : Kind
        Its kind.
    which : str
        Its ``uid`` (also from the bin), its code or its name, or else the first eight
        characters or more of its ``uid``.

    Returns
    -------
    Kept

    Raises
    ------
    BookError
        If there is none, or more than one.
    """
    row = ledger.read_row(connection, kind.table, which)
    if row is not None:
        return kind.kept(row)
    found = called(connection, kind, which)
    if not found and len(which) >= SHORT_UID:
        found = _beginning(connection, kind, which.lower())
    if len(found) == 1:
        return found[0]
    if found:
        uids = ", ".join(each.uid[:SHORT_UID] for each in found[:2])
        message = (
            f"The book holds more than one {kind.word} called {shown(which)}; name it "
            f"by the uid in its list ({uids} ...), or rename one."
        )
    else:
        message = (
            f"The book holds no {kind.word} called {shown(which)}; list or search what "
            "it holds."
        )
    raise BookError(message)


def _beginning(
    connection: Connection, kind: Kind[T], start: str
) -> tuple[Kept[T], ...]:
    table = TABLES[kind.table]
    query = select(table).where(
        table.c.removed.is_(None),
        table.c.uid >= start,
        table.c.uid < start + _AFTER_ANY,
    )
    return newest(connection, kind, query.limit(_MOST_CALLED))


def refuse_taken(
    connection: Connection,
    kind: Kind[T],
    thing: T,
    before: Kept[T] | None = None,
) -> None:
    """Refuse a name by which another thing of its kind is known.

    Parameters
    ----------
    connection : Connection
        Of the transaction that writes the thing.
    kind : Kind
        Its kind.
    thing : object
        What is to be written.
    before : Kept, optional
        The same thing as it was; a name that it has already may stay.

    Raises
    ------
    BookError
        If another one has the name, or that code.
    """
    name = getattr(thing, "name", "")
    if kind.record in _MAY_SHARE or not name:
        return
    if before is not None and folded(getattr(before.thing, "name", "")) == folded(name):
        return
    own = "" if before is None else before.uid
    if any(each.uid != own for each in called(connection, kind, name)):
        raise name_taken(name, kind.word)


def name_taken(name: str, what: str) -> BookError:
    """The error for a thing whose name another one has.

    Parameters
    ----------
    name : str
        The name.
    what : str
        What has it, such as ``colour``.

    Returns
    -------
    BookError
    """
    return BookError(
        f"The book holds a {what} called {shown(name)} already; choose another name, "
        "or rename or remove that one."
    )


def free_name(book: "Things", record: type[Any], name: str, own: str = "") -> str:
    """A name that nothing else of a kind has: with a number where it is taken.

    Parameters
    ----------
    book : Things
        The book.
    record : type
        Class of the thing's record.
    name : str
        The name.
    own : str
        ``uid`` of the thing itself; empty for a new one.

    Returns
    -------
    str
        Such as ``Deep red (2)``.
    """
    free, number = name, 1
    while any(each.uid != own for each in book.called(record, free)):
        number += 1
        free = f"{name} ({number})"
    return free
