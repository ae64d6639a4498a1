"""The shelf as CSV: ``name,L``, optionally ``a,b,price,unit,stock`` or a spectrum."""

import math
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from shadecore.colour.appearance import WAVELENGTHS_NM, lab_from_reflectance
from shadecore.colour.condition import WORKING, Condition
from shadecore.colour.spectrum import resample
from shadecore.datafiles import data_file
from shadecore.errors import ShadecoreError, ShelfError
from shadecore.formats.bad_rows import BadRow, BadRows
from shadecore.formats.echo import shown, tail
from shadecore.formats.table import Row, read_rows
from shadecore.formats.table_writer import Cell, write_records
from shadecore.formats.text_file import TableText, open_text
from shadecore.undercoats.shelf import (
    FINISHES,
    NEUTRAL_CHROMA,
    Shelf,
    Undercoat,
    reflectance_of,
    undercoat,
    undercoat_from_reflectance,
)

DEMO_SHELF: Final = "demo-shelf.csv"
MOST_UNDERCOATS: Final = 1000
"""On one shelf; more is a mistake, and this tool's own limit."""
_WAVELENGTH_RANGE_NM: Final = (300.0, 900.0)
LAB_COLUMNS: Final = ("L", "a", "b")
_PRICE_COLUMNS: Final = ("price", "unit")
_STOCK: Final = "stock"
_NO_STOCK: Final[Mapping[str, float | None]] = MappingProxyType({})
_FINISH: Final = "finish"
_USUAL_FINISH: Final = "gloss"
SPECTRUM_COLUMNS: Final = tuple(str(nm) for nm in WAVELENGTHS_NM)


class Held(NamedTuple):
    """An undercoat of a table, and how much of it is left.

    Attributes
    ----------
    undercoat : Undercoat
        The undercoat.
    stock : float or None
        In the unit of its price; None where the table does not say.
    """

    undercoat: Undercoat
    stock: float | None


def parse_shelf(
    text: TableText, name: str, condition: Condition = WORKING
) -> tuple[Shelf, tuple[BadRow, ...]]:
    """Read a shelf from CSV text.

    Parameters
    ----------
    text : str or TextFile
        Columns ``name`` and ``L``, optionally ``a``, ``b``, ``price``, ``unit``,
        ``finish`` (gloss, matt or wet, as it was read); or ``name`` and columns headed
        by wavelengths in nm with reflectances 0..1. Where a row has a spectrum, its
        Lab is worked out from that.
    name : str
        What to call the file in a message.
    condition : Condition
        How the undercoats were measured.

    Returns
    -------
    shelf : tuple of Undercoat
        The undercoats of the rows that can be used.
    bad : tuple of BadRow
        The rows that cannot: the first twenty, and one that counts the rest.

    Raises
    ------
    TableError
        If the file is not such a table.
    ShelfError
        If no row can be used, or there are over 1000.
    """
    held, bad = _parsed(text, name, condition, stock=False)
    return tuple(each.undercoat for each in held), bad


def parse_stock(
    text: TableText, name: str, condition: Condition = WORKING
) -> tuple[tuple[Held, ...], tuple[BadRow, ...]]:
    """Read a shelf with what is left of each undercoat.

    Parameters
    ----------
    text : str or TextFile
        As :func:`parse_shelf` reads it, and optionally ``stock``: how much is left, in
        the unit of the price.
    name : str
        What to call the file in a message.
    condition : Condition
        How the undercoats were measured.

    Returns
    -------
    held : tuple of Held
        The undercoats of the rows that can be used.
    bad : tuple of BadRow
        The rows that cannot.

    Raises
    ------
    TableError
        If the file is not such a table.
    ShelfError
        If no row can be used, or there are over 1000.
    """
    return _parsed(text, name, condition, stock=True)


def _parsed(
    text: TableText, name: str, condition: Condition, *, stock: bool
) -> tuple[tuple[Held, ...], tuple[BadRow, ...]]:
    good: dict[str, Held] = {}
    bad = BadRows()
    for row in read_rows(text, name, ("name",)):
        try:
            each = _undercoat(row, condition)
            if each.name in good:
                message = f"a second sealer called {shown(each.name)}; rename one."
                raise ShelfError(message)
            held = Held(each, _stock(row) if stock else None)
        except ShadecoreError as error:
            bad.add(row.line, str(error))
        else:
            good[each.name] = held
        if len(good) > MOST_UNDERCOATS:
            message = (
                f"{tail(name)} holds more than {MOST_UNDERCOATS:,} sealers; keep "
                "those that you use."
            )
            raise ShelfError(message)
    if not good:
        raise ShelfError(bad.none_used(name, "sealer"))
    return tuple(good.values()), bad.found()


def _stock(row: Row) -> float | None:
    if not row.filled(_STOCK):
        return None
    found = row.number(_STOCK)
    if found < 0.0:
        message = f"the stock is {found:g}, and it cannot be less than nothing."
        raise ShelfError(message)
    return found


def read_shelf(
    path: str | Path, condition: Condition = WORKING
) -> tuple[Shelf, tuple[BadRow, ...]]:
    """Read a shelf from a CSV file; see :func:`parse_shelf`.

    Parameters
    ----------
    path : str or Path
        The file.
    condition : Condition
        How the undercoats were measured.

    Returns
    -------
    shelf : tuple of Undercoat
        The undercoats of the rows that can be used.
    bad : tuple of BadRow
        The rows that cannot.

    Raises
    ------
    TableError
        If the file is not such a table.
    ShelfError
        If no row can be used.
    """
    return parse_shelf(open_text(path), str(path), condition)


