"""The topcoat's colour: read from what a painter gives, kept as the engine needs it."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shadecore.colour import convert
from shadecore.colour.appearance import WAVELENGTHS_NM, lab_from_reflectance
from shadecore.colour.condition import WORKING, Condition
from shadecore.colour.spectrum import parse_spectrum, resample
from shadecore.errors import ColourError, SpectrumError
from shadecore.formats.echo import shown

Lab = tuple[float, float, float]

_NUMBER = r"[-+]?(?:\d+(?:[.,]\d+)?|[.,]\d+)"
_HEX = re.compile(r"#?([0-9a-f]{6})|#([0-9a-f]{3})", re.IGNORECASE)
_MUNSELL = re.compile(
    r"(n\s*[\d.]+\s*/?)|([\d.]+\s*[a-z]{1,2}\s*[\d.]+\s*/\s*[\d.]+)", re.I
)
_NAMED = re.compile(
    r"(lab|lch|xyz|yxy|s?rgb|hex|munsell|spectrum)\b[:\s(]*(.*?)\)?", re.I | re.S
)
"""A notation's name, and its values with or without brackets."""
_LABELLED = re.compile(
    rf"L\*?\s*[=:]?\s*({_NUMBER})[\s,;]+a\*?\s*[=:]?\s*({_NUMBER})[\s,;]+"
    rf"b\*?\s*[=:]?\s*({_NUMBER})",
    re.IGNORECASE,
)
_RGB_LEVELS = 255.0
_COORDINATES = 3

_BY_NUMBERS: Final[dict[str, Callable[[ArrayLike, Condition], NDArray[np.float64]]]] = {
    "lab": convert.lab_from_lab,
    "lch": convert.lab_from_lch,
    "xyz": convert.lab_from_xyz,
    "yxy": convert.lab_from_yxy,
}
NOTATIONS: Final = (*_BY_NUMBERS, "srgb")
"""Notations of three numbers."""
_ALIASES: Final = {"rgb": "srgb"}

HOW_TO_WRITE = (
    "write Lab like 47 54 27, or lch 47 60 27, xyz 24 16 8, Yxy 16 0.5 0.33, "
    "srgb 178 34 52, #b22234 or Munsell like 5R 4/14"
)


@dataclass(frozen=True)
class Topcoat:
    """A topcoat colour under the working condition.

    Attributes
    ----------
    lab : tuple of float
        L*, a*, b* under D65/10 degrees, 45/0.
    entered : str
        What was given, for showing beside the answer.
    reflectance : tuple of float or None
        At 400 to 700 nm by 10 nm, 45/0, when a spectrum was given.
    """

    lab: Lab
    entered: str
    reflectance: tuple[float, ...] | None = None


def topcoat_from_numbers(
    notation: str, values: ArrayLike, condition: Condition = WORKING
) -> Topcoat:
    """Topcoat from three coordinates.

    Parameters
    ----------
    notation : str
        ``lab``, ``lch``, ``xyz``, ``yxy`` or ``srgb`` (0..255).
    values : array, shape (3,)
        The coordinates, in the order of the notation's name.
    condition : Condition
        How they were measured; not used for sRGB, which defines its own.

    Raises
    ------
    ColourError
        If the notation is not known or the colour cannot exist.
    """
    given = np.asarray(values, dtype=np.float64)
    if given.shape != (_COORDINATES,):
        message = f"A colour has three numbers, not {given.size}; {HOW_TO_WRITE}."
        raise ColourError(message)
    written = " ".join(f"{value:g}" for value in given)
    if notation == "srgb":
        lab = convert.lab_from_srgb(given / _RGB_LEVELS)
        return Topcoat(_as_lab(lab), f"sRGB {written}")
    if notation not in _BY_NUMBERS:
        message = f"The notation {shown(notation)} is not known; {HOW_TO_WRITE}."
        raise ColourError(message)
    lab = _BY_NUMBERS[notation](given, condition)
    name = {"lab": "Lab", "lch": "LCh", "xyz": "XYZ", "yxy": "Yxy"}[notation]
    return Topcoat(_as_lab(lab), f"{name} {written} ({condition})")


def topcoat_from_hex(text: str) -> Topcoat:
    """Topcoat from an sRGB hex code.

    Parameters
    ----------
    text : str
        Such as ``#b22234``.

    Raises
    ------
    ColourError
        If it is not a hex code.
    """
    match = _HEX.fullmatch(text.strip())
    if match is None:
        message = f"{shown(text)} is not an sRGB hex code; write it like #b22234."
        raise ColourError(message)
    digits = match[1] or "".join(2 * digit for digit in match[2])
    srgb = np.array([int(digits[i : i + 2], 16) for i in (0, 2, 4)]) / _RGB_LEVELS
    return Topcoat(_as_lab(convert.lab_from_srgb(srgb)), f"sRGB #{digits.lower()}")


