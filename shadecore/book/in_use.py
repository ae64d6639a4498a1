"""How the shop works, and the shelf, paint line and gun that are in use."""

from dataclasses import replace
from datetime import UTC, datetime
from typing import Any, Final

from sqlalchemy import Connection

from shadecore.book import ledger
from shadecore.book.kept import Kept
from shadecore.book.kinds import kind_of
from shadecore.book.records import BookShelf
from shadecore.book.shop_records import PaintLine, ShopSettings, SprayGun

_SETTINGS: Final = "00000000-0000-4000-8000-000000000000"
"""``uid`` of the settings, in every book."""
_NEVER: Final = datetime(1970, 1, 1, tzinfo=UTC)
IN_USE: Final[dict[type, str]] = {
    BookShelf: "shelf",
    PaintLine: "line",
    SprayGun: "gun",
}
"""Settings that hold the ``uid`` of a thing, by its record."""


def shop_settings(connection: Connection) -> Kept[ShopSettings]:
    """How the shop works; as usual where nobody said.

    Parameters
    ----------
    connection : Connection
        To the book.

    Returns
    -------
    Kept of ShopSettings
    """
    kind = kind_of(ShopSettings)
    row = ledger.read_row(connection, kind.table, _SETTINGS)
    if row is None:
        return Kept(_SETTINGS, 0, ShopSettings(), _NEVER, _NEVER)
    return kind.kept(row)


def out_of_use(change: ledger.Ledger, uid: str) -> None:
    """Take a thing out of use, as a part of the change that removes it.

    Parameters
    ----------
    change : Ledger
        The change.
    uid : str
        Of the thing; nothing is done where it is not in use.
    """
    kept = shop_settings(change.connection)
    used: dict[str, Any] = {
        name: "" for name in IN_USE.values() if getattr(kept.thing, name) == uid
    }
    if used:
        settings = replace(kept.thing, **used)
        change.put(kind_of(ShopSettings), kept, settings, removed=False)


def use(change: ledger.Ledger, name: str, uid: str) -> Kept[ShopSettings]:
    """Set what is in use.

    Parameters
    ----------
    change : Ledger
        The change that does it.
    name : str
        The setting, one of ``IN_USE``.
    uid : str
        Of the thing; empty for none.

    Returns
    -------
    Kept of ShopSettings
    """
    kept = shop_settings(change.connection)
    values: dict[str, Any] = {name: uid}
    settings = replace(kept.thing, **values)
    return change.put(kind_of(ShopSettings), kept, settings, removed=False)
