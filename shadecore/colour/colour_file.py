"""Files of colours of any kind: solids by Lab, effect colours by their angles."""

from dataclasses import replace
from itertools import chain
from typing import NamedTuple

import numpy as np

from shadecore.colour.angle_table import row_readings
from shadecore.colour.angles import MIDDLE_DEG, AngleReadings
from shadecore.colour.colour_table import ColourList, parse_colours
from shadecore.colour.condition import WORKING, Condition
from shadecore.colour.convert import lab_from_lab
from shadecore.colour.kinds import NOT_SAID, check_kind
from shadecore.errors import ShadecoreError, TableError
from shadecore.formats.bad_rows import BadRows
from shadecore.formats.table import Row, read_rows
from shadecore.formats.text_file import TableText

_KIND, _MIDDLE = "kind", f"l{MIDDLE_DEG:g}"
_NAME, _CAR = "name", "car"


class KindsOfColours(NamedTuple):
    """Colours of a file with what kind each is.

    Attributes
    ----------
    colours : ColourList
        All of them, effect colours by their reading at 45 degrees.
    kinds : tuple of str
        Of each; empty where the file does not say.
    readings : tuple of AngleReadings or None
        Of each; None where only one reading was given.
    names, cars : tuple of str
        Of each; empty where the file does not say.
    """

    colours: ColourList
    kinds: tuple[str, ...]
    readings: tuple[AngleReadings | None, ...]
    names: tuple[str, ...]
    cars: tuple[str, ...]


class _Colour(NamedTuple):
    code: str
    lab: tuple[float, float, float]
    kind: str
    readings: AngleReadings | None
    name: str
    car: str


def parse_colour_file(
    text: TableText, name: str, condition: Condition = WORKING
) -> KindsOfColours:
    """Read a file of colours.

    Parameters
    ----------
    text : str or TextFile
        Columns ``code`` and ``L,a,b``; or ``L15,a15,b15,L25,...``; and ``kind``,
        ``name`` and ``car`` where they are known.
    name : str
        What to call the file in a message.
    condition : Condition
        How the colours were measured.

    Returns
    -------
    KindsOfColours

    Raises
    ------
    TableError
        If the file is not such a table, or no row can be used.
    """
    rows = read_rows(text, name, ("code",))
    first = next(rows, None)
    if first is None or not {_KIND, _MIDDLE, _NAME, _CAR} & set(first.cells):
        colours = parse_colours(text, name, condition)
        count = len(colours.codes)
        unsaid = ("",) * count
        kinds = (NOT_SAID,) * count
        return KindsOfColours(colours, kinds, (None,) * count, unsaid, unsaid)
    good: list[_Colour] = []
    bad = BadRows()
    for row in chain([first], rows):
        try:
            good.append(_colour(row, condition))
        except ShadecoreError as error:
            bad.add(row.line, str(error))
    if not good:
        raise TableError(bad.none_used(name, "colour"))
    colours = ColourList(
        tuple(each.code for each in good),
        np.array([each.lab for each in good]),
        bad.found(),
    )
    return KindsOfColours(
        colours,
        tuple(each.kind for each in good),
        tuple(each.readings for each in good),
        tuple(each.name for each in good),
        tuple(each.car for each in good),
    )


def chosen(every: KindsOfColours, rows: list[int]) -> ColourList:
    """Some of the colours of a file.

    Parameters
    ----------
    every : KindsOfColours
        All of them.
    rows : list of int
        Which.

    Returns
    -------
    ColourList
    """
    codes = tuple(every.colours.codes[row] for row in rows)
    return replace(every.colours, codes=codes, lab=every.colours.lab[rows])


def part_of(every: KindsOfColours, rows: slice) -> KindsOfColours:
    """Some colours of a file that follow each other.

    Parameters
    ----------
    every : KindsOfColours
        All of them.
    rows : slice
        Which.

    Returns
    -------
    KindsOfColours
    """
    colours = replace(
        every.colours, codes=every.colours.codes[rows], lab=every.colours.lab[rows]
    )
    return KindsOfColours(
        colours,
        every.kinds[rows],
        every.readings[rows],
        every.names[rows],
        every.cars[rows],
    )


def _colour(row: Row, condition: Condition) -> _Colour:
    code, kind = row.text("code"), check_kind(row.cells.get(_KIND, ""))
    told = (row.text_or(_NAME, ""), row.text_or(_CAR, ""))
    if row.filled(_MIDDLE):
        readings = row_readings(row, condition)
        return _Colour(code, readings.at(MIDDLE_DEG), kind, readings, *told)
    given = (row.number("l"), row.number("a"), row.number("b"))
    lab = lab_from_lab(given, condition)
    one = (float(lab[0]), float(lab[1]), float(lab[2]))
    return _Colour(code, one, kind, None, *told)
