"""Three-stage colours: how many mid-coats match a car, from a let-down panel.

A let-down panel is the ground colour with strips of 1, 2, ... mid-coats over it, all
under clear; the strips are held to the car.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from shadecore.colour.angles import AngleReadings
from shadecore.colour.appearance import colour_difference
from shadecore.effects.xyz import lab_of_xyz, xyz_of_lab
from shadecore.errors import ColourError

Array = NDArray[np.float64]
Suspect = Literal["ground", "pearl"]

DEFAULT_TOLERANCE = 2.0
"""CIEDE2000 at the worst angle that still passes on a whole car; common practice, no
source."""
STEPS_A_COAT = 100


@dataclass(frozen=True)
class MidcoatMatch:
    """Mid-coats that match a car.

    Attributes
    ----------
    coats : int
        Best whole number among the sprayed strips, from 1.
    fraction : float
        Best number between the strips, fractions included.
    difference : float
        Largest CIEDE2000 over the angles at ``coats``.
    left : float
        The same at ``fraction``.
    fits : bool
        Whether ``difference`` lies within the tolerance.
    suspect : str or None
        ``ground`` or ``pearl``, whichever of them explains the difference better,
        where not even a fraction of a coat fits; else None.
    angles : tuple of float
        Aspecular angles compared. [degrees]
    at_angles : tuple of float
        CIEDE2000 at each of them at ``coats``.
    step_more, step_less : tuple of float or None
        What one coat more or less than ``coats`` changes at each angle; None beyond
        the strips. [CIEDE2000]
    """

    coats: int
    fraction: float
    difference: float
    left: float
    fits: bool
    suspect: Suspect | None
    angles: tuple[float, ...]
    at_angles: tuple[float, ...]
    step_more: tuple[float, ...] | None
    step_less: tuple[float, ...] | None


def match_midcoats(
    car: AngleReadings,
    strips: Mapping[int, AngleReadings],
    tolerance: float = DEFAULT_TOLERANCE,
) -> MidcoatMatch:
    """Find the number of mid-coats that matches a car.

    Between strips every angle is interpolated over the coats.

    Parameters
    ----------
    car : AngleReadings
        The car.
    strips : mapping of int to AngleReadings
        The panel by its mid-coats; 0 is the bare ground, all under clear.
    tolerance : float
        Largest CIEDE2000 at the worst angle that counts as a match.

    Returns
    -------
    MidcoatMatch

    Raises
    ------
    ColourError
        If no strip has a mid-coat, or there is nothing to compare it with.
    """
    numbers = sorted(strips)
    sprayed = [each for each in numbers if each >= 1]
    if not sprayed or len(numbers) == 1:
        message = (
            "The panel needs the bare ground (0) and at least one strip with a "
            "mid-coat (1)."
        )
        raise ColourError(message)
    angles = tuple(
        each
        for each in car.angles
        if all(each in strips[number].angles for number in numbers)
    )
    wanted = _at(car, angles)
    course = _Course(numbers, np.stack([_at(strips[n], angles) for n in numbers]))
    whole = {n: colour_difference(course.lab(n), wanted) for n in sprayed}
    coats = min(sprayed, key=lambda n: float(whole[n].max()))
    worst = colour_difference(course.between(), wanted).max(axis=-1)
    left = float(worst.min())
    difference = float(whole[coats].max())
    return MidcoatMatch(
        coats=coats,
        fraction=float(course.numbers()[worst.argmin()]),
        difference=difference,
        left=left,
        fits=difference <= tolerance,
        suspect=None if left <= tolerance else _suspect(course, wanted),
        angles=angles,
        at_angles=tuple(map(float, whole[coats])),
        step_more=course.step(coats, coats + 1),
        step_less=course.step(coats, coats - 1),
    )


def _at(readings: AngleReadings, angles: tuple[float, ...]) -> Array:
    return np.array([readings.at(each) for each in angles])


class _Course:
    """Colour of the panel as mid-coats are added, between strips as well."""

    def __init__(self, sprayed: list[int], lab: Array) -> None:
        self.first, self.last = sprayed[0], sprayed[-1]
        from scipy.interpolate import PchipInterpolator  # noqa: PLC0415 - slow to load

        self._curve = PchipInterpolator(sprayed, lab, axis=0)

    def lab(self, number: float | Array) -> Array:
        return np.asarray(self._curve(number))

    def numbers(self) -> Array:
        count = (self.last - self.first) * STEPS_A_COAT + 1
        return np.linspace(self.first, self.last, count)

    def between(self) -> Array:
        return self.lab(self.numbers())

    def step(self, start: int, end: int) -> tuple[float, ...] | None:
        if not self.first <= end <= self.last:
            return None
        change = colour_difference(self.lab(start), self.lab(end))
        return tuple(map(float, change))


def _suspect(course: _Course, wanted: Array) -> Suspect:
    """Whether a wrong ground or a wrong pearl explains the difference better.

    A wrong ground adds the same light at every angle, a wrong pearl scales what the
    mid-coats add, which is most at the face. Each is given its best size and the best
    number of coats; the one that leaves less is suspected.
    """
    car = xyz_of_lab(wanted)
    panel = xyz_of_lab(course.between())
    missing = car - panel
    # A change of light counts by the slope of L*, which falls with its 2/3rd power.
    weight = np.maximum(car, 1.0) ** (-4.0 / 3.0)
    same = (weight * missing).sum(axis=-2, keepdims=True)
    same = same / weight.sum(axis=-2, keepdims=True)
    added = panel - panel[:1]
    scale = (weight * added * missing).sum(axis=-2, keepdims=True)
    size = (weight * added**2).sum(axis=-2, keepdims=True)
    scale = np.divide(scale, size, out=np.zeros_like(scale), where=size > 0.0)
    left = [
        float(colour_difference(lab_of_xyz(panel + each), wanted).max(axis=-1).min())
        for each in (np.broadcast_to(same, panel.shape), scale * added)
    ]
    return "ground" if left[0] <= left[1] else "pearl"