def topcoat_from_munsell(text: str) -> Topcoat:
    """Topcoat from a Munsell notation.

    Parameters
    ----------
    text : str
        Such as ``5R 4/14``.

    Raises
    ------
    ColourError
        If the notation cannot be read.
    """
    return Topcoat(_as_lab(convert.lab_from_munsell(text)), f"Munsell {text.strip()}")


def topcoat_from_spectrum(text: str, condition: Condition = WORKING) -> Topcoat:
    """Topcoat from a reflectance spectrum in CSV.

    A spectrum can also be given in one line, which :func:`spectrum_line` writes and
    :func:`parse_topcoat` reads.

    Parameters
    ----------
    text : str
        As :func:`shadecore.colour.spectrum.parse_spectrum` reads it.
    condition : Condition
        Only its geometry is used: a spectrum has no illuminant or observer.

    Raises
    ------
    SpectrumError
        If the spectrum cannot be used.
    """
    return _topcoat_of(parse_spectrum(text, condition.specular), condition)


def spectrum_line(topcoat: Topcoat) -> str:
    """One line that gives a topcoat's spectrum, for a box or a link.

    Parameters
    ----------
    topcoat : Topcoat
        One that was given as a spectrum.

    Returns
    -------
    str
        ``spectrum`` and 31 reflectances at 45/0, 400 to 700 nm by 10 nm.
    """
    return " ".join(["spectrum", *map(repr, topcoat.reflectance or ())])


def _topcoat_from_values(values: list[float], condition: Condition) -> Topcoat:
    if len(values) != WAVELENGTHS_NM.size:
        message = (
            f"A spectrum in one line has {WAVELENGTHS_NM.size} reflectances, 400 to "
            f"700 nm by 10 nm, not {len(values)}."
        )
        raise SpectrumError(message)
    return _topcoat_of(resample(WAVELENGTHS_NM, values, condition.specular), condition)


def _topcoat_of(reflectance: NDArray[np.float64], condition: Condition) -> Topcoat:
    lab = lab_from_reflectance(reflectance)
    return Topcoat(
        _as_lab(lab),
        f"reflectance spectrum, specular {condition.specular}",
        tuple(float(value) for value in reflectance),
    )


def parse_topcoat(text: str, condition: Condition = WORKING) -> Topcoat:
    """Topcoat from whatever a painter types into one box.

    Parameters
    ----------
    text : str
        Three numbers (read as Lab), a notation's name and its numbers, a hex code
        or a Munsell notation. Decimal commas are read where they are not separators.
    condition : Condition
        How Lab, LCh, XYZ or Yxy were measured.

    Raises
    ------
    ColourError
        If the text is none of these, or the colour cannot exist.

    Examples
    --------
    >>> parse_topcoat("L* 47  a* 54  b* 27").lab
    (47.0, 54.0, 27.0)
    """
    cleaned = text.strip("\ufeff \t\r\n").replace("\N{MINUS SIGN}", "-")
    if not cleaned:
        message = f"No colour is given; {HOW_TO_WRITE}."
        raise ColourError(message)
    labelled = _LABELLED.fullmatch(cleaned)
    if labelled:
        cleaned = " ".join(labelled.groups())
    named = _NAMED.fullmatch(cleaned)
    notation, rest = (named[1].lower(), named[2]) if named else ("", cleaned)
    notation = _ALIASES.get(notation, notation)
    if notation == "hex" or _HEX.fullmatch(cleaned):
        return topcoat_from_hex(rest if notation == "hex" else cleaned)
    if notation == "munsell" or _MUNSELL.fullmatch(cleaned):
        return topcoat_from_munsell(rest if notation == "munsell" else cleaned)
    if notation == "spectrum":
        return _topcoat_from_values(_numbers(rest, text), condition)
    if notation not in NOTATIONS:
        notation, rest = "lab", cleaned
    return topcoat_from_numbers(notation, _numbers(rest, text), condition)


def _numbers(text: str, whole: str) -> list[float]:
    """Numbers, with decimal points or decimal commas."""
    bare = text.strip("() ")
    words = bare.split(";") if ";" in bare else bare.split()
    words = [word.strip(", ") for word in words]
    # Where spaces or semicolons already separate the numbers, a comma is a decimal
    # comma; otherwise it separates.
    if len(words) >= _COORDINATES:
        words = [word.replace(",", ".") for word in words]
    else:
        words = bare.replace(",", " ").split()
    try:
        return [float(word) for word in words if word]
    except ValueError:
        given = shown(whole.strip())
        message = f"{given} is not a colour this tool can read; {HOW_TO_WRITE}."
        raise ColourError(message) from None


def _as_lab(lab: NDArray[np.floating]) -> Lab:
    return float(lab[0]), float(lab[1]), float(lab[2])
