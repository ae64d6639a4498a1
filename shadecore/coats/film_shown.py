"""One film to look at: the likely paint that behaves most as the estimate says.

An estimate's middles belong to no single paint: the mean of the colours after a coat,
the middle of the differences and the middle count come from different ones and do not
fit together. What is watched growing coat by coat is one film, loaded so that it hides
each undercoat where the estimate says.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.belief import Belief, middle_films
from shadecore.coats.count import Counts
from shadecore.coats.over import ln_thickness_over
from shadecore.coats.paints import Paints, face
from shadecore.coats.settings import Settings
from shadecore.coats.thickness import FILMS_UM, hidden_from, last_crossing
from shadecore.colour.appearance import colour_difference
from shadecore.colour.topcoat import Topcoat
from shadecore.undercoats.shelf import Shelf, inside_film

Array = NDArray[np.floating]

_LIKELY_ENOUGH: Final = 0.3
"""Part of the likeliest paint's weight from which a paint may be shown."""
_INSIDE: Final = 0.02
"""How far from a whole number of coats the film shown crosses the tolerance, so that
rounding cannot move it by a coat. [coats]"""
_AFTER_THE_COAT_BEFORE: Final = (_INSIDE, 0.05, 0.1, 0.2)
"""Tried in turn, for a film that comes within the tolerance and leaves it again: how
far after the coat before the last crossing is put. [coats]"""
_CANDIDATES: Final = 12


@dataclass(frozen=True, eq=False)
class FilmShown:
    """The film shown over each undercoat.

    Attributes
    ----------
    paint : Paints
        The one paint.
    place : int
        Its place among the likely paints.
    lab : array, shape (undercoats, coats, angles, 3)
        Its colour after each coat; its full colour is the topcoat's.
    difference : array, shape (undercoats, coats, angles)
        To the full colour. [CIEDE2000]
    ln_loading : array, shape (undercoats,)
        Logarithm of the loading at which it hides each undercoat where the estimate
        says.
    """

    paint: Paints
    place: int
    lab: Array
    difference: Array
    ln_loading: Array

    def films_um(self, undercoat: int, settings: Settings) -> Array:
        """Films, at the paint's own loading, that the coats are, shape (coats,).

        Parameters
        ----------
        undercoat : int
            Place of the undercoat that the film's loading is taken from.
        settings : Settings
            Film and cap.

        Returns
        -------
        array
            [um]
        """
        return np.asarray(settings.films_um * np.exp(self.ln_loading[undercoat]))


def film_shown(
    topcoat: Topcoat,
    belief: Belief,
    undercoats: Shelf,
    counts: Counts,
    settings: Settings,
) -> FilmShown:
    """Choose the film to look at.

    Parameters
    ----------
    topcoat : Topcoat
        The colour.
    belief : Belief
        What is held of it.
    undercoats : tuple of Undercoat
        What the film is sprayed over.
    counts : Counts
        Its coats over them, for one colour.
    settings : Settings
        Film, tolerance and cap.

    Returns
    -------
    FilmShown
        Of the paint whose hiding thicknesses have most nearly the estimate's pattern.
    """
    backing = inside_film(undercoats)
    ln_film = ln_thickness_over(belief.paints, backing, settings.tolerance)
    middle = middle_films(belief, ln_film)
    wanted = _within_the_count(middle, counts, settings)
    shown = None
    for place in _nearest(ln_film, middle, belief):
        shown = _Shown(topcoat, belief.paints, int(place), backing, settings)
        if shown.can_hide_at(counts):
            break
    if shown is None:
        message = "there are no likely paints"
        raise ValueError(message)
    return shown.film(wanted, counts)


def _within_the_count(middle: Array, counts: Counts, settings: Settings) -> Array:
    """Films at which to cross the tolerance, inside the last coat of the count."""
    coat = settings.film.dry_film_um
    needed = counts.coats[0].astype(np.float64)
    film = np.exp(np.minimum(middle, np.log(FILMS_UM[-1])))
    lowest, highest = (needed - 1 + _INSIDE) * coat, (needed - _INSIDE) * coat
    highest = np.where(needed > counts.cap, np.inf, highest)
    return np.asarray(np.log(np.clip(film, lowest, highest)))


def _nearest(ln_film: Array, middle: Array, belief: Belief) -> NDArray[np.intp]:
    """Places of likely paints, the one most like the estimate first.

    The loading is free, so what is compared is how the undercoats differ.
    """
    apart = ln_film - middle
    apart = apart - np.median(apart, axis=1, keepdims=True)
    miss = np.abs(apart).sum(axis=1)
    weight = belief.paint_weight
    unlikely = weight < _LIKELY_ENOUGH * weight.max()
    return np.lexsort((-weight, miss, unlikely))[:_CANDIDATES]


class _Shown:
    """A paint followed over undercoats, its full colour moved to the topcoat's."""

    def __init__(
        self,
        topcoat: Topcoat,
        paints: Paints,
        place: int,
        backing: Array,
        settings: Settings,
    ) -> None:
        self._paint, self._place = paints.only(place), place
        self._backing, self._settings = backing, settings
        full = self._paint.full_lab()[0].astype(np.float64)
        self._moved = np.zeros(3)
        if len(paints.angles) == 1:
            self._moved = np.array(topcoat.lab) - full[face(paints)]
        self._full = full + self._moved
        _, apart = self._follow(FILMS_UM)
        self._ln_film = last_crossing(
            apart.max(axis=-1), np.log(FILMS_UM), settings.tolerance
        )

    def _follow(self, films_um: Array) -> tuple[Array, Array]:
        """Colours and differences, shape (undercoats, films, angles[, 3])."""
        lab = self._paint.lab_over(self._backing, films_um)[0] + self._moved
        return lab, colour_difference(lab, self._full)

    def can_hide_at(self, counts: Counts) -> bool:
        """Whether some loading makes it hide each undercoat where it should."""
        at_once = self._ln_film <= np.log(FILMS_UM[0])
        never = self._ln_film >= np.log(FILMS_UM[-1])
        needed = counts.coats[0]
        return bool(
            np.all(~(at_once & (needed > 1)) & ~(never & (needed <= counts.cap)))
        )

    def film(self, wanted: Array, counts: Counts) -> FilmShown:
        """The film, loaded so that it hides where it should."""
        needed = counts.coats[0]
        ln_loading = self._ln_film - wanted
        lab, apart = self._at(ln_loading)
        # A film may come within the tolerance and leave it again between two coats.
        # Then it is made to leave soon after the coat before, and a little later if
        # that coat still hides: the crossing is interpolated between solved films.
        for after in _AFTER_THE_COAT_BEFORE:
            found = hidden_from(apart.max(axis=-1), self._settings.tolerance)
            hooked = found != needed
            if not hooked.any():
                break
            leaves = np.log((needed - 1 + after) * self._settings.film.dry_film_um)
            ln_loading = np.where(hooked, self._ln_film - leaves, ln_loading)
            lab, apart = self._at(ln_loading)
        return FilmShown(self._paint, self._place, lab, apart, ln_loading)

    def _at(self, ln_loading: Array) -> tuple[Array, Array]:
        """Colours and differences coat by coat, each undercoat at its loading."""
        coats = self._settings.films_um
        films = coats * np.exp(ln_loading)[:, None]
        lab, apart = self._follow(films.ravel())
        row = np.arange(len(ln_loading))
        shape = (len(ln_loading), *films.shape)
        lab = lab.reshape(*shape, *lab.shape[2:])[row, row]
        return lab, apart.reshape(*shape, *apart.shape[2:])[row, row]
