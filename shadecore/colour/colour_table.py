"""Colour lists as CSV: ``code,L,a,b``."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.colour.condition import WORKING, Condition
from shadecore.colour.convert import lab_from_lab
from shadecore.errors import ShadecoreError, TableError
from shadecore.formats.bad_rows import BadRow, BadRows
from shadecore.formats.table import Row, read_rows
from shadecore.formats.text_file import TableText

DEMO_COLOURS = "demo-colours.csv"
"""Invented colours of an invented shop."""

_BLOCK_ROWS: Final = 4096
"""Rows that are held at a time."""
_Colour = tuple[int, str, tuple[float, float, float]]
"""Line, code and the colour as it was given."""


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
        Rows that cannot be used: the first twenty, and one that counts the rest.
    """

    codes: tuple[str, ...]
    lab: NDArray[np.float64]
    bad: tuple[BadRow, ...]


def parse_colours(
    text: TableText, name: str, condition: Condition = WORKING
) -> ColourList:
    """Read a colour list from CSV text, some thousand rows at a time.

    Parameters
    ----------
    text : str or TextFile
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
    codes: list[str] = []
    lab: list[NDArray[np.float64]] = []
    bad = BadRows()
    for block in _blocks(read_rows(text, name, ("code", "l", "a", "b"))):
        rows, wrong = _numbers(block)
        for part in _possible(rows, condition):
            if isinstance(part, BadRow):
                wrong.append(part)
            else:
                codes += [code for _, code, _ in part[0]]
                lab.append(part[1])
        for each in sorted(wrong, key=lambda one: one.line):
            bad.add(each.line, each.reason)
    if not codes:
        raise TableError(bad.none_used(name, "colour"))
    return ColourList(tuple(codes), np.concatenate(lab), bad.found())


def _blocks(rows: Iterator[Row]) -> Iterator[list[Row]]:
    while block := list(islice(rows, _BLOCK_ROWS)):
        yield block


def _numbers(block: Sequence[Row]) -> tuple[list[_Colour], list[BadRow]]:
    """Part a block into rows of numbers and those that are none."""
    rows: list[_Colour] = []
    wrong: list[BadRow] = []
    for row in block:
        try:
            given = (row.number("l"), row.number("a"), row.number("b"))
            rows.append((row.line, row.text("code"), given))
        except ShadecoreError as error:
            wrong.append(BadRow(row.line, str(error)))
    return rows, wrong


def _possible(
    rows: Sequence[_Colour], condition: Condition
) -> Iterator[tuple[Sequence[_Colour], NDArray[np.float64]] | BadRow]:
    """Runs of colours that can exist with their Lab, and the rows that cannot.

    A run with a fault in it is halved until the fault stands alone.
    """
    if not rows:
        return
    try:
        lab = lab_from_lab([given for _, _, given in rows], condition)
    except ShadecoreError as error:
        if len(rows) == 1:
            yield BadRow(rows[0][0], str(error))
            return
        half = len(rows) // 2
        yield from _possible(rows[:half], condition)
        yield from _possible(rows[half:], condition)
    else:
        yield rows, lab
