"""Samples as measuring instruments write them, and the book's colours they become."""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.book.errors import BookError
from shadecore.book.records import MOST_ANGLES, AngleReading, BookColour, Lab
from shadecore.colour import convert
from shadecore.colour.angles import lab_at_angles, lab_from_xyz_at_angles
from shadecore.colour.appearance import WAVELENGTHS_NM, lab_from_reflectance
from shadecore.colour.condition import Condition
from shadecore.colour.kinds import NOT_SAID, SOLID, check_kind
from shadecore.colour.spectrum import resample
from shadecore.colour.topcoat import Topcoat, spectrum_line
from shadecore.errors import ShadecoreError
from shadecore.formats.echo import tail

MOST_BYTES: Final = 20_000_000
MOST_SAMPLES: Final = 100_000
MOST_PROBLEMS: Final = 20
"""Limits of a file of colours; this tool's own, above what instruments write."""

_PERCENT_ABOVE: Final = 2.0
"""A spectrum whose highest value is above this is in percent: as a fraction, no surface
reflects so much."""
_STEP_NM: Final = 10.0
_MAIN_ANGLE: Final = 45.0
"""Aspecular angle that a reading at 45/0 has. [degrees]"""


@dataclass(frozen=True)
class Reading:
    """One reading of a sample.

    Attributes
    ----------
    condition : Condition
        How it was measured.
    aspecular_deg : float or None
        Angle from the mirror reflection; None for an instrument with one angle.
    lab, xyz : tuple of float or None
        As the file has them.
    wavelength_nm, reflectance : tuple of float
        A spectrum, as the file has it; empty where there is none.
    """

    condition: Condition
    aspecular_deg: float | None = None
    lab: Lab | None = None
    xyz: Lab | None = None
    wavelength_nm: tuple[float, ...] = ()
    reflectance: tuple[float, ...] = ()


@dataclass(frozen=True)
class Sample:
    """A sample with its readings.

    Attributes
    ----------
    where : str
        Where it stands in the file, for messages.
    name, code, car : str
        As the file has them.
    readings : tuple of Reading
        One, or one for each angle.
    measured : datetime or None
        When.
    kind : str
        Of colour, as the file has it.
    """

    where: str
    name: str
    code: str = ""
    car: str = ""
    readings: tuple[Reading, ...] = ()
    measured: datetime | None = None
    kind: str = ""


@dataclass(frozen=True)
class Found:
    """What a file of colours holds.

    Attributes
    ----------
    colours : tuple of BookColour
        Those that can be used.
    problems : tuple of str
        What cannot, and what the file does not say: a sentence each.
    """

    colours: tuple[BookColour, ...] = ()
    problems: tuple[str, ...] = field(default=())


def colours_of(samples: Iterable[Sample], *, percent: bool = False) -> Found:
    """The book's colours that samples become.

    Parameters
    ----------
    samples : iterable of Sample
        Of one file.
    percent : bool
        Whether the file says that its spectra are in percent.

    Returns
    -------
    Found
    """
    all_samples = tuple(samples)
    highest = max(
        (
            max(reading.reflectance)
            for sample in all_samples
            for reading in sample.readings
            if reading.reflectance
        ),
        default=0.0,
    )
    scale = 100.0 if percent or highest > _PERCENT_ABOVE else 1.0
    colours: list[BookColour] = []
    problems: list[str] = []
    working = _working_labs(all_samples)
    for sample in all_samples:
        try:
            colours.append(_colour(sample, scale, working, problems))
        except ShadecoreError as error:
            problems.append(f"{sample.where}: {error}")
    return Found(tuple(colours), shortened(problems))


def usable(
    samples: Iterable[Sample],
    problems: Iterable[str],
    name: str,
    what: str,
    *,
    percent: bool = False,
) -> Found:
    """What of a file becomes colours, and all that is wrong with it.

    Parameters
    ----------
    samples : iterable of Sample
        Its samples; those that are one sample are joined.
    problems : iterable of str
        What was wrong with it so far.
    name : str
        What to call it in a message.
    what : str
        What it calls its samples, as ``objects``.
    percent : bool
        Whether it says that its spectra are in percent.

    Returns
    -------
    Found

    Raises
    ------
    BookError
        If none can be used.
    """
    found = colours_of(joined(samples), percent=percent)
    every = list(dict.fromkeys((*problems, *found.problems)))
    if not found.colours:
        why = every[0] if every else f"it holds no {what}."
        message = f"{tail(name)} holds no colour that can be used: {why}"
        raise BookError(message)
    return Found(found.colours, shortened(every))


def shortened(problems: list[str]) -> tuple[str, ...]:
    """The first problems, and how many more there are.

    Parameters
    ----------
    problems : list of str
        All of them.

    Returns
    -------
    tuple of str
    """
    if len(problems) <= MOST_PROBLEMS:
        return tuple(problems)
    more = len(problems) - MOST_PROBLEMS
    return (*problems[:MOST_PROBLEMS], f"There are {more} more problems like these.")


_Key = tuple[Lab, Condition, bool]
"""Lab as it was read, how, and whether it was at an angle from the mirror direction."""


def _working_labs(samples: tuple[Sample, ...]) -> dict[_Key, Lab]:
    """Lab under the working condition of all that can be carried there at once."""
    alike: dict[tuple[Condition, bool], list[Lab]] = {}
    for sample in samples:
        for each in sample.readings:
            if each.lab is not None:
                turned = each.aspecular_deg is not None
                alike.setdefault((each.condition, turned), []).append(each.lab)
    found: dict[_Key, Lab] = {}
    for (condition, turned), labs in alike.items():
        try:
            carried = _carried(labs, condition, turned=turned)
        except ShadecoreError:
            continue  # One by one later, so that only the wrong ones are left out.
        found |= {
            (lab, condition, turned): _lab(row)
            for lab, row in zip(labs, carried, strict=True)
        }
    return found


