"""What the engine said of records, kept beside them so that it is asked once only.

It belongs to the code and data that made it: after a change of either, its keys are
others, and the old ones give way.
"""

from collections.abc import Mapping, Sequence
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Final, NamedTuple

import msgspec
from sqlalchemy import ColumnElement, Connection, delete, func, literal_column, select
from sqlalchemy.dialects.sqlite import insert

from shadecore.book.records import BookColour, BookSeen
from shadecore.book.schema import WORKED_OUT, in_parts
from shadecore.datafiles import data_file
from shadecore.kept import content_key

_ROOMS: Final = ("colour", "film", "recipes", "undercoats", "coats", "effects")
_DATA: Final = (
    "colorant-families.toml",
    "effect-families.toml",
    "tristimulus-weights-d65-10deg-10nm.csv",
)
MOST_KEPT: Final = 4000
"""Records whose numbers are kept, the newest ones; ten times what is learned from."""


class Hides(NamedTuple):
    """What the engine says of a colour over what a record was over.

    Attributes
    ----------
    mean, spread : float
        Mean and standard deviation of the logarithm of the hiding thickness in um, at
        the loading that counts as 1.
    film_um : float
        Dry film of one coat where the record tells none. [um]
    """

    mean: float
    spread: float
    film_um: float


@cache
def _made_by() -> str:
    """Changes with the code and data of the engine."""
    rooms = Path(__file__).resolve().parents[1]
    code = [file for room in _ROOMS for file in (rooms / room).glob("*.py")]
    return content_key([*code, *(data_file(name) for name in _DATA)])


def key_of(colour: BookColour, seen: BookSeen) -> str:
    """Key of a record by all that the engine's numbers depend on.

    Parameters
    ----------
    colour : BookColour
        The colour.
    seen : BookSeen
        A record of it.

    Returns
    -------
    str
    """
    told = (
        _made_by(),
        (colour.lab, colour.entered, colour.condition, colour.reflectance),
        (colour.photo_spread, colour.angles, colour.kind, colour.question),
        (seen.source, seen.undercoat, seen.tolerance, seen.film_um),
    )
    return sha256(msgspec.json.encode(told)).hexdigest()


def read_hides(connection: Connection, keys: Sequence[str]) -> dict[str, Hides]:
    """What is kept.

    Parameters
    ----------
    connection : Connection
        To the book.
    keys : sequence of str
        Of the records.

    Returns
    -------
    dict of str to Hides
        Without those that are not kept.
    """
    found: dict[str, Hides] = {}
    for some in in_parts(keys):
        query = select(WORKED_OUT).where(WORKED_OUT.c.key.in_(some))
        for row in connection.execute(query):
            found[row.key] = Hides(row.mean, row.spread, row.film_um)
    return found


def write_hides(connection: Connection, found: Mapping[str, Hides]) -> None:
    """Keep what was worked out, and let the oldest go.

    Parameters
    ----------
    connection : Connection
        Of a transaction that writes.
    found : mapping of str to Hides
        By the keys of the records.
    """
    rows = [{"key": key, **each._asdict()} for key, each in found.items()]
    if not rows:
        return
    connection.execute(insert(WORKED_OUT).on_conflict_do_nothing(), rows)
    # SQLite numbers rows as they come.
    number: ColumnElement[int] = literal_column("rowid")
    newest = select(func.max(number)).select_from(WORKED_OUT).scalar_subquery()
    connection.execute(delete(WORKED_OUT).where(number <= newest - MOST_KEPT))
