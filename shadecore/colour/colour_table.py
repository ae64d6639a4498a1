"""Colour lists as CSV: ``code,L,a,b``."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shadecore.colour.condition import WORKING, Condition
from shadecore.colour.convert import lab_from_lab
from shadecore.errors import ShadecoreError, TableError
from shadecore.formats.table import BadRow, read_rows

DEMO_COLOURS = "demo-colours.csv"
"""Invented colours of an invented shop."""

_Coordinates = tuple[float, float, float]


@dataclass(frozen=True)
class ColourList:
    """Colours by their code.

    Attributes
    ----------
    codes : tuple of str
        Codes, in the order of the file.
    lab : array, shape (colours, 3)
        L*, a*, b* under the working condition.
    bad : tuple of BadRow
        Rows that cannot be used.
    """

    codes: tuple[str, ...]
    lab: NDArray[np.float64]
    bad: tuple[BadRow, ...]


def parse_colours(text: str, name: str, condition: Condition = WORKING) -> ColourList:
    """Read a colour list from CSV text.

    Parameters
    ----------
    text : str
        Columns ``code``, ``L``, ``a`` and ``b``.
    name : str
        What to call the file in a message.
    condition : Condition
        How the colours were measured.

    Returns
    -------
    ColourList

    Raises
    ------
    TableError
        If the file is not such a table, or no row can be used.
    """
    rows: list[tuple[int, str, _Coordinates]] = []
    bad: list[BadRow] = []
    for row in read_rows(text, name, ("code", "l", "a", "b")):
        try:
            given = (row.number("l"), row.number("a"), row.number("b"))
            rows.append((row.line, row.text("code"), given))
        except ShadecoreError as error:
            bad.append(BadRow(row.line, str(error)))
    rows, impossible = _possible(rows, condition) if rows else ([], [])
    bad = sorted([*bad, *impossible], key=lambda each: each.line)
    if not rows:
        why = f" ({bad[0]})" if bad else ""
        message = f"{name} holds no colour that can be used{why}."
        raise TableError(message)
    lab = lab_from_lab([given for _, _, given in rows], condition)
    return ColourList(tuple(code for _, code, _ in rows), lab, tuple(bad))


def _possible(
    rows: list[tuple[int, str, _Coordinates]], condition: Condition
) -> tuple[list[tuple[int, str, _Coordinates]], list[BadRow]]:
    """Part the rows into colours that can exist and those that cannot."""
    try:
        lab_from_lab([given for _, _, given in rows], condition)
    except ShadecoreError:
        pass
    else:
        return rows, []
    good: list[tuple[int, str, _Coordinates]] = []
    bad: list[BadRow] = []
    for row in rows:
        try:
            lab_from_lab(row[2], condition)
        except ShadecoreError as error:
            bad.append(BadRow(row[0], str(error)))
        else:
            good.append(row)
    return good, bad
