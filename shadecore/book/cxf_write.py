"""Colours written as CxF3 (ISO 17972-1)."""

from datetime import datetime
from typing import Final
from xml.etree.ElementTree import (
    Element,
    SubElement,
    indent,
    register_namespace,
    tostring,
)

from shadecore.book.records import BookColour, Lab
from shadecore.colour.appearance import WAVELENGTHS_NM

NAMESPACE: Final = "http://colorexchangeformat.com/CxF3-core"
_START: Final = f"{WAVELENGTHS_NM[0]:.0f}"
_STEP: Final = f"{WAVELENGTHS_NM[1] - WAVELENGTHS_NM[0]:.0f}"
_MAIN: Final = "CS1"
_ILLUMINATION_DEG: Final = "45.0"
"""Of an instrument with several angles, as ASTM E2194 has it."""


def write_cxf(colours: tuple[BookColour, ...], at: datetime) -> bytes:
    """Colours as a CxF3 file.

    Parameters
    ----------
    colours : tuple of BookColour
        The colours.
    at : datetime
        When it is written, with its time zone.

    Returns
    -------
    bytes
        What :func:`shadecore.book.cxf.read_cxf` reads back: names, codes, cars, kinds,
        Lab, spectra and readings at angles, under the working condition.
    """
    register_namespace("cc", NAMESPACE)
    moment = at.isoformat(timespec="seconds")
    root = Element(_tag("CxF"))
    information = _sub(root, "FileInformation")
    _sub(information, "Creator", "shadecore")
    _sub(information, "CreationDate", moment)
    _sub(information, "Description", "Colours of a shop's book")
    resources = _sub(root, "Resources")
    objects = _sub(resources, "ObjectCollection")
    angles: dict[float, str] = {}
    for count, each in enumerate(colours, start=1):
        _object(objects, each, f"c{count}", moment, angles)
    specifications = _sub(resources, "ColorSpecificationCollection")
    _specification(specifications, _MAIN, None)
    for angle, name in angles.items():
        _specification(specifications, name, angle)
    indent(root)
    written: bytes = tostring(root, encoding="utf-8", xml_declaration=True)
    return written


def _tag(name: str) -> str:
    return f"{{{NAMESPACE}}}{name}"


def _sub(parent: Element, name: str, text: str | None = None, **said: str) -> Element:
    element = SubElement(parent, _tag(name), said)
    element.text = text
    return element


def _object(
    objects: Element,
    colour: BookColour,
    place: str,
    moment: str,
    angles: dict[float, str],
) -> None:
    element = _sub(objects, "Object", ObjectType="Standard", Name=colour.name, Id=place)
    measured = colour.measured
    date = measured.isoformat(timespec="seconds") if measured else moment
    _sub(element, "CreationDate", date)
    values = _sub(element, "ColorValues")
    _reading(values, _MAIN, colour.lab, colour.reflectance)
    for each in colour.angles:
        name = angles.setdefault(each.aspecular_deg, f"CS{len(angles) + 2}")
        _reading(values, name, each.lab, each.reflectance)
    said = (
        ("PaintCode", colour.code),
        ("Car", colour.car),
        ("ColourKind", colour.kind),
    )
    if any(value for _, value in said):
        tags = _sub(element, "TagCollection", Name="shadecore")
        for name, value in said:
            if value:
                _sub(tags, "Tag", Name=name, Value=value)


def _reading(
    values: Element, specification: str, lab: Lab, reflectance: tuple[float, ...]
) -> None:
    if reflectance:
        numbers = " ".join(repr(float(value)) for value in reflectance)
        _sub(
            values,
            "ReflectanceSpectrum",
            numbers,
            StartWL=_START,
            ColorSpecification=specification,
        )
    element = _sub(values, "ColorCIELab", ColorSpecification=specification)
    for name, value in zip(("L", "A", "B"), lab, strict=True):
        _sub(element, name, repr(float(value)))


def _specification(parent: Element, name: str, angle: float | None) -> None:
    element = _sub(parent, "ColorSpecification", Id=name)
    light = _sub(element, "TristimulusSpec")
    _sub(light, "Illuminant", "D65")
    _sub(light, "Observer", "10_Degree")
    _sub(light, "Method", "E308_Table5")
    measurement = _sub(element, "MeasurementSpec")
    _sub(measurement, "MeasurementType", "Spectrum_Reflectance")
    geometry = _sub(measurement, "GeometryChoice")
    if angle is None:
        single = _sub(geometry, "SingleAngle")
        _sub(single, "SingleAngleConfiguration", "Annular")
        _sub(single, "IlluminationAngle", _ILLUMINATION_DEG)
        _sub(single, "MeasurementAngle", "0.0")
    else:
        notation = f"as{angle:g}"
        several = _sub(_sub(geometry, "MultiAngle"), "BRDFAngle", Notation=notation)
        _sub(several, "IlluminationAngle", _ILLUMINATION_DEG)
        _sub(several, "Aspecular", repr(float(angle)))
    _sub(measurement, "WavelengthRange", StartWL=_START, Increment=_STEP)
