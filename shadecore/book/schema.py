"""Tables of the book and how a book of an earlier version becomes one of this.

Each version is a list of SQL statements, run in one transaction with the number of
the version; a book is either of the version before or of the version after. What a
released version says is never changed: another one is added.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from sqlalchemy import Column, Float, Integer, LargeBinary, MetaData, Table, Text

APPLICATION_ID: Final = 0x7368626B
"""``PRAGMA application_id`` of a book: "shbk" in ASCII."""


@dataclass(frozen=True)
class Migration:
    """How a book of the version before becomes one of this version.

    Attributes
    ----------
    version : int
        ``PRAGMA user_version`` afterwards.
    statements : tuple of str
        SQL, in order.
    """

    version: int
    statements: tuple[str, ...]


_COMMON: Final = """
    uid TEXT PRIMARY KEY NOT NULL,
    version INTEGER NOT NULL,
    created TEXT NOT NULL,
    changed TEXT NOT NULL,
    removed TEXT,
    change_number INTEGER NOT NULL,
    name TEXT NOT NULL,
    name_key TEXT NOT NULL,
    code_key TEXT NOT NULL,
    search TEXT NOT NULL,
    body TEXT NOT NULL"""


def _create(table: str, *references: str) -> tuple[str, ...]:
    """Statements that make a table of version 1, its references and its indexes."""
    columns = ",".join((_COMMON, *references))
    return (
        f"CREATE TABLE {table} ({columns})",
        f"CREATE INDEX {table}_newest ON {table} (change_number)",
        f"CREATE INDEX {table}_by_name ON {table} (name_key)",
    )


def _needed(column: str, table: str) -> str:
    return f"{column} TEXT NOT NULL REFERENCES {table} (uid) ON DELETE CASCADE"


def _loose(column: str, table: str) -> str:
    return f"{column} TEXT REFERENCES {table} (uid) ON DELETE SET NULL"


def _own_names(table: str) -> str:
    return (
        f"CREATE UNIQUE INDEX {table}_own_names ON {table} (name_key) "
        "WHERE removed IS NULL"
    )


_LINE, _GUN, _SHELF = (
    _loose("line", "lines"),
    _loose("gun", "guns"),
    _loose("shelf", "shelves"),
)
_FIRST_CHILD_TABLES: Final = {
    "colours": ("line", "gun"),
    "cards": ("colour",),
    "photos": ("colour",),
    "jobs": ("colour", "line", "gun"),
    "seen": ("colour", "line", "gun", "job"),
    "lines": ("sheet",),
    "settings": ("shelf", "line", "gun"),
}
_CHILD_TABLES: Final = _FIRST_CHILD_TABLES | {"leftovers": ("colour", "line")}
_KEYS: Final = {"jobs": ("request",)}
"""Columns by which things are looked up that stand outside the book, too."""

_PICTURES: Final = """
    uid TEXT PRIMARY KEY NOT NULL REFERENCES photos (uid) ON DELETE CASCADE,
    content BLOB NOT NULL"""
_CHANGES: Final = """
    number INTEGER PRIMARY KEY AUTOINCREMENT,
    what TEXT NOT NULL,
    at TEXT NOT NULL"""
# What stood before a change; an empty row where there was nothing.
_BEFORE: Final = """
    place INTEGER PRIMARY KEY,
    number INTEGER NOT NULL REFERENCES changes (number) ON DELETE CASCADE,
    kind TEXT NOT NULL,
    uid TEXT NOT NULL,
    row TEXT"""

_FIRST: Final = Migration(
    1,
    (
        *_create("shelves"),
        _own_names("shelves"),
        *_create("sheets"),
        _own_names("sheets"),
        *_create("lines", _loose("sheet", "sheets")),
        _own_names("lines"),
        *_create("guns"),
        _own_names("guns"),
        *_create("colours", _LINE, _GUN),
        "CREATE INDEX colours_by_code ON colours (code_key)",
        # Holds all that a search reads, so that it never reads a spectrum.
        "CREATE INDEX colours_search ON colours (change_number, removed, search, uid)",
        *_create("cards", _needed("colour", "colours")),
        *_create("photos", _needed("colour", "colours")),
        f"CREATE TABLE pictures ({_PICTURES})",
        *_create("jobs", _loose("colour", "colours"), _LINE, _GUN),
        "CREATE INDEX jobs_by_code ON jobs (code_key)",
        "CREATE INDEX jobs_search ON jobs (change_number, removed, search, uid)",
        *_create(
            "seen", _needed("colour", "colours"), _LINE, _GUN, _loose("job", "jobs")
        ),
        *_create("settings", _SHELF, _LINE, _GUN),
        f"CREATE TABLE changes ({_CHANGES})",
        f"CREATE TABLE before ({_BEFORE})",
        "CREATE INDEX before_by_change ON before (number)",
        *(
            f"CREATE INDEX {table}_by_{column} ON {table} ({column})"
            for table, columns in _FIRST_CHILD_TABLES.items()
            for column in columns
        ),
    ),
)

# A job's file has its uid on a line of its own, behind eight characters.
_JOBS_BY_THEIR_UID: Final = """
    UPDATE jobs SET request = substr(
        json_extract(body, '$.text'),
        instr(json_extract(body, '$.text'), char(10) || 'uid = "') + 8,
        36
    )
    WHERE instr(json_extract(body, '$.text'), char(10) || 'uid = "') > 0"""
_NO_UID: Final = """
    UPDATE jobs SET request = ''
    WHERE request NOT GLOB '????????-????-????-????-????????????'
    OR request GLOB '*[^0-9a-f-]*'"""
# A kind was "other" where nobody had said it or it had no word of its own; a change
# that is undone must not bring it back. A row's body is a text: without the || it would
# become a part of the row's own JSON.
_KIND_AS_ASKED: Final = (
    """
    UPDATE colours
    SET body = json_set(
        body, '$.kind', coalesce(json_extract(body, '$.question.kind'), '')
    )
    WHERE json_extract(body, '$.kind') = 'other'""",
    """
    UPDATE before
    SET row = json_set(
        row, '$.body', json_set(json_extract(row, '$.body'), '$.kind', '') || ''
    )
    WHERE kind = 'colours' AND row IS NOT NULL
    AND json_extract(json_extract(row, '$.body'), '$.kind') = 'other'""",
)
_LEFT_OVER: Final = (
    *_create("leftovers", _loose("colour", "colours"), _LINE),
    "CREATE INDEX leftovers_by_colour ON leftovers (colour)",
    "CREATE INDEX leftovers_by_line ON leftovers (line)",
)
# A counter of its own: changes are also undone, and forgotten with the bin.
_STATE: Final = """
    id INTEGER PRIMARY KEY CHECK (id = 1),
    number INTEGER NOT NULL"""
# Can be worked out again, so it is no thing of the book.
_WORKED_OUT: Final = """
    key TEXT PRIMARY KEY NOT NULL,
    mean REAL NOT NULL,
    spread REAL NOT NULL,
    film_um REAL NOT NULL"""

_SECOND: Final = Migration(
    2,
    (
        *_LEFT_OVER,
        "ALTER TABLE jobs ADD COLUMN request TEXT NOT NULL DEFAULT ''",
        *_KIND_AS_ASKED,
        _JOBS_BY_THEIR_UID,
        _NO_UID,
        "CREATE INDEX jobs_by_request ON jobs (request)",
        f"CREATE TABLE state ({_STATE})",
        "INSERT INTO state SELECT 1, coalesce(max(number), 0) FROM changes",
        f"CREATE TABLE worked_out ({_WORKED_OUT})",
    ),
)

_THIRD: Final = Migration(3, (*_create("step_sets"), _own_names("step_sets")))

MIGRATIONS: Final = (_FIRST, _SECOND, _THIRD)
"""All of them, in order."""
VERSION: Final = MIGRATIONS[-1].version
_AT_ONCE: Final = 500
"""Keys asked for by one query; SQLite takes 32 766 at most."""

METADATA: Final = MetaData()


def in_parts(keys: Sequence[str]) -> Iterator[Sequence[str]]:
    """Keys in parts, each of which one query may ask for.

    Parameters
    ----------
    keys : sequence of str
        Any number of keys.

    Yields
    ------
    sequence of str
    """
    for start in range(0, len(keys), _AT_ONCE):
        yield keys[start : start + _AT_ONCE]


def references_of(table: str) -> tuple[str, ...]:
    """Columns of a table that hold the ``uid`` of another thing.

    Parameters
    ----------
    table : str
        The table.

    Returns
    -------
    tuple of str
    """
    return _CHILD_TABLES.get(table, ())


def columns_of(table: str) -> tuple[str, ...]:
    """Columns of a table that hold a field of its record alone.

    Parameters
    ----------
    table : str
        The table.

    Returns
    -------
    tuple of str
        Its references and its keys.
    """
    return references_of(table) + _KEYS.get(table, ())


def _table(name: str) -> Table:
    return Table(
        name,
        METADATA,
        Column("uid", Text, primary_key=True),
        *(Column(column, Integer) for column in ("version", "change_number")),
        *(
            Column(column, Text)
            for column in ("created", "changed", "removed", "name", "name_key")
        ),
        *(Column(column, Text) for column in ("code_key", "search", "body")),
        *(Column(column, Text) for column in columns_of(name)),
    )


TABLES: Final = {
    name: _table(name)
    for name in (
        "shelves",
        "sheets",
        "lines",
        "guns",
        "colours",
        "cards",
        "photos",
        "jobs",
        "seen",
        "settings",
        "leftovers",
        "step_sets",
    )
}
"""Tables of things by name; each comes after those that it refers to."""
PICTURES: Final = Table(
    "pictures",
    METADATA,
    Column("uid", Text, primary_key=True),
    Column("content", LargeBinary),
)
CHANGES: Final = Table(
    "changes",
    METADATA,
    Column("number", Integer, primary_key=True),
    Column("what", Text),
    Column("at", Text),
)
BEFORE: Final = Table(
    "before",
    METADATA,
    Column("place", Integer, primary_key=True),
    Column("number", Integer),
    Column("kind", Text),
    Column("uid", Text),
    Column("row", Text),
)
STATE: Final = Table(
    "state",
    METADATA,
    Column("id", Integer, primary_key=True),
    Column("number", Integer),
)
WORKED_OUT: Final = Table(
    "worked_out",
    METADATA,
    Column("key", Text, primary_key=True),
    *(Column(column, Float) for column in ("mean", "spread", "film_um")),
)
"""What the engine said of records, by their content."""
