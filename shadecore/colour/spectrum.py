"""A reflectance spectrum from a file, on the engine's wavelengths."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shadecore.colour.appearance import WAVELENGTHS_NM
from shadecore.colour.convert import without_mirror
from shadecore.errors import SpectrumError
from shadecore.formats.echo import shown

_STEPS_NM = (10.0, 20.0)
_PERCENT_ABOVE = 2.0
"""A spectrum whose highest value is above this is in percent; reflectances as fractions
do not get so high."""
_HIGHEST = 1.05
"""Reflectance factors a little above 1 occur at 45/0; more is a mistake."""
_PAIR = 2


def parse_spectrum(text: str, specular: str = "excluded") -> NDArray[np.float64]:
    """Read a spectrum from CSV text: wavelength, reflectance.

    Parameters
    ----------
    text : str
        One pair in each line, separated by comma, semicolon, tab or space; lines
        that do not start with a number, such as headings, may stand before the
        first pair. Wavelengths in nm, every 10 or 20 nm, covering 400 to 700 nm;
        reflectance 0..1 or in percent.
    specular : str
        Whether the instrument took the mirror reflection in: ``"included"`` or
        ``"excluded"``.

    Returns
    -------
    array, shape (31,)
        Reflectance at 45/0, 400 to 700 nm by 10 nm, 0..1.

    Raises
    ------
    SpectrumError
        If the file cannot be read as a spectrum.
    ColourError
        If the specular reflection is said to be included and a reflectance is lower
        than that reflection alone.
    """
    pairs, heading = _pairs(text)
    wavelength, reflectance = np.array(pairs).T
    order = np.argsort(wavelength)
    # A black in percent can stay below 1 throughout; then only the heading shows that
    # it is in percent.
    says_percent = any("%" in cell or "percent" in cell.lower() for cell in heading)
    scale = 100.0 if says_percent or reflectance.max() > _PERCENT_ABOVE else 1.0
    return resample(wavelength[order], reflectance[order] / scale, specular)


def _pairs(text: str) -> tuple[list[tuple[float, float]], list[str]]:
    """Pairs of wavelength and reflectance, and the heading right above them."""
    pairs: list[tuple[float, float]] = []
    heading: list[str] = []
    cleaned = text.lstrip("\ufeff").replace("\N{MINUS SIGN}", "-")
    for number, line in enumerate(cleaned.splitlines(), start=1):
        cells = _cells(line)
        if not cells or cells[0].startswith("#"):
            continue
        try:
            pair = (float(cells[0]), float(cells[1]))
        except (ValueError, IndexError):
            if not pairs:
                heading = cells
                continue
            message = (
                f"Line {number} of the spectrum, {shown(line.strip())}, is not a "
                "wavelength and a reflectance; correct or remove it."
            )
            raise SpectrumError(message) from None
        pairs.append(pair)
    if len(pairs) < _PAIR:
        message = (
            "The spectrum holds no pairs of wavelength and reflectance; give one pair "
            "a line, like 400,0.05."
        )
        raise SpectrumError(message)
    return pairs, heading


def _cells(line: str) -> list[str]:
    for delimiter in (";", "\t", ","):
        if delimiter in line:
            cells = [cell.strip(" \"'") for cell in line.split(delimiter)]
            if delimiter != ",":
                cells = [cell.replace(",", ".") for cell in cells]
            return cells
    return line.split()


def resample(
    wavelength_nm: ArrayLike,
    reflectance: ArrayLike,
    specular: str = "excluded",
    highest: float = _HIGHEST,
) -> NDArray[np.float64]:
    """Bring a spectrum to the engine's wavelengths and to 45/0.

    Parameters
    ----------
    wavelength_nm : array, shape (n,)
        Ascending, every 10 or 20 nm, covering 400 to 700 nm. [nm]
    reflectance : array, shape (n,)
        0..1.
    specular : str
        Whether the mirror reflection is in it: ``"included"`` or ``"excluded"``.
    highest : float
        Largest factor that can be right.

    Returns
    -------
    array, shape (31,)
        Reflectance at 45/0, 400 to 700 nm by 10 nm.

    Raises
    ------
    SpectrumError
        If the spacing, the range or a value is wrong.
    """
    wavelength = np.asarray(wavelength_nm, dtype=np.float64)
    values = np.asarray(reflectance, dtype=np.float64)
    if not (np.all(np.isfinite(wavelength)) and np.all(np.isfinite(values))):
        message = "The spectrum holds a value that is not a number; correct it."
        raise SpectrumError(message)
    steps = np.diff(wavelength)
    if not steps.size or steps[0] not in _STEPS_NM or np.any(steps != steps[0]):
        message = (
            "The spectrum must go in even steps of 10 or 20 nm, each wavelength once; "
            "export it at 10 nm."
        )
        raise SpectrumError(message)
    first, last = WAVELENGTHS_NM[0], WAVELENGTHS_NM[-1]
    if wavelength[0] > first or wavelength[-1] < last:
        message = (
            f"The spectrum covers {wavelength[0]:.0f} to {wavelength[-1]:.0f} nm; "
            f"{first} to {last} nm are needed."
        )
        raise SpectrumError(message)
    if values.min() < 0.0 or values.max() > highest:
        message = (
            "Reflectance must lie between 0 and 1 here (0 and 100 percent in a file of "
            f"its own); this spectrum runs from {values.min():.3g} to "
            f"{values.max():.3g}."
        )
        raise SpectrumError(message)
    even = _interpolated(wavelength, values)
    return np.clip(without_mirror(even, specular), 0.0, None)


def _interpolated(
    wavelength_nm: NDArray[np.float64], values: NDArray[np.float64]
) -> NDArray[np.float64]:
    # What stands on the engine's wavelengths stays as it is, to the last digit.
    if np.array_equal(wavelength_nm, WAVELENGTHS_NM):
        return values
    # scipy.interpolate takes a moment to import, and only other spectra need it.
    from scipy.interpolate import CubicSpline  # noqa: PLC0415

    even: NDArray[np.float64] = CubicSpline(wavelength_nm, values)(WAVELENGTHS_NM)
    return even
