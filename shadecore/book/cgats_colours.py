"""Colours in CGATS text: read from what instruments write, and written."""

import re
from collections.abc import Iterator, Mapping
from pathlib import PurePath
from typing import Final

from shadecore.book.cgats import CgatsTable, parse_cgats
from shadecore.book.records import BookColour, Lab
from shadecore.book.samples import Found, Reading, Sample, usable
from shadecore.book.told import NOTHING_TOLD, Told, measured, not_said
from shadecore.colour.appearance import WAVELENGTHS_NM
from shadecore.colour.condition import ILLUMINANTS, Condition
from shadecore.formats.echo import shown

_BAND: Final = re.compile(
    r"(?:SPECTRAL_?|SPEC_?|REFL_?|R_?)?(?:NM_?)?([3-8]\d\d)(?:_?NM)?"
)
"""A field of one wavelength: SPECTRAL_400, SPECTRAL_NM400, SPECTRAL_NM_400, NM400."""
_ANGLE_FIELDS: Final = ("ASPECULAR_ANGLE", "ASPECULAR", "ANGLE", "MEASUREMENT_ANGLE")
_ANGLE: Final = re.compile(r"(?:.*AS)?\s*([-+]?\d+(?:[.,]\d+)?)\s*(?:°|DEG)?", re.I)
_ILLUMINANT: Final = re.compile(rf"\b({'|'.join(ILLUMINANTS)})\b")
_OBSERVER: Final = re.compile(r"\b(2|10)\s*[_-]?\s*(?:°|deg|degree)", re.I)
_LIGHT_KEYWORDS: Final = (
    "WEIGHTING_FUNCTION",
    "ILLUMINANT",
    "OBSERVER",
    "MEASUREMENT_SOURCE",
    "COMPUTATIONAL_PARAMETER",
    "TRISTIMULUS_SOURCE",
)
_GEOMETRY_KEYWORDS: Final = ("MEASUREMENT_GEOMETRY", "GEOMETRY", "MEASUREMENT_SOURCE")
_INCLUDED: Final = re.compile(r"\bspin\b|\bsci\b|\brsin\b|included|di:8|8:di", re.I)
_KIND: Final = "COLOUR_KIND"
_CODE_FIELDS: Final = ("PAINT_CODE", "COLOUR_CODE", "COLOR_CODE")


def read_cgats(text: str, name: str, given: Told = NOTHING_TOLD) -> Found:
    """Colours in a CGATS file.

    Parameters
    ----------
    text : str
        The file.
    name : str
        What to call it in a message.
    given : Told
        How its colours were measured, where the file does not say it.

    Returns
    -------
    Found

    Raises
    ------
    BookError
        If it is no such file, none of its colours can be used, or it says otherwise
        how they were measured.
    """
    samples: list[Sample] = []
    problems: list[str] = []
    percent = False
    for table in parse_cgats(text, name):
        said = _told(table.keywords)
        condition = measured(said, given, name, spectra=_has_spectra(table.fields))
        problems.extend(filter(None, [not_said(said, given, condition)]))
        problems.extend(table.bad)
        percent = percent or "SPECTRAL_PCT" in table.fields
        samples.extend(_samples(table, condition, PurePath(name).stem, problems))
    return usable(samples, problems, name, "samples", percent=percent)


def _told(keywords: Mapping[str, str]) -> Told:
    """What a table says of how it was measured."""
    light = "\n".join(keywords.get(each, "") for each in _LIGHT_KEYWORDS)
    geometry = "\n".join(keywords.get(each, "") for each in _GEOMETRY_KEYWORDS)
    illuminant = _ILLUMINANT.search(light)
    observer = _OBSERVER.search(light)
    return Told(
        illuminant[1] if illuminant else "",
        int(observer[1]) if observer else 0,
        "included" if _INCLUDED.search(geometry) else "",
    )


def _has_spectra(fields: tuple[str, ...]) -> bool:
    return "SPECTRAL_NM" in fields or any(map(_BAND.fullmatch, fields))


def _samples(
    table: CgatsTable, condition: Condition, stem: str, problems: list[str]
) -> Iterator[Sample]:
    place = {field: i for i, field in reversed(list(enumerate(table.fields)))}
    counted = "SAMPLE_ID" in place and all(
        row[place["SAMPLE_ID"]].isdecimal() for _, row in table.rows
    )
    for line, row in table.rows:
        said = {field: row[i].strip() for field, i in place.items()}
        where = f"line {line}"
        try:
            reading = _reading(table.fields, row, said, condition)
        except ValueError as error:
            problems.append(f"{where}: {error} is not a number.")
            continue
        name, code = _named(said, counted=counted, stem=stem, line=line)
        readings = (reading,) if reading is not None else ()
        kind = said.get(_KIND, "")
        yield Sample(where, name, code, said.get("CAR", ""), readings, kind=kind)


def _named(
    said: Mapping[str, str], *, counted: bool, stem: str, line: int
) -> tuple[str, str]:
    """Name and code; a running number is neither."""
    number = said.get("SAMPLE_ID", "")
    code = next((said[each] for each in _CODE_FIELDS if said.get(each)), "")
    name = said.get("SAMPLE_NAME", "")
    if not code and not counted and name:
        code = number
    if not name:
        name = number if number and not counted else f"{stem} {number or line}"
    return name, code


