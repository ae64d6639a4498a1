"""A colour read at several aspecular angles.

An aspecular angle is counted from the mirror direction of light that comes in at 45
degrees: small ones show the face of an effect colour, large ones its flop.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shadecore.colour.appearance import WAVELENGTHS_NM, lab_from_reflectance
from shadecore.colour.colour_science import colour_science
from shadecore.colour.condition import WORKING, Condition
from shadecore.colour.convert import ADAPTATION, MAX_OPPONENT
from shadecore.errors import ColourError

Lab = tuple[float, float, float]
Reading = Sequence[float]

STANDARD_ANGLES_DEG = (15.0, 25.0, 45.0, 75.0, 110.0)
"""ASTM E2194 needs 15, 45 and 110 degrees, DIN 6175-2 adds 25 and 75 (both from their
abstracts and at second hand)."""
MIDDLE_DEG = 45.0
"""The angle that a solid colour's 45/0 reading shares, so none goes without it."""

BRIGHTEST = 200.0
"""L* beyond any reading; flakes near the mirror direction read well above 100."""
FACE_SLACK = 2.0
"""How much darker in L* a face may read than the flop: solid colours and noise."""
_COORDINATES = 3
_PERCENT = 100.0


@dataclass(frozen=True)
class AngleReadings:
    """A colour at several aspecular angles.

    Attributes
    ----------
    angles : tuple of float
        Aspecular angles, ascending, of ``STANDARD_ANGLES_DEG``. [degrees]
    lab : tuple
        L*, a*, b* at each angle under D65/10 degrees; L* may exceed 100.
    reflectance : tuple or None
        At each angle 31 reflectance factors, 400 to 700 nm by 10 nm, where spectra
        were given; they may exceed 1.
    """

    angles: tuple[float, ...]
    lab: tuple[Lab, ...]
    reflectance: tuple[tuple[float, ...], ...] | None = None

    @property
    def places(self) -> NDArray[np.intp]:
        """Which of the standard angles were read, shape (read,)."""
        return np.array([STANDARD_ANGLES_DEG.index(each) for each in self.angles])

    def at(self, angle_deg: float) -> Lab:
        """Colour at one of the angles read.

        Parameters
        ----------
        angle_deg : float
            One of ``angles``. [degrees]

        Returns
        -------
        tuple of float
            L*, a*, b*.
        """
        return self.lab[self.angles.index(angle_deg)]


def angle_readings(
    readings: Iterable[tuple[float, Reading]], condition: Condition = WORKING
) -> AngleReadings:
    """Check readings at several angles and put them in order.

    Parameters
    ----------
    readings : iterable of tuple
        Aspecular angle in degrees, and L*, a*, b* or a reflectance spectrum of 31
        factors; in any order.
    condition : Condition
        How the colours were measured. Instruments for several angles leave the mirror
        reflection out.

    Returns
    -------
    AngleReadings

    Raises
    ------
    ColourError
        If an angle is missing, given twice or no standard one, if a value cannot be
        read as a colour, or if the face is darker than the flop.
    """
    if condition.specular != "excluded":
        message = (
            "Readings at aspecular angles never take the mirror reflection in; leave "
            "specular at excluded."
        )
        raise ColourError(message)
    given: dict[float, Reading] = {}
    for angle, reading in readings:
        degrees = _standard(angle)
        if degrees in given:
            message = f"The angle {degrees:g} degrees is given twice; keep one reading."
            raise ColourError(message)
        given[degrees] = reading
    if MIDDLE_DEG not in given:
        message = (
            "The reading at 45 degrees is missing; an effect colour needs it, and 15 "
            "and 110 beside it help most."
        )
        raise ColourError(message)
    angles = tuple(sorted(given))
    spectra = [len(given[each]) != _COORDINATES for each in angles]
    if any(spectra) and not all(spectra):
        message = "Give Lab values at every angle, or spectra at every angle, not both."
        raise ColourError(message)
    if all(spectra):
        return _from_spectra(angles, [given[each] for each in angles])
    lab = [_checked(each, given[each]) for each in angles]
    return _ordered(angles, _working(np.array(lab), condition), None)


def _standard(angle: float) -> float:
    if float(angle) not in STANDARD_ANGLES_DEG:
        usual = ", ".join(f"{each:g}" for each in STANDARD_ANGLES_DEG)
        message = (
            f"{angle:g} degrees is no standard aspecular angle; use some of {usual}."
        )
        raise ColourError(message)
    return float(angle)


