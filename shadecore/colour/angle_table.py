"""Readings at several aspecular angles as text: typed, pasted, and from tables."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from shadecore.colour.angles import AngleReadings, angle_readings
from shadecore.colour.condition import WORKING, Condition
from shadecore.colour.spectrum import resample
from shadecore.errors import ColourError, ShadecoreError, TableError
from shadecore.formats.bad_rows import BadRow, BadRows
from shadecore.formats.echo import shown
from shadecore.formats.table import Row, read_rows

_COORDINATES = 3
_NUMBER = re.compile(
    r"(?:as)?([-+]?\d+(?:\.\d+)?)(?:\s*(?:\N{DEGREE SIGN}|deg))?", re.I
)
_ANGLE_COLUMN = re.compile(r"l(\d+(?:\.\d+)?)")
_HIGHEST_FACTOR = 10.0
"""No face is brighter: a higher value says that the table is in percent."""
_PERCENT = 100.0


def readings_from_pairs(
    pairs: Iterable[Sequence[str]], condition: Condition = WORKING
) -> AngleReadings:
    """Readings from pairs of an angle and a colour as they are typed.

    Parameters
    ----------
    pairs : iterable of two texts
        Such as ``("15", "109 0 -1")``.
    condition : Condition
        How they were measured.

    Returns
    -------
    AngleReadings

    Raises
    ------
    ColourError
        If a text cannot be read, or the readings cannot be right.

    Examples
    --------
    >>> readings_from_pairs([("45", "40 1 2"), ("15", "109 0 -1")]).angles
    (15.0, 45.0)
    """
    return angle_readings(
        ((_angle(first), _lab_of(first, second)) for first, second in pairs), condition
    )


def readings_from_text(text: str, condition: Condition = WORKING) -> AngleReadings:
    """Readings from text as it is pasted from an instrument's table.

    Parameters
    ----------
    text : str
        A line for each angle: the angle and L*, a*, b*, with or without a heading and
        a degree sign; further columns are passed over. Or three lines headed ``L*``,
        ``a*`` and ``b*`` below a line of angles.
    condition : Condition
        How they were measured.

    Returns
    -------
    AngleReadings

    Raises
    ------
    ColourError
        If no such table can be made out, or the readings cannot be right.
    """
    lines = [_numbers(line) for line in text.splitlines()]
    across = _across(text, lines)
    if across is not None:
        return angle_readings(across, condition)
    rows = [each for each in lines if len(each) > _COORDINATES]
    if not rows:
        message = (
            "No readings were found; give one angle a line, like 15 109 0 -1 (angle, "
            "L*, a*, b*)."
        )
        raise ColourError(message)
    return angle_readings(((row[0], row[1:4]) for row in rows), condition)


def readings_from_spectra(text: str, name: str) -> AngleReadings:
    """Readings from a table of spectra, a column for each angle.

    Parameters
    ----------
    text : str
        CSV with a column ``wavelength`` in nm, every 10 or 20 nm from 400 to 700 nm,
        and columns headed by aspecular angles; factors, or percent where one of them
        is above 10.
    name : str
        What to call the table in a message.

    Returns
    -------
    AngleReadings

    Raises
    ------
    TableError
        If the text is not such a table.
    SpectrumError
        If a spectrum cannot be used.
    ColourError
        If the readings cannot be right.
    """
    rows = list(read_rows(text, name, ("wavelength",)))
    headings = [
        each for each in (rows[0].cells if rows else ()) if _NUMBER.fullmatch(each)
    ]
    if not headings:
        message = (
            f"{name} needs the column 'wavelength' and a column for each angle, headed "
            "by its degrees, like 45."
        )
        raise TableError(message)
    wavelength = np.array([row.number("wavelength") for row in rows])
    order = np.argsort(wavelength)
    values = np.array([[row.number(each) for each in headings] for row in rows])
    values = values[order] / (_PERCENT if values.max() > _HIGHEST_FACTOR else 1.0)
    spectra = (
        resample(wavelength[order], each, highest=_HIGHEST_FACTOR) for each in values.T
    )
    return angle_readings(
        (_angle(heading), tuple(map(float, each)))
        for heading, each in zip(headings, spectra, strict=True)
    )


@dataclass(frozen=True)
class AngleList:
    """Effect colours by their code.

    Attributes
    ----------
    codes : tuple of str
        Codes, in the order of the file.
    readings : tuple of AngleReadings
        What was read of each.
    bad : tuple of BadRow
        Rows that cannot be used: the first twenty, and one that counts the rest.
    """

    codes: tuple[str, ...]
    readings: tuple[AngleReadings, ...]
    bad: tuple[BadRow, ...]


def parse_angle_list(text: str, name: str, condition: Condition = WORKING) -> AngleList:
    """Effect colours from CSV text with the columns ``code,L15,a15,b15,L25,...``.

    Parameters
    ----------
    text : str
        The table.
    name : str
        What to call the file in a message.
    condition : Condition
        How the colours were measured.

    Returns
    -------
    AngleList

    Raises
    ------
    TableError
        If the file is not such a table, or no row can be used.
    """
    good: list[tuple[str, AngleReadings]] = []
    bad = BadRows()
    for row in read_rows(text, name, ("code", "l45", "a45", "b45")):
        try:
            good.append((row.text("code"), row_readings(row, condition)))
        except ShadecoreError as error:
            bad.add(row.line, str(error))
    if not good:
        raise TableError(bad.none_used(name, "colour"))
    codes, readings = zip(*good, strict=True)
    return AngleList(tuple(codes), tuple(readings), bad.found())


def row_readings(row: Row, condition: Condition = WORKING) -> AngleReadings:
    """Readings of a table's row with columns like ``L15``, ``a15``, ``b15``.

    Parameters
    ----------
    row : Row
        The row; angles whose cells are empty are passed over.
    condition : Condition
        How the colours were measured.

    Returns
    -------
    AngleReadings

    Raises
    ------
    TableError
        If a cell is no number.
    ColourError
        If the readings cannot be right.
    """
    found = []
    for column in row.cells:
        match = _ANGLE_COLUMN.fullmatch(column)
        if match is None:
            continue
        cells = [column, *(f"{letter}{column[1:]}" for letter in "ab")]
        if any(row.cells.get(cell, "").strip() for cell in cells):
            found.append((float(match[1]), [row.number(cell) for cell in cells]))
    return angle_readings(found, condition)


def _across(
    text: str, lines: list[list[float]]
) -> list[tuple[float, list[float]]] | None:
    """Read a table with the angles across and L*, a*, b* down, or None."""
    named: dict[str, list[float]] = {}
    for line, numbers in zip(text.splitlines(), lines, strict=True):
        letter = line.strip(" \t\"'").lower()[:1]
        if letter in ("l", "a", "b") and numbers:
            named.setdefault(letter, numbers)
    heading = next((each for each in lines if each), [])
    if len(named) < _COORDINATES or any(
        len(each) != len(heading) for each in named.values()
    ):
        return None
    columns = zip(named["l"], named["a"], named["b"], strict=True)
    return [(angle, list(lab)) for angle, lab in zip(heading, columns, strict=True)]


def _numbers(line: str) -> list[float]:
    """Numbers of a line; words that are none are passed over.

    A comma inside a word between spaces, tabs or semicolons is a decimal comma, else
    it separates.
    """
    cleaned = line.replace("\N{MINUS SIGN}", "-").replace("*", " ")
    words = re.split(r"[;\t]", cleaned) if re.search(r"[;\t]", cleaned) else None
    words = cleaned.split() if words is None else words
    if len(words) < _COORDINATES:
        words = re.split(r"[,\s]+", cleaned)
    matches = (_NUMBER.fullmatch(w.strip(" \"',:").replace(",", ".")) for w in words)
    return [float(each[1]) for each in matches if each]


def _angle(text: str) -> float:
    match = _NUMBER.fullmatch(text.strip().replace(",", "."))
    if match is None:
        message = f"{shown(text)} is no angle; write degrees, like 15."
        raise ColourError(message)
    return float(match[1])


def _lab_of(angle: str, text: str) -> list[float]:
    values = _numbers(text)
    if len(values) != _COORDINATES:
        message = (
            f"The reading at {angle.strip()} degrees needs L*, a* and b*, like 109 0 "
            f"-1, not {shown(text)}."
        )
        raise ColourError(message)
    return values