@cache
def demo_shelf() -> Shelf:
    """Five invented greys from white to near-black.

    Returns
    -------
    tuple of Undercoat
    """
    return read_shelf(data_file(DEMO_SHELF))[0]


def write_shelf(shelf: Shelf, stock: Mapping[str, float | None] = _NO_STOCK) -> str:
    """A shelf as CSV text under the working condition.

    Parameters
    ----------
    shelf : tuple of Undercoat
        The undercoats.
    stock : mapping of str to float or None
        How much is left, by the undercoats' names; of those it does not name, nobody
        knows.

    Returns
    -------
    str
        What :func:`parse_shelf` and :func:`parse_stock` read back equal, under the
        working condition: an undercoat that was measured by its spectrum has that in
        columns 400 to 700, any other its Lab. A blend is written as what it dries to,
        without its parts.
    """
    rows = [{"name": each.name, **undercoat_cells(each)} for each in shelf]
    for row, each in zip(rows, shelf, strict=True):
        left = stock.get(each.name)
        if left is not None:
            row[_STOCK] = left
    wanted = (
        *("name", *LAB_COLUMNS, *_PRICE_COLUMNS, _STOCK, _FINISH),
        *SPECTRUM_COLUMNS,
    )
    usual = {"name", *_PRICE_COLUMNS, *(() if shelf else LAB_COLUMNS)}
    held = usual.union(*rows)
    return write_records([column for column in wanted if column in held], rows)


def undercoat_cells(each: Undercoat) -> dict[str, Cell]:
    """Cells of a table that hold an undercoat, all but its name.

    Parameters
    ----------
    each : Undercoat
        The undercoat.

    Returns
    -------
    dict of str to cell
        By the columns of :func:`write_shelf`; what is as usual is left out.
    """
    cells: dict[str, Cell] = {}
    if _is_measured(each):
        cells |= zip(SPECTRUM_COLUMNS, each.reflectance, strict=True)
    else:
        cells |= zip(LAB_COLUMNS, each.lab, strict=True)
    if each.price is not None:
        cells["price"] = each.price
    if each.unit:
        cells["unit"] = each.unit
    if each.finish != _USUAL_FINISH:
        cells[_FINISH] = each.finish
    return cells


def undercoat_of(
    row: Row, name: str, condition: Condition = WORKING
) -> Undercoat | None:
    """The undercoat in the cells of a row, if there is one.

    Parameters
    ----------
    row : Row
        Of any table with columns as :func:`write_shelf` writes them.
    name : str
        What the undercoat is called.
    condition : Condition
        How it was measured.

    Returns
    -------
    Undercoat or None
        None where the row has neither a spectrum nor an L*.

    Raises
    ------
    ShadecoreError
        If it cannot be used.
    """
    price = row.number("price") if row.filled("price") else None
    unit = row.text_or("unit", "")
    finish = row.text_or(_FINISH, _USUAL_FINISH).lower()
    if finish not in FINISHES:
        message = f"the finish {shown(finish)} is none of {', '.join(FINISHES)}."
        raise ShelfError(message)
    if has_spectrum(row):
        reflectance = spectrum_of(row, condition)
        return undercoat_from_reflectance(
            name, reflectance, price=price, unit=unit, finish=finish
        )
    if not row.filled("l"):
        return None
    lab = (row.number("l"), row.number_or("a", 0.0), row.number_or("b", 0.0))
    return undercoat(name, lab, condition, price=price, unit=unit, finish=finish)


def _is_measured(each: Undercoat) -> bool:
    """Whether an undercoat cannot be made again from its Lab alone."""
    _, a, b = each.lab
    if math.hypot(a, b) < NEUTRAL_CHROMA:
        if (a, b) != (0.0, 0.0):
            return True
    # Spares the search for the spectrum of a coloured Lab, which takes long.
    elif tuple(lab_from_reflectance(each.reflectance).tolist()) == each.lab:
        return True
    return each.reflectance != tuple(reflectance_of(each.lab).tolist())


def _undercoat(row: Row, condition: Condition) -> Undercoat:
    found = undercoat_of(row, row.text("name"), condition)
    if found is not None:
        return found
    columns = wavelength_columns(row)
    if columns and "l" not in row.cells:
        row.number(columns[0])
    row.number("l")
    message = "no colour; give L, or a spectrum."
    raise ShelfError(message)


def has_spectrum(row: Row) -> bool:
    """Whether a row has a reflectance in any of its wavelength columns.

    Parameters
    ----------
    row : Row
        Of any table.

    Returns
    -------
    bool
    """
    return any(row.filled(column) for column in wavelength_columns(row))


def wavelength_columns(row: Row) -> list[str]:
    """Columns of a row that are headed by a wavelength.

    Parameters
    ----------
    row : Row
        Of any table.

    Returns
    -------
    list of str
    """
    low, high = _WAVELENGTH_RANGE_NM
    return [
        column
        for column in row.cells
        if column.isdecimal() and low <= float(column) <= high
    ]


def spectrum_of(row: Row, condition: Condition) -> NDArray[np.float64]:
    """Spectrum in the wavelength columns of a row.

    Parameters
    ----------
    row : Row
        Of any table.
    condition : Condition
        Of which only the geometry matters.

    Returns
    -------
    array, shape (31,)
        At 45/0, 0..1.

    Raises
    ------
    SpectrumError
        If it cannot be used.
    """
    columns = wavelength_columns(row)
    return resample(
        np.array([float(column) for column in columns]),
        np.array([row.number(column) for column in columns]),
        condition.specular,
    )