def _carried(
    labs: list[Lab], condition: Condition, *, turned: bool
) -> NDArray[np.floating]:
    """Readings under the working condition; near the mirror direction L* passes 100."""
    read = lab_at_angles if turned else convert.lab_from_lab
    return read(np.array(labs), condition)


def _colour(
    sample: Sample, scale: float, working: dict[_Key, Lab], problems: list[str]
) -> BookColour:
    if not sample.readings:
        message = "it has neither Lab, XYZ nor a spectrum."
        raise BookError(message)
    read = [_read(each, scale, working, sample, problems) for each in sample.readings]
    angles = tuple(
        AngleReading(each.aspecular_deg, lab, spectrum)
        for each, (lab, spectrum) in zip(sample.readings, read, strict=True)
        if each.aspecular_deg is not None
    )
    main = min(range(len(read)), key=lambda place: _from_main(sample.readings[place]))
    lab, spectrum = read[main]
    reading = sample.readings[main]
    return BookColour(
        name=sample.name,
        lab=lab,
        entered=_entered(reading, lab, spectrum),
        condition=reading.condition,
        reflectance=spectrum,
        angles=tuple(sorted(angles, key=lambda each: each.aspecular_deg)),
        kind=_kind(sample) or (NOT_SAID if len(angles) > 1 else SOLID),
        code=sample.code,
        car=sample.car,
        measured=sample.measured,
    )


def _kind(sample: Sample) -> str:
    """The kind that a file says, where it is one of ours."""
    try:
        return check_kind(sample.kind)
    except ShadecoreError:
        return NOT_SAID


def _from_main(reading: Reading) -> float:
    """How far a reading is from one at 45/0."""
    if reading.aspecular_deg is None:
        return -1.0
    return abs(reading.aspecular_deg - _MAIN_ANGLE)


def _entered(reading: Reading, lab: Lab, spectrum: tuple[float, ...]) -> str:
    if spectrum:
        return spectrum_line(Topcoat(lab, "", spectrum))
    for notation, values in (("lab", reading.lab), ("xyz", reading.xyz)):
        if values is not None:
            return " ".join([notation, *(f"{value:.10g}" for value in values)])
    return ""


def _read(
    reading: Reading,
    scale: float,
    working: dict[_Key, Lab],
    sample: Sample,
    problems: list[str],
) -> tuple[Lab, tuple[float, ...]]:
    """Lab under the working condition and the spectrum, where there is one."""
    if reading.reflectance:
        try:
            spectrum = _spectrum(reading, scale)
            return _lab(lab_from_reflectance(np.array(spectrum))), spectrum
        except ShadecoreError as error:
            if reading.lab is None and reading.xyz is None:
                raise
            problems.append(
                f"{sample.where}: its spectrum is not used, only its Lab or XYZ: "
                f"{error}"
            )
    if reading.lab is not None:
        turned = reading.aspecular_deg is not None
        known = working.get((reading.lab, reading.condition, turned))
        if known is not None:
            return known, ()
        return _lab(_carried([reading.lab], reading.condition, turned=turned)[0]), ()
    if reading.xyz is not None:
        turned = reading.aspecular_deg is not None
        from_xyz = lab_from_xyz_at_angles if turned else convert.lab_from_xyz
        return _lab(from_xyz(np.array([reading.xyz]), reading.condition)[0]), ()
    message = "it has neither Lab, XYZ nor a spectrum."
    raise BookError(message)


def _spectrum(reading: Reading, scale: float) -> tuple[float, ...]:
    """Spectrum on the engine's wavelengths; of finer steps every tenth nm is taken."""
    wavelength = np.array(reading.wavelength_nm)
    values = np.array(reading.reflectance) / scale
    order = np.argsort(wavelength, kind="stable")
    wavelength, values = wavelength[order], values[order]
    steps = np.diff(wavelength)
    if steps.size and np.all(steps == steps[0]) and 0.0 < steps[0] < _STEP_NM:
        tenth = np.isin(wavelength % _STEP_NM, 0.0)
        wavelength, values = wavelength[tenth], values[tenth]
    if np.array_equal(wavelength, WAVELENGTHS_NM):
        # On the engine's own wavelengths nothing is to be fitted, and rounding stays
        # out of what is read back.
        wavelength = WAVELENGTHS_NM.astype(float)
    even = resample(wavelength, values, reading.condition.specular)
    return tuple(float(each) for each in even)


def _lab(values: NDArray[np.floating]) -> Lab:
    return float(values[0]), float(values[1]), float(values[2])


def joined(samples: Iterable[Sample]) -> tuple[Sample, ...]:
    """Samples with the readings of those together that are one sample.

    Parameters
    ----------
    samples : iterable of Sample
        With a reading each.

    Returns
    -------
    tuple of Sample
        In the order in which each comes first.
    """
    found: dict[tuple[str, str], Sample] = {}
    for each in samples:
        key = (each.name, each.code)
        there = found.get(key)
        at_angles = (
            there is not None
            and len(there.readings) < MOST_ANGLES
            and any(
                reading.aspecular_deg is not None
                for reading in (*there.readings, *each.readings)
            )
        )
        if there is None:
            found[key] = each
        elif at_angles:
            readings = (*there.readings, *each.readings)
            found[key] = replace(there, readings=readings)
        else:
            # A name twice without angles: two samples, told apart by their place.
            found[key[0], f"{key[1]}\0{each.where}"] = each
    return tuple(found.values())
