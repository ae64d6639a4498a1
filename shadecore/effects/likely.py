"""The paints that readings of an effect colour may mean, and their films."""

from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.loading import Loading
from shadecore.colour.angles import STANDARD_ANGLES_DEG, AngleReadings
from shadecore.effects.appearance import angle_lab
from shadecore.effects.films import EffectFilms
from shadecore.effects.held_films import HeldFilms
from shadecore.effects.library import EffectLibrary, effect_library
from shadecore.effects.optics import LobeSet, Optics
from shadecore.effects.recipes import KINDS, STEP
from shadecore.errors import ColourError
from shadecore.film.two_flux import FilmTerms

Array = NDArray[np.float64]

EFFECT_LOADING = Loading(0.0, 0.35)
"""The library's paints are drawn with their loadings; what is left is the film that a
gun leaves (from memory)."""
_SEVERAL = 3
_MOST_BYTES: Final = 100_000_000
"""Films held of all colours together: those of the five asked about last."""
_SOLVERS: Final = 8
"""Paints whose solved depths are held, up to 4 MB each."""
_HELD: Final = HeldFilms(_MOST_BYTES)


@dataclass(frozen=True, eq=False)
class EffectPaints:
    """Effect paints that one colour may be, each with its weight.

    Attributes
    ----------
    optics : Optics
        Coefficients of their films.
    lobes : LobeSet
        How their flakes lie.
    weight : array, shape (paints,)
        Weights, summing to 1.
    nearest : float
        Difference from the readings to the nearest paint: root mean square over the
        angles read. [CIEDE2000]
    basis : str
        What they are known from: ``angles``, or ``colour`` where fewer than three
        were read.
    angles : tuple of float
        Aspecular angles that they are judged at: all standard ones, whichever were
        read. [degrees]
    """

    optics: Optics
    lobes: LobeSet
    weight: Array
    nearest: float
    basis: str = "angles"
    angles: tuple[float, ...] = STANDARD_ANGLES_DEG
    loading: Loading | None = EFFECT_LOADING

    def _terms(self, films_um: Array) -> FilmTerms:
        key = (self, films_um.tobytes())
        return _HELD.of(key, lambda: _films(self).terms(films_um))

    @cached_property
    def _full_lab(self) -> Array:
        return angle_lab(_films(self).masstone())

    def only(self, place: int) -> "EffectPaints":
        """One of the paints alone, with all the weight.

        Parameters
        ----------
        place : int
            Which.

        Returns
        -------
        EffectPaints
        """
        row = slice(place, place + 1)
        return replace(self, optics=self.optics[row], weight=np.ones(1))

    def full_lab(self) -> Array:
        """Colour of the films that hide.

        Returns
        -------
        array, shape (paints, angles, 3)
            L*, a*, b* under D65/10 degrees.
        """
        return self._full_lab

    def lab_over(
        self, backing: NDArray[np.floating], dry_film_um: NDArray[np.floating]
    ) -> Array:
        """Colour of films over undercoats.

        Parameters
        ----------
        backing : array, shape (undercoats, 31)
            Reflectance seen from inside the film, 0..1.
        dry_film_um : array, shape (films,)
            Dry films, above 0. [um]

        Returns
        -------
        array, shape (paints, undercoats, films, angles, 3)
        """
        films, place = np.unique(dry_film_um, return_inverse=True)
        terms = self._terms(films.astype(np.float64))
        inside = np.asarray(backing, dtype=np.float64)[:, ::STEP]
        lab = np.stack(
            [angle_lab(np.asarray(terms.over(each))) for each in inside], axis=1
        )
        return lab[:, :, place.reshape(-1)]

    def completed(self, readings: AngleReadings) -> Array:
        """Colour at every angle: read where it was, else the paints' average.

        Parameters
        ----------
        readings : AngleReadings
            What was read.

        Returns
        -------
        array, shape (angles, 3)
        """
        lab = np.einsum("p,pac->ac", self.weight, self._full_lab)
        lab[readings.places] = readings.lab
        return np.asarray(lab)


@lru_cache(maxsize=_SOLVERS)
def _films(paints: EffectPaints) -> EffectFilms:
    return EffectFilms(paints.optics, paints.lobes)


def likely_effect_paints(
    readings: AngleReadings,
    kinds: tuple[str, ...] = ("metallic", "pearl"),
    library: EffectLibrary | None = None,
) -> EffectPaints:
    """Find the paints that readings may mean.

    Parameters
    ----------
    readings : AngleReadings
        The colour, at 45 degrees at least.
    kinds : tuple of str
        ``metallic`` (aluminium, alone or with pearl), ``pearl`` (pearl, alone or with
        aluminium), or both where it is not known.
    library : EffectLibrary, optional
        Plausible paints.

    Returns
    -------
    EffectPaints

    Raises
    ------
    ColourError
        If a kind is not known.
    """
    unknown = [each for each in kinds if each not in KINDS]
    if unknown or not kinds:
        named = repr(unknown[0]) if unknown else "of nothing"
        message = f"The kind {named} is not known; use metallic, pearl or both."
        raise ColourError(message)
    library = library or effect_library()
    labels = tuple(sorted({label for each in kinds for label in KINDS[each]}))
    near = library.near(np.array(readings.lab), readings.places, labels)
    return EffectPaints(
        optics=library.optics[near.index],
        lobes=library.lobes,
        weight=near.weight,
        nearest=float(near.difference[0]),
        basis="angles" if len(readings.angles) >= _SEVERAL else "colour",
    )
