"""What a painter measures on a sprayed-out black-and-white card."""

from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.colour.appearance import (
    WAVELENGTHS_NM,
    lab_from_reflectance,
    neutral_reflectance,
    tristimulus_weights,
)
from shadecore.errors import CardError
from shadecore.units import percent

Reading = tuple[float, ...]
"""L*, a*, b*; or Y alone (white 100); or 31 reflectances, 400 to 700 nm by 10 nm."""

LUMINANCE, LAB, SPECTRUM = 1, 3, WAVELENGTHS_NM.size
"""What a reading is, by how many numbers it has."""

DEFAULT_BLACK: Final = 0.005
DEFAULT_WHITE: Final = 0.80
"""Reflectance of the bare areas; 0.80 is the convention of ASTM D2805."""
BLACKEST: Final = 0.02
"""Reflectance up to which a black area serves; ASTM D2805 asks for 0.01."""
WHITEST: Final = 0.60
"""Reflectance from which a white area serves; ASTM D2805 asks for 0.78."""

_SLACK: Final = 1.5
"""How far noise may turn two readings round, five times the noise of one. [L*]"""
_NOTHING_SPRAYED: Final = 0.02
"""A paint that changes black and white by less than this is not there."""


@dataclass(frozen=True)
class Step:
    """One step of a card: a number of coats, read over both areas.

    Attributes
    ----------
    coats : int
        Coats sprayed on this step, 1 or more.
    over_black, over_white : tuple of float
        Readings under the working condition.
    """

    coats: int
    over_black: Reading
    over_white: Reading


@dataclass(frozen=True)
class Card:
    """A test card.

    Attributes
    ----------
    steps : tuple of Step
        The steps.
    black, white : float
        Reflectance of the bare areas in air, 0..1.
    full : tuple of float or None
        Reading of the paint where it hides, if there is one.
    """

    steps: tuple[Step, ...]
    black: float = DEFAULT_BLACK
    white: float = DEFAULT_WHITE
    full: Reading | None = None


def luminous_reflectance(reading: Reading) -> float:
    """Luminous reflectance Y of any reading, on the scale where white is 1.

    Parameters
    ----------
    reading : tuple of float
        Y, Lab or a spectrum.

    Returns
    -------
    float

    Raises
    ------
    CardError
        If it is none of these.
    """
    if len(reading) == LUMINANCE:
        return reading[0] / 100.0
    if len(reading) == LAB:
        return float(neutral_reflectance(reading[0]))
    if len(reading) == SPECTRUM:
        return float(np.array(reading) @ tristimulus_weights()[:, 1]) / 100.0
    message = (
        f"A reading of the card has {len(reading)} numbers; give L*, a*, b*, or Y "
        f"alone, or a spectrum of {SPECTRUM} reflectances."
    )
    raise CardError(message)


def check_card(card: Card) -> Card:
    """Make sure that the readings can be those of a paint on a card.

    Parameters
    ----------
    card : Card
        The readings.

    Returns
    -------
    Card
        The same, its steps in order of coats.

    Raises
    ------
    CardError
        If readings are missing, swapped, or not of one paint on such a card.
    """
    if not card.steps:
        message = "The card has no readings; give at least one step over both areas."
        raise CardError(message)
    _check_bare(card)
    steps = tuple(sorted(card.steps, key=lambda step: step.coats))
    for step in steps:
        _check_step(step, card)
    for thin, thick in pairwise(steps):
        _check_growth(thin, thick)
    return Card(steps, card.black, card.white, card.full)


def _check_bare(card: Card) -> None:
    if card.white < card.black:
        message = (
            f"The bare white area reflects {percent(card.white, 1)}, less than the "
            f"bare black one with {percent(card.black, 1)}; the two are swapped."
        )
        raise CardError(message)
    if card.black < 0.0 or card.black > BLACKEST or not WHITEST <= card.white <= 1.0:
        message = (
            f"The bare card reflects {percent(card.black, 1)} and "
            f"{percent(card.white, 1)}; its black must reflect at most "
            f"{percent(BLACKEST)} and its white {percent(WHITEST)} to 100 %. Check the "
            "readings, or use a card made for hiding tests."
        )
        raise CardError(message)


def _check_step(step: Step, card: Card) -> None:
    if step.coats < 1:
        message = f"A step has {step.coats} coats; it needs 1 or more."
        raise CardError(message)
    dark = luminous_reflectance(step.over_black)
    light = luminous_reflectance(step.over_white)
    if _lightness(dark) > _lightness(light) + _SLACK:
        message = (
            f"After {_coats(step.coats)} the reading over black ({percent(dark, 1)} "
            f"luminous reflectance) is lighter than over white ({percent(light, 1)}); "
            "the two are swapped, or one lies on the wrong area."
        )
        raise CardError(message)
    if max(abs(dark - card.black), abs(card.white - light)) < _NOTHING_SPRAYED:
        message = (
            f"After {_coats(step.coats)} the card still reads like the bare one; check "
            "that the readings lie on the paint."
        )
        raise CardError(message)


def _check_growth(thin: Step, thick: Step) -> None:
    if thin.coats == thick.coats:
        message = f"Two steps have {thin.coats} coats; give each number of coats once."
        raise CardError(message)
    before, after = (
        _lightness(luminous_reflectance(step.over_white))
        - _lightness(luminous_reflectance(step.over_black))
        for step in (thin, thick)
    )
    if after > before + _SLACK:
        message = (
            f"Black and white lie {after:.1f} L* apart after {_coats(thick.coats)} and "
            f"only {before:.1f} after {thin.coats}: the film got thinner with more "
            "coats; check which step is which."
        )
        raise CardError(message)


def _coats(number: int) -> str:
    return f"{number} coat" if number == 1 else f"{number} coats"


def _lightness(luminous: float) -> float:
    """L* of a flat grey with this luminous reflectance."""
    return float(lab_from_reflectance(np.full(SPECTRUM, luminous))[0])


def bare_areas(card: Card) -> NDArray[np.float64]:
    """Reflectance in air of the bare areas.

    Parameters
    ----------
    card : Card
        The card.

    Returns
    -------
    array, shape (2, 31)
        Black first.
    """
    level = np.array([[card.black], [card.white]])
    return np.repeat(level, SPECTRUM, axis=1)
