"""Records of what was seen as CSV, and as a painter says them in a few words."""

import re
from collections.abc import Sequence
from typing import Any, Final, NamedTuple

from shadecore.coats.seen import SOURCES, Seen
from shadecore.errors import SettingError, ShelfError
from shadecore.formats.bad_rows import at_row
from shadecore.formats.echo import choices, shown, tail
from shadecore.formats.table import Row, read_rows
from shadecore.formats.table_writer import Cell, write_records
from shadecore.formats.text_file import TableText
from shadecore.undercoats.shelf import Shelf, Undercoat, undercoat
from shadecore.undercoats.shelf_table import undercoat_cells, undercoat_of

HOW_TO_SAY: Final = (
    '"4 over White N 9", "2 to 3", "up to 4 over White N 9" or "more than 3 over White '
    'N 9"'
)
MOST_RECORDS: Final = 100_000
"""Of one file, which may be of many colours and years; more is a mistake, and this
tool's own limit."""
_COLUMNS: Final = (
    "code",
    "source",
    "undercoat",
    "coats_low",
    "coats_high",
    "hid",
    "looked",
    "film_um",
    "tolerance",
    "undercoat_L",
)
ABOUT: Final = ("line", "gun", "job", "batch", "who", "when", "note")
"""Columns that only a shop's book has a place for."""
_YES_NO: Final = {"": True, "yes": True, "no": False}
_SAID: Final = re.compile(
    r"(?P<how>up to|more than)?\s*(?P<low>\d{1,3})(?:\s*(?:to|-)\s*(?P<high>\d{1,3}))?"
    r"(?:\s*coats?)?(?:\s+over\s+(?P<name>.+))?",
    re.IGNORECASE,
)


class Noted(NamedTuple):
    """A record in a file.

    Attributes
    ----------
    code : str
        The colour that it is of; empty where the file does not say.
    seen : Seen
        The record.
    about : tuple of (str, str)
        What else the file has columns for, of ``ABOUT``, as it stands there.
    """

    code: str
    seen: Seen
    about: tuple[tuple[str, str], ...] = ()


def parse_took(text: str, shelf: Shelf) -> Seen:
    """Read what a painter says a colour took.

    Parameters
    ----------
    text : str
        Coats, and over which undercoat; see ``HOW_TO_SAY``. Without an undercoat it is
        taken for what a data sheet says.
    shelf : tuple of Undercoat
        What the undercoat may be.

    Returns
    -------
    Seen

    Raises
    ------
    ShadecoreError
        If it cannot be read, or names no undercoat on the shelf.

    Examples
    --------
    >>> seen = parse_took("2 to 3 coats", ())
    >>> seen.source, seen.coats_low, seen.coats_high
    ('data-sheet', 2, 3)
    """
    match = _SAID.fullmatch(text.strip())
    if match is None:
        message = f"What it took, {shown(text)}, cannot be read; say {HOW_TO_SAY}."
        raise SettingError(message)
    how = (match["how"] or "").lower()
    low = int(match["low"])
    high = int(match["high"] or low)
    if how == "up to":
        low = 1
    over = None if match["name"] is None else _on_shelf(match["name"].strip(), shelf)
    hid = how != "more than"
    return Seen(
        "data-sheet" if over is None else "job",
        low if hid else 1,
        high,
        hid=hid,
        undercoat=over,
    )


