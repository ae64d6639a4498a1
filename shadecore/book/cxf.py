"""CxF3 (ISO 17972-1) read: objects with spectra, Lab or XYZ at one or more angles.

Elements are found by their own names, whatever their namespace's prefix, and what is
not known is passed over: files carry much that has nothing to do with a colour.
"""

import io
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime
from typing import Final
from xml.etree.ElementTree import Element, ParseError

import defusedxml.ElementTree as SafeTree
from defusedxml.common import DefusedXmlException

from shadecore.book.cgats_colours import number
from shadecore.book.errors import BookError
from shadecore.book.records import Lab
from shadecore.book.samples import MOST_SAMPLES, Found, Reading, Sample, usable
from shadecore.book.told import NOTHING_TOLD, Told, measured, not_said
from shadecore.colour.condition import ILLUMINANTS, OBSERVERS, SPECULAR, Condition
from shadecore.formats.echo import cut

MOST_DEPTH: Final = 40
MOST_ELEMENTS: Final = 3_000_000
"""Limits of a file; this tool's own, far above what instruments write."""
_LONGEST_SPECTRUM: Final = 1000
_SPECTRUM: Final = "ReflectanceSpectrum"
_WHY: Final = 120
"""Characters that are shown of what the XML reader found wrong."""


@dataclass(frozen=True)
class _Specification:
    """How values that refer to it were measured."""

    told: Told = NOTHING_TOLD
    start_nm: float | None = None
    step_nm: float | None = None
    angles: dict[str, float] = field(default_factory=dict)

    def angle(self, notation: str) -> float | None:
        """Aspecular angle of a value by its name; None for one angle such as 45/0."""
        if len(self.angles) == 1:
            return next(iter(self.angles.values()))
        return self.angles.get(notation)


def read_cxf(content: bytes, name: str, given: Told = NOTHING_TOLD) -> Found:
    """Colours in a CxF3 file.

    Parameters
    ----------
    content : bytes
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
    root = _tree(content, name)
    if _local(root) != "CxF":
        message = f"{name} is XML, but not a CxF3 file; export the colours as CxF3."
        raise BookError(message)
    specifications = {
        each.get("Id", ""): _specification(each)
        for each in _all(root, "ColorSpecification")
        if len(each)
    }
    problems: list[str] = []
    samples: list[Sample] = []
    asked = given, name, _written(root)
    for count, each in enumerate(_all(root, "Object"), start=1):
        if count > MOST_SAMPLES:
            message = f"{name} has over {MOST_SAMPLES} samples; split it."
            raise BookError(message)
        samples.append(_sample(each, count, specifications, asked, problems))
    return usable(samples, problems, name, "objects")


def _tree(content: bytes, name: str) -> Element:
    """The file's root, with entities refused and its size and depth bounded."""
    depth = count = 0
    root: Element | None = None
    try:
        events = SafeTree.iterparse(
            io.BytesIO(content), events=("start", "end"), forbid_dtd=True
        )
        for event, element in events:
            depth += 1 if event == "start" else -1
            count += 1
            root = element if root is None else root
            if depth > MOST_DEPTH or count > 2 * MOST_ELEMENTS:
                message = (
                    f"{name} is nested deeper or larger than any CxF3 file; export it "
                    "anew with fewer colours."
                )
                raise BookError(message)
    except DefusedXmlException as error:
        message = (
            f"{name} declares a document type or entities, which are refused; export "
            "it anew."
        )
        raise BookError(message) from error
    except (ParseError, LookupError, UnicodeError, ValueError) as error:
        if isinstance(error, BookError):
            raise
        message = (
            f"{name} is not XML that can be read ({cut(str(error), _WHY)}); export it "
            "anew."
        )
        raise BookError(message) from error
    if root is None:
        message = f"{name} is empty; export it anew."
        raise BookError(message)
    return root


def _local(element: Element) -> str:
    return element.tag.rpartition("}")[2] if isinstance(element.tag, str) else ""


def _written(root: Element) -> str:
    """When the file was written, in its own words."""
    about = next(_all(root, "FileInformation"), None)
    return "" if about is None else _text(about, "CreationDate")


def _all(element: Element, name: str) -> Iterator[Element]:
    return (each for each in element.iter() if _local(each) == name)


def _text(element: Element, name: str) -> str:
    found = next(_all(element, name), None)
    return (found.text or "").strip() if found is not None else ""


