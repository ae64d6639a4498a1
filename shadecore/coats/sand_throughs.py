"""Sand-throughs: several undercoats under one colour, side by side on a panel."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.answer import Count
from shadecore.coats.belief import Belief, count_films, count_over, middle_films
from shadecore.coats.paints import Paints
from shadecore.coats.pick import count_of
from shadecore.coats.settings import Settings
from shadecore.coats.thickness import FILMS_UM, last_crossing
from shadecore.colour.appearance import colour_difference
from shadecore.errors import ShelfError
from shadecore.undercoats.shelf import Shelf, Undercoat, check_shelf, inside_film

_FEWEST_AREAS = 2
_INSIDE = 0.02
"""How far from a whole number of coats the paint shown crosses. [coats]"""
_NOTHING = 1e-6


@dataclass(frozen=True)
class SandThroughs:
    """How areas over different undercoats grow alike.

    Attributes
    ----------
    areas : tuple of Undercoat
        What lies bare on the panel.
    difference : tuple of float
        Largest difference between any two areas after each coat, of the likely paint
        whose areas grow alike most nearly where the count says. [CIEDE2000]
    count : Count
        Coats until the areas stay alike within the tolerance.
    sealer : Undercoat
        The undercoat with the fewest coats, sprayed over everything first.
    sealed_coats : int or None
        Coats to hide over that sealer.
    """

    areas: Shelf
    difference: tuple[float, ...]
    count: Count
    sealer: Undercoat
    sealed_coats: int | None

    @property
    def sealing_saves(self) -> int | None:
        """Coats of colour that sealing first saves; None where it cannot be said.

        Areas that stay apart within the cap count as one coat more than the cap.
        """
        if self.sealed_coats is None:
            return None
        coats = self.count.coats
        unsealed = self.count.cap + 1 if coats is None else coats
        return unsealed - self.sealed_coats


def compare_sand_throughs(
    belief: Belief, areas: Shelf, sealer: Undercoat, settings: Settings
) -> SandThroughs:
    """Follow one colour over several undercoats until the areas look alike.

    Parameters
    ----------
    belief : Belief
        What is held of the topcoat, such as ``Answer.belief``.
    areas : tuple of Undercoat
        What lies bare on the panel, two or more.
    sealer : Undercoat
        What would be sprayed over everything instead.
    settings : Settings
        Film, tolerance and cap.

    Returns
    -------
    SandThroughs

    Raises
    ------
    ShelfError
        If there are fewer than two areas.
    """
    if len(areas) < _FEWEST_AREAS:
        message = "Name at least two areas with different sealers to compare."
        raise ShelfError(message)
    check_shelf(areas)
    apart = _apart(belief.paints, inside_film(areas), FILMS_UM)
    ln_film = last_crossing(apart, np.log(FILMS_UM), settings.tolerance)[:, None]
    count = count_of(count_films(belief, ln_film, settings.films_um), 0)
    sealed = count_of(count_over(belief, (sealer,), settings), 0)
    middle = float(middle_films(belief, ln_film)[0])
    return SandThroughs(
        areas=areas,
        difference=_shown(apart, ln_film[:, 0], middle, count, settings),
        count=count,
        sealer=sealer,
        sealed_coats=sealed.coats,
    )


def _apart(
    paints: Paints, backing: NDArray[np.floating], films_um: NDArray[np.floating]
) -> NDArray[np.floating]:
    """Largest difference between two areas at any angle, shape (paints, films)."""
    lab = paints.lab_over(backing, films_um)
    between = colour_difference(lab[:, :, None], lab[:, None, :])
    return np.asarray(between.max(axis=(1, 2, 4)))


def _shown(
    apart: NDArray[np.floating],
    ln_film: NDArray[np.floating],
    middle: float,
    count: Count,
    settings: Settings,
) -> tuple[float, ...]:
    """Differences coat by coat of the paint that crosses nearest to the middle.

    They are read where it crosses the tolerance in the coat that is counted.
    """
    place = int(np.argmin(np.abs(ln_film - middle)))
    coat = settings.film.dry_film_um
    last = count.cap + 1 if count.coats is None else count.coats
    least, most = (last - 1 + _INSIDE) * coat, (last - _INSIDE) * coat
    wanted = np.clip(np.exp(middle), least, most)
    films = settings.films_um * np.exp(ln_film[place]) / wanted
    course = np.log(np.maximum(apart[place], _NOTHING))
    return tuple(map(float, np.exp(np.interp(np.log(films), np.log(FILMS_UM), course))))