def _reading(
    fields: tuple[str, ...],
    row: tuple[str, ...],
    said: Mapping[str, str],
    condition: Condition,
) -> Reading | None:
    lab = _three(said, ("LAB_L", "LAB_A", "LAB_B"))
    xyz = _three(said, ("XYZ_X", "XYZ_Y", "XYZ_Z"))
    bands = _bands(fields, row)
    if lab is None and xyz is None and not bands:
        return None
    return Reading(
        condition,
        _angle(said),
        lab,
        xyz,
        tuple(wavelength for wavelength, _ in bands),
        tuple(value for _, value in bands),
    )


def _bands(fields: tuple[str, ...], row: tuple[str, ...]) -> list[tuple[float, float]]:
    """Wavelengths and values: a field each, or one after the other in pairs."""
    found = []
    after = zip(fields[1:], row[1:], strict=True)
    for (field, cell), (next_field, next_cell) in zip(
        zip(fields, row, strict=True), (*after, ("", "")), strict=True
    ):
        band = _BAND.fullmatch(field)
        if band and cell.strip():
            found.append((float(band[1]), number(cell)))
        elif field == "SPECTRAL_NM" and next_field in {"SPECTRAL_DEC", "SPECTRAL_PCT"}:
            found.append((number(cell), number(next_cell)))
    return found


def _three(said: Mapping[str, str], names: tuple[str, str, str]) -> Lab | None:
    cells = [said.get(each, "") for each in names]
    if not all(cells):
        return None
    first, second, third = (number(cell) for cell in cells)
    return first, second, third


def _angle(said: Mapping[str, str]) -> float | None:
    cell = next((said[each] for each in _ANGLE_FIELDS if said.get(each)), "")
    if not cell:
        return None
    match = _ANGLE.fullmatch(cell)
    if match is None:
        raise ValueError(shown(cell))
    return number(match[1])


def number(cell: str) -> float:
    """A number with a decimal point or a decimal comma.

    Parameters
    ----------
    cell : str
        As it is written.

    Returns
    -------
    float

    Raises
    ------
    ValueError
        If it is none, or without end; the text is the cell, shortened.
    """
    try:
        value = float(cell.replace("\N{MINUS SIGN}", "-").replace(",", "."))
    except ValueError:
        value = float("inf")
    if not abs(value) < float("inf"):
        raise ValueError(shown(cell))
    return value


def write_cgats(colours: tuple[BookColour, ...]) -> str:
    """Colours as a CGATS file.

    Parameters
    ----------
    colours : tuple of BookColour
        The colours.

    Returns
    -------
    str
        What :func:`read_cgats` reads back: names, codes, cars, kinds, Lab, spectra and
        readings at angles, under the working condition.
    """
    spectral = [each for each in colours if each.reflectance]
    plain = [each for each in colours if not each.reflectance]
    rows_at: dict[bool, list[list[str]]] = {True: [], False: []}
    for each in colours:
        for reading in each.angles:
            cells = [f"{reading.aspecular_deg!r}", *_numbers(reading.lab)]
            rows_at[bool(reading.reflectance)].append(
                [*_head(each), *cells, *_numbers(reading.reflectance)]
            )
    tables = (
        ((), [[*_head(each), *_numbers(each.lab)] for each in plain], False),
        (
            (),
            [
                [*_head(each), *_numbers(each.lab), *_numbers(each.reflectance)]
                for each in spectral
            ],
            True,
        ),
        (("ASPECULAR_ANGLE",), rows_at[False], False),
        (("ASPECULAR_ANGLE",), rows_at[True], True),
    )
    written = [
        _table(angle, rows, spectral=bands) for angle, rows, bands in tables if rows
    ]
    return "\n".join(["CGATS.17", *_PREAMBLE, "", *written])


_PREAMBLE: Final = (
    'ORIGINATOR "shadecore"',
    'KEYWORD "PAINT_CODE"',
    'KEYWORD "CAR"',
    f'KEYWORD "{_KIND}"',
    'KEYWORD "ASPECULAR_ANGLE"',
    'MEASUREMENT_GEOMETRY "45/0"',
    'WEIGHTING_FUNCTION "ILLUMINANT, D65"',
    'WEIGHTING_FUNCTION "OBSERVER, 10 degree"',
)
_HEAD: Final = ("SAMPLE_NAME", "PAINT_CODE", "CAR", _KIND)


def _head(colour: BookColour) -> list[str]:
    head = (colour.name, colour.code, colour.car, colour.kind)
    return [_quoted(each) for each in head]


def _quoted(text: str) -> str:
    doubled = text.replace('"', '""')
    return f'"{doubled}"'


def _numbers(values: tuple[float, ...]) -> list[str]:
    return [repr(float(value)) for value in values]


def _table(angle: tuple[str, ...], rows: list[list[str]], *, spectral: bool) -> str:
    bands = [f"SPECTRAL_{nm:.0f}" for nm in WAVELENGTHS_NM] if spectral else []
    fields = ["SAMPLE_ID", *_HEAD, *angle, "LAB_L", "LAB_A", "LAB_B", *bands]
    lines = [
        f"NUMBER_OF_FIELDS {len(fields)}",
        "BEGIN_DATA_FORMAT",
        " ".join(fields),
        "END_DATA_FORMAT",
        f"NUMBER_OF_SETS {len(rows)}",
        "BEGIN_DATA",
        *(" ".join([f"{i}", *row]) for i, row in enumerate(rows, start=1)),
        "END_DATA",
        "",
    ]
    return "\n".join(lines)
