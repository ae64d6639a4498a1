"""Candy colours: clear coats that only absorb, over a ground that shows for good.

Light crosses each coat on its way in and out, so every coat takes the same share of
what is left: the logarithm of a reading falls in a straight line with the coats, and a
candy never hides its ground. Over a metallic ground each angle has its own ground.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shadecore.colour.angles import AngleReadings
from shadecore.colour.appearance import (
    WAVELENGTHS_NM,
    colour_difference,
    lab_from_reflectance,
    tristimulus_weights,
)
from shadecore.effects.geometry import views
from shadecore.effects.xyz import xyz_of_lab
from shadecore.errors import ColourError

Array = NDArray[np.float64]

MOST_COATS = 40
TENTH_OF_FILM = 0.1
_STEPS_A_COAT = 50
_BLUE_ENDS_NM, _GREEN_ENDS_NM = 495, 585
"""Edges of the three bands that stand for a spectrum where only Lab is known."""
_DARKEST = 1e-5


@dataclass(frozen=True)
class Candy:
    """A candy over its ground.

    Attributes
    ----------
    angles : tuple of float
        Aspecular angles. [degrees]
    ground : array, shape (angles, channels)
        Reflectance factors of the ground under clear: of wavelengths, or of three
        bands where only Lab is known.
    absorbance : array, shape (channels,)
        Of one coat, for a path straight through. 0 and above
    """

    angles: tuple[float, ...]
    ground: Array
    absorbance: Array

    def lab(self, coats: float | NDArray[np.floating]) -> Array:
        """Colour after coats.

        Parameters
        ----------
        coats : float or array
            Number of coats, 0 and above; fractions are film.

        Returns
        -------
        array, shape (..., angles, 3)
            L*, a*, b*.
        """
        number = np.asarray(coats, dtype=np.float64)[..., None, None]
        path = views(self.angles).path[:, None]
        return _lab(self.ground * np.exp(-number * path * self.absorbance))

    def per_coat(self, coats: float) -> Array:
        """What one coat more changes at each angle.

        Parameters
        ----------
        coats : float
            Coats that are on.

        Returns
        -------
        array, shape (angles,)
            CIEDE2000.
        """
        return colour_difference(self.lab(coats), self.lab(coats + 1.0)).astype(float)

    def per_tenth(self, coats: float) -> Array:
        """What a tenth more film changes at each angle: the painter's own tolerance.

        Parameters
        ----------
        coats : float
            Coats that are on.

        Returns
        -------
        array, shape (angles,)
            CIEDE2000.
        """
        more = coats * (1.0 + TENTH_OF_FILM)
        return colour_difference(self.lab(coats), self.lab(more)).astype(float)


@dataclass(frozen=True)
class CandyMatch:
    """Coats of a candy that come nearest to a target.

    Attributes
    ----------
    coats : int
        Whole number of coats, from 1.
    fraction : float
        The same as a film, in coats.
    difference : float
        Largest CIEDE2000 over the angles at ``coats``.
    left : float
        The same at ``fraction``.
    per_coat, per_tenth : tuple of float
        What a coat, and a tenth more film, changes at each angle from ``coats`` on.
        [CIEDE2000]
    """

    coats: int
    fraction: float
    difference: float
    left: float
    per_coat: tuple[float, ...]
    per_tenth: tuple[float, ...]


def candy_from_strip(
    ground: AngleReadings, strip: AngleReadings, coats: float
) -> Candy:
    """Candy from its ground and one strip of it.

    Parameters
    ----------
    ground, strip : AngleReadings
        Both under clear; angles that both have are used, and spectra where both have
        them. The target itself serves where its coats are known.
    coats : float
        Coats on the strip, above 0.

    Returns
    -------
    Candy

    Raises
    ------
    ColourError
        If the strip has no coats, or is nowhere darker than its ground.
    """
    if not coats > 0.0:
        message = f"The strip needs at least one coat of candy, not {coats:g}."
        raise ColourError(message)
    angles = tuple(each for each in ground.angles if each in strip.angles)
    spectral = ground.reflectance is not None and strip.reflectance is not None
    bare, coated = (
        _channels(each, angles, spectral=spectral) for each in (ground, strip)
    )
    path = views(angles).path[:, None] * coats
    fallen = np.log(bare / coated)
    # Least squares over the angles, through no absorbance without a coat.
    absorbance = (fallen * path).sum(axis=0) / (path**2).sum(axis=0)
    if not np.any(absorbance > 0.0):
        message = (
            "The strip is nowhere darker than its ground, so it is no candy; check "
            "whether the two are swapped."
        )
        raise ColourError(message)
    return Candy(angles, bare, np.maximum(absorbance, 0.0))


def match_candy(candy: Candy, target: AngleReadings) -> CandyMatch:
    """Find the coats that come nearest to a target.

    Parameters
    ----------
    candy : Candy
        The candy over its ground.
    target : AngleReadings
        What it should look like, at the candy's angles or some of them.

    Returns
    -------
    CandyMatch
    """
    shared = [at for at, each in enumerate(candy.angles) if each in target.angles]
    wanted = np.array([target.at(candy.angles[at]) for at in shared])
    number = np.arange(MOST_COATS * _STEPS_A_COAT + 1) / _STEPS_A_COAT
    worst = colour_difference(candy.lab(number)[:, shared], wanted).max(axis=-1)
    whole = worst[_STEPS_A_COAT::_STEPS_A_COAT]
    coats = int(whole.argmin()) + 1
    return CandyMatch(
        coats=coats,
        fraction=float(number[worst.argmin()]),
        difference=float(whole.min()),
        left=float(worst.min()),
        per_coat=tuple(map(float, candy.per_coat(coats))),
        per_tenth=tuple(map(float, candy.per_tenth(coats))),
    )


def _channels(
    readings: AngleReadings, angles: tuple[float, ...], *, spectral: bool
) -> Array:
    """Reflectance factors of wavelengths, or of three bands that give the Lab value."""
    rows = [readings.angles.index(each) for each in angles]
    if spectral and readings.reflectance is not None:
        return np.asarray(np.maximum(np.asarray(readings.reflectance)[rows], _DARKEST))
    bands = np.linalg.inv(_bands() @ tristimulus_weights())
    xyz = xyz_of_lab(np.asarray(readings.lab)[rows])
    return np.asarray(np.maximum(xyz @ bands, _DARKEST))


def _lab(channels: Array) -> Array:
    count = channels.shape[-1]
    spectra = channels if count == WAVELENGTHS_NM.size else channels @ _bands()
    return np.asarray(lab_from_reflectance(spectra))


def _bands() -> Array:
    """Blue, green and red third of the spectrum, shape (3, 31)."""
    third = np.digitize(WAVELENGTHS_NM, [_BLUE_ENDS_NM, _GREEN_ENDS_NM])
    return np.asarray(np.arange(3)[:, None] == third, dtype=np.float64)
