"""The shelf as CSV: ``name,L`` and optionally ``a,b,price,unit`` or a spectrum."""

import csv
import io
import math
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from shadecore.colour.condition import WORKING, Condition
from shadecore.colour.spectrum import resample
from shadecore.datafiles import data_file
from shadecore.errors import ShadecoreError, ShelfError
from shadecore.formats.table import BadRow, Row, read_rows, read_text
from shadecore.undercoats.shelf import (
    Shelf,
    Undercoat,
    undercoat,
    undercoat_from_reflectance,
)

DEMO_SHELF = "demo-shelf.csv"
_WAVELENGTH_RANGE_NM = (300.0, 900.0)


def parse_shelf(
    text: str, name: str, condition: Condition = WORKING
) -> tuple[Shelf, tuple[BadRow, ...]]:
    """Read a shelf from CSV text.

    Parameters
    ----------
    text : str
        Columns ``name`` and ``L``, optionally ``a``, ``b``, ``price``, ``unit``; or
        ``name`` and columns headed by wavelengths in nm with reflectances 0..1.
    name : str
        What to call the file in a message.
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
    good: dict[str, Undercoat] = {}
    bad: list[BadRow] = []
    for row in read_rows(text, name, ("name",)):
        try:
            each = _undercoat(row, condition)
            if each.name in good:
                message = f"a second undercoat called {each.name!r}; rename one."
                raise ShelfError(message)
        except ShadecoreError as error:
            bad.append(BadRow(row.line, str(error)))
        else:
            good[each.name] = each
    if not good:
        why = f" ({bad[0]})" if bad else ""
        message = f"{name} holds no undercoat that can be used{why}."
        raise ShelfError(message)
    return tuple(good.values()), tuple(bad)


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
    return parse_shelf(read_text(path), str(path), condition)


def demo_shelf() -> Shelf:
    """Five invented greys from white to near-black.

    Returns
    -------
    tuple of Undercoat
    """
    return read_shelf(data_file(DEMO_SHELF))[0]


def write_shelf(shelf: Shelf) -> str:
    """A shelf as CSV text under the working condition.

    Parameters
    ----------
    shelf : tuple of Undercoat
        The undercoats.

    Returns
    -------
    str
        What :func:`parse_shelf` reads back; spectra are left out.
    """
    out = io.StringIO()
    # Quoted texts keep a name that starts like a comment from being taken for one.
    writer = csv.writer(out, lineterminator="\n", quoting=csv.QUOTE_NONNUMERIC)
    writer.writerow(["name", "L", "a", "b", "price", "unit"])
    for each in shelf:
        price = "" if each.price is None else each.price
        writer.writerow([each.name, *(round(v, 4) for v in each.lab), price, each.unit])
    return out.getvalue()


def _undercoat(row: Row, condition: Condition) -> Undercoat:
    name = row.text("name")
    price_or_nan = row.number_or("price", math.nan)
    price = None if math.isnan(price_or_nan) else price_or_nan
    unit = row.cells.get("unit", "")
    if wavelength_columns(row) and "l" not in row.cells:
        reflectance = spectrum_of(row, condition)
        return undercoat_from_reflectance(name, reflectance, price=price, unit=unit)
    lab = (row.number("l"), row.number_or("a", 0.0), row.number_or("b", 0.0))
    return undercoat(name, lab, condition, price=price, unit=unit)


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