def _checked(angle: float, reading: Reading) -> list[float]:
    lab = [float(value) for value in reading]
    if not np.all(np.isfinite(lab)):
        message = f"The reading at {angle:g} degrees holds a value that is no number."
        raise ColourError(message)
    if not 0.0 <= lab[0] <= BRIGHTEST:
        message = (
            f"L* at {angle:g} degrees is {lab[0]:g}; it must lie between 0 and "
            f"{BRIGHTEST:g}, above 100 only where flakes shine."
        )
        raise ColourError(message)
    if max(abs(lab[1]), abs(lab[2])) > MAX_OPPONENT:
        message = (
            f"a* and b* at {angle:g} degrees must lie between -{MAX_OPPONENT:g} and "
            f"{MAX_OPPONENT:g}."
        )
        raise ColourError(message)
    return lab


def lab_at_angles(
    lab: ArrayLike, condition: Condition = WORKING
) -> NDArray[np.float64]:
    """Working L*, a*, b* of readings at angles, which flakes make brighter than white.

    Parameters
    ----------
    lab : array, shape (n, 3)
        L* 0..200.
    condition : Condition
        How they were measured; the mirror reflection is never in them.

    Returns
    -------
    array, shape (n, 3)

    Raises
    ------
    ColourError
        If a value cannot be read as a colour.
    """
    given = np.asarray(lab, dtype=np.float64)
    lightness, opponent = given[:, 0], np.abs(given[:, 1:])
    inside = (lightness >= 0.0) & (lightness <= BRIGHTEST)
    if not np.all(inside & np.all(opponent <= MAX_OPPONENT, axis=1)):
        message = (
            f"A reading at an angle needs L* between 0 and {BRIGHTEST:g}, and a* and "
            f"b* between -{MAX_OPPONENT:g} and {MAX_OPPONENT:g}."
        )
        raise ColourError(message)
    return _working(given, condition)


def lab_from_xyz_at_angles(
    xyz: ArrayLike, condition: Condition = WORKING
) -> NDArray[np.float64]:
    """Working L*, a*, b* of X, Y, Z at angles, where Y of flakes passes 100.

    Parameters
    ----------
    xyz : array, shape (n, 3)
        Tristimulus values, Y of a perfect diffuser 100.
    condition : Condition
        How they were measured; the mirror reflection is never in them.

    Returns
    -------
    array, shape (n, 3)

    Raises
    ------
    ColourError
        If a value is negative, or cannot be read as a colour.
    """
    given = np.asarray(xyz, dtype=np.float64)
    if not np.all(given >= 0.0):
        message = "X, Y and Z must be zero or more; check the sign of the values."
        raise ColourError(message)
    colour = colour_science()
    white = colour.XYZ_to_xy(condition.white / _PERCENT)
    return lab_at_angles(colour.XYZ_to_Lab(given / _PERCENT, white), condition)


def _working(lab: NDArray[np.float64], condition: Condition) -> NDArray[np.float64]:
    """Carry L*, a*, b*, above 100 as well, to D65/10 degrees."""
    if condition == WORKING:
        return lab
    colour = colour_science()
    white, wanted = condition.white / _PERCENT, WORKING.white / _PERCENT
    xyz = np.asarray(colour.Lab_to_XYZ(lab, colour.XYZ_to_xy(white)))
    adapted = colour.chromatic_adaptation(
        xyz, white, wanted, method="Von Kries", transform=ADAPTATION
    )
    return np.asarray(
        colour.XYZ_to_Lab(np.maximum(adapted, 0.0), colour.XYZ_to_xy(wanted))
    )


def _from_spectra(
    angles: tuple[float, ...], spectra: Sequence[Reading]
) -> AngleReadings:
    for angle, each in zip(angles, spectra, strict=True):
        values = np.asarray(each, dtype=np.float64)
        if values.shape != WAVELENGTHS_NM.shape or not np.all(np.isfinite(values)):
            message = (
                f"The spectrum at {angle:g} degrees needs 31 numbers, 400 to 700 nm by "
                "10 nm."
            )
            raise ColourError(message)
        if values.min() < 0.0:
            message = f"The spectrum at {angle:g} degrees holds a value below 0."
            raise ColourError(message)
    reflectance = np.asarray(spectra, dtype=np.float64)
    return _ordered(angles, lab_from_reflectance(reflectance), reflectance)


def _ordered(
    angles: tuple[float, ...],
    lab: NDArray[np.floating],
    reflectance: NDArray[np.float64] | None,
) -> AngleReadings:
    face, flop = lab[0, 0], lab[-1, 0]
    if face < flop - FACE_SLACK:
        message = (
            f"The face is darker than the flop (L* {face:.1f} at {angles[0]:g} "
            f"degrees, {flop:.1f} at {angles[-1]:g}); check whether the angles are "
            "swapped."
        )
        raise ColourError(message)
    return AngleReadings(
        angles,
        tuple((float(v[0]), float(v[1]), float(v[2])) for v in lab),
        None
        if reflectance is None
        else tuple(tuple(float(v) for v in row) for row in reflectance),
    )