def _specification(element: Element) -> _Specification:
    illuminant = _text(element, "Illuminant")
    observer = _text(element, "Observer").partition("_")[0]
    known = observer in {str(each) for each in OBSERVERS}
    sphere = _text(element, "SphereGeometry").removeprefix("Specular_").lower()
    start, step = None, None
    for each in _all(element, "WavelengthRange"):
        start = _number_or_none(each.get("StartWL"))
        step = _number_or_none(each.get("Increment"))
    angles = {}
    for count, each in enumerate(_all(element, "BRDFAngle")):
        aspecular = _number_or_none(_text(each, "Aspecular"))
        if aspecular is not None:
            angles[each.get("Notation") or f"{count}"] = aspecular
    return _Specification(
        Told(
            illuminant if illuminant in ILLUMINANTS else "",
            int(observer) if known else 0,
            sphere if sphere in SPECULAR else "",
        ),
        start,
        step,
        angles,
    )


def _number_or_none(text: str | None) -> float | None:
    try:
        return number(text) if text else None
    except ValueError:
        return None


def _sample(
    element: Element,
    count: int,
    specifications: dict[str, _Specification],
    asked: tuple[Told, str, str],
    problems: list[str],
) -> Sample:
    name = (element.get("Name") or "").strip()
    where = f"object {count}" + (f" ({cut(name)})" if name else "")
    tags = {
        each.get("Name", ""): (each.get("Value") or "").strip()
        for each in _all(element, "Tag")
    }
    readings: dict[float | None, Reading] = {}
    given, file_name, written = asked
    # An object must have a date: that of the file says nothing of when it was measured.
    made = _text(element, "CreationDate")
    values = tuple(_values(element))
    spectra = any(_local(each) == _SPECTRUM for each in values)
    for value in values:
        said = specifications.get(value.get("ColorSpecification", ""), _Specification())
        condition = measured(said.told, given, file_name, spectra=spectra)
        problems.extend(filter(None, [not_said(said.told, given, condition)]))
        try:
            reading = _reading(value, said, condition)
        except ValueError as error:
            problems.append(f"{where}: {error}")
            continue
        there = readings.get(reading.aspecular_deg)
        readings[reading.aspecular_deg] = _merged(there, reading)
    return Sample(
        where,
        name or f"Object {count}",
        tags.get("PaintCode", ""),
        tags.get("Car", ""),
        tuple(readings.values()),
        None if made == written else _moment(made),
        tags.get("ColourKind", ""),
    )


def _values(element: Element) -> Iterator[Element]:
    wanted = {_SPECTRUM, "ColorCIELab", "ColorCIEXYZ"}
    for values in _all(element, "ColorValues"):
        yield from (each for each in values if _local(each) in wanted)


def _reading(value: Element, said: _Specification, condition: Condition) -> Reading:
    angle = said.angle(value.get("Name", ""))
    kind = _local(value)
    if kind == "ColorCIELab":
        return Reading(condition, angle, lab=_three(value, ("L", "A", "B")))
    if kind == "ColorCIEXYZ":
        return Reading(condition, angle, xyz=_three(value, ("X", "Y", "Z")))
    numbers = [_value(each) for each in (value.text or "").split()[:_LONGEST_SPECTRUM]]
    start = _number_or_none(value.get("StartWL")) or said.start_nm
    if start is None or said.step_nm is None:
        message = "its spectrum does not say where it starts or in which steps it goes."
        raise ValueError(message)
    wavelengths = (start + said.step_nm * i for i in range(len(numbers)))
    return Reading(
        condition, angle, wavelength_nm=tuple(wavelengths), reflectance=tuple(numbers)
    )


def _value(text: str) -> float:
    try:
        return number(text)
    except ValueError as error:
        message = f"{error} is not a number."
        raise ValueError(message) from None


def _three(value: Element, names: tuple[str, str, str]) -> Lab:
    first, second, third = (_value(_text(value, each)) for each in names)
    return first, second, third


def _merged(there: Reading | None, new: Reading) -> Reading:
    """Two values of one reading together."""
    if there is None:
        return new
    return Reading(
        # A spectrum has no illuminant, so the Lab's condition is the one that counts.
        new.condition if new.lab or new.xyz else there.condition,
        new.aspecular_deg,
        there.lab or new.lab,
        there.xyz or new.xyz,
        there.wavelength_nm or new.wavelength_nm,
        there.reflectance or new.reflectance,
    )


def _moment(text: str) -> datetime | None:
    try:
        return datetime.fromisoformat(text).replace(tzinfo=None) if text else None
    except ValueError:
        return None
