"""How the shop works, and the shelf, paint line and gun that are in use."""

from dataclasses import replace
from datetime import UTC, datetime
from typing import Any, Final

from sqlalchemy import Connection

from shadecore.book import ledger
from shadecore.book.kept import Kept
from shadecore.book.kinds import kind_of
from shadecore.book.shop_records import ShopSettings

_SETTINGS: Final = "00000000-0000-4000-8000-000000000000"
"""``uid`` of the settings, in every book."""
_NEVER: Final = datetime(1970, 1, 1, tzinfo=UTC)
_IN_USE: Final = ("shelf", "line", "gun")
"""Settings that hold the ``uid`` of a thing."""


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
        name: "" for name in _IN_USE if getattr(kept.thing, name) == uid
    }
    if used:
        settings = replace(kept.thing, **used)
        change.put(kind_of(ShopSettings), kept, settings, removed=False)