def parse_seen(text: TableText, name: str, shelf: Shelf) -> tuple[Noted, ...]:
    """Read records from CSV text.

    Parameters
    ----------
    text : str or TextFile
        Columns ``code,source,undercoat,coats_low,coats_high,hid`` and, where known,
        ``film_um,tolerance,undercoat_L``. ``hid`` is ``yes`` or ``no``, yes when
        empty: yes says that the first coat that hides lies in ``coats_low`` to
        ``coats_high``, no that ``coats_high`` coats did not hide. An empty undercoat
        is whichever the data sheet meant. What a book keeps beside it (``line``,
        ``gun``, ``job``, ``batch``, ``who``, ``when``, ``note``) is passed on.
    name : str
        What to call the file in a message.
    shelf : tuple of Undercoat
        What the undercoats may be; others need ``undercoat_L`` or a spectrum.

    Returns
    -------
    tuple of Noted
        In the order of the file, which is oldest first.

    Raises
    ------
    SettingError
        If a row cannot be used.
    TableError
        If the file is not such a table.
    """
    found: list[Noted] = []
    for row in read_rows(text, name, ("source", "coats_high")):
        with at_row(row, name, SettingError):
            about = tuple(
                (each, row.text_or(each, "")) for each in ABOUT if each in row.cells
            )
            code = row.cells.get("code", "").strip()
            found.append(Noted(code, _seen(row, shelf), about))
        if len(found) > MOST_RECORDS:
            message = (
                f"{tail(name)} has more than {MOST_RECORDS:,} records; keep fewer."
            )
            raise SettingError(message)
    return tuple(found)


def write_seen(records: Sequence[Noted]) -> str:
    """Records as CSV text.

    Parameters
    ----------
    records : sequence of Noted
        The records.

    Returns
    -------
    str
        What :func:`parse_seen` reads back equal, whatever is on the shelf.
    """
    rows = [_cells(each) for each in records]
    others = dict.fromkeys(name for row in rows for name in row if name not in _COLUMNS)
    return write_records((*_COLUMNS[:-1], *others), rows)


def _seen(row: Row, shelf: Shelf) -> Seen:
    source = row.text("source").lower()
    if source not in SOURCES:
        message = f"the source {shown(source)} is none of {choices(SOURCES)}."
        raise SettingError(message)
    hid = _yes_no(row, "hid")
    high = _whole(row, "coats_high")
    low = _whole(row, "coats_low") if hid else None
    return Seen(
        source,
        1 if low is None else low,
        high,
        hid=hid,
        undercoat=_undercoat(row, shelf),
        film_um=row.number("film_um") if row.filled("film_um") else None,
        tolerance=row.number("tolerance") if row.filled("tolerance") else None,
        looked=_yes_no(row, "looked"),
    )


def _undercoat(row: Row, shelf: Shelf) -> Undercoat | None:
    name = row.cells.get("undercoat", "").strip()
    if not name:
        return None
    if row.filled("undercoat_l"):
        return undercoat(name, (row.number("undercoat_l"), 0.0, 0.0))
    own = undercoat_of(row, name)
    return own if own is not None else _on_shelf(name, shelf)


def _on_shelf(name: str, shelf: Shelf) -> Undercoat:
    for each in shelf:
        if each.name == name:
            return each
    names = choices([each.name for each in shelf], name)
    message = f"{shown(name)} is not on the shelf; it has {names}."
    raise ShelfError(message)


def _whole(row: Row, column: str) -> int | None:
    if not row.filled(column):
        return None
    value = row.number(column)
    if value != int(value):
        message = f"column {column!r} holds {value:g}; give a whole number of coats."
        raise SettingError(message)
    return int(value)


def _yes_no(row: Row, column: str) -> bool:
    text = row.cells.get(column, "").strip().lower()
    if text not in _YES_NO:
        message = f"column {column!r} holds {shown(text)}; write yes or no."
        raise SettingError(message)
    return _YES_NO[text]


def _cells(noted: Noted) -> dict[str, Cell]:
    seen = noted.seen
    cells: dict[str, Any] = {
        "code": noted.code,
        "source": seen.source,
        "undercoat": "" if seen.undercoat is None else seen.undercoat.name,
        "coats_low": seen.coats_low,
        "coats_high": seen.coats_high,
        "hid": "yes" if seen.hid else "no",
        "looked": "yes" if seen.looked else "no",
        "film_um": seen.film_um,
        "tolerance": seen.tolerance,
    }
    if seen.undercoat is not None:
        cells |= undercoat_cells(seen.undercoat)
    return cells | dict(noted.about)
