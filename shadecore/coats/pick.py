"""The answer: which undercoat, how many coats, how sure."""

from typing import NamedTuple

import numpy as np

from shadecore.coats.answer import Answer, Bands, Count, Hiding, Outlook
from shadecore.coats.count import (
    INTERVAL,
    Counts,
    closest_in_lightness,
    rank,
    weighted_quantile,
)
from shadecore.coats.course import Course
from shadecore.coats.estimate import LikelyPaints, likely_paints
from shadecore.coats.flags import raise_flags
from shadecore.coats.hiding import contrast_ratio, rating
from shadecore.coats.over import follow
from shadecore.coats.settings import Settings
from shadecore.colour.surface import directional
from shadecore.colour.topcoat import Topcoat
from shadecore.recipes.library import RecipeLibrary, recipe_library
from shadecore.undercoats.shelf import Shelf, Undercoat, check_shelf

_LIGHT_UNDERCOAT = 0.80
"""Reading of a white undercoat, the white of a contrast card."""


class _Solved(NamedTuple):
    """Everything known about one topcoat over all candidates."""

    topcoat: Topcoat
    settings: Settings
    paints: LikelyPaints
    run: Course
    counts: Counts


def pick(
    topcoat: Topcoat,
    undercoats: Shelf,
    settings: Settings | None = None,
    *,
    blends: Shelf = (),
    paints: LikelyPaints | None = None,
    library: RecipeLibrary | None = None,
) -> Answer:
    """Pick the undercoat for one topcoat, with everything there is to show for it.

    Parameters
    ----------
    topcoat : Topcoat
        The colour, with its spectrum where there is one.
    undercoats : tuple of Undercoat
        The shelf.
    settings : Settings, optional
        Tolerance, film and limits.
    blends : tuple of Undercoat
        Blends that may be mixed; only the best of them is reported.
    paints : LikelyPaints, optional
        What a test card or a photo says the paint is; worked out from the colour
        unless given.
    library : RecipeLibrary, optional
        Plausible recipes.

    Returns
    -------
    Answer

    Raises
    ------
    ShelfError
        If the shelf is empty or two undercoats share a name.
    """
    settings = settings or Settings()
    library = library or recipe_library()
    candidates = check_shelf(undercoats) + blends
    if paints is None:
        paints = likely_paints(topcoat, library)
    run, counts = follow(paints, candidates, settings, library.model)
    lightness = np.array([topcoat.lab[0]])
    order = rank(counts, lightness, candidates)[0]
    closest = int(closest_in_lightness(lightness, candidates)[0])
    best_blend = [place for place in order if candidates[place].parts][:1]
    shown = [
        int(place)
        for place in order
        if not candidates[place].parts or place in best_blend
    ]
    outlooks = {
        place: _outlook(place, _Solved(topcoat, settings, paints, run, counts), each)
        for place, each in ((place, candidates[place]) for place in shown)
    }
    return Answer(
        topcoat=topcoat,
        settings=settings,
        outlooks=tuple(outlooks.values()),
        recommended=outlooks[shown[0]],
        closest=outlooks[closest],
        hiding=_hiding(paints, settings, library),
        bands=_bands(paints, settings, library),
        nearest_recipe=paints.nearest,
        basis=paints.basis,
    )


def _outlook(place: int, solved: _Solved, undercoat: Undercoat) -> Outlook:
    """Gather what one undercoat does."""
    topcoat, settings, paints, run, counts = solved
    coats, low, high = (
        int(each[0, place]) if each[0, place] <= counts.cap else None
        for each in (counts.coats, counts.low, counts.high)
    )
    # Shown as the topcoat plus what is still missing, so that the last coat lands on
    # the measured colour and not on the recipes' average.
    missing = run.lab[:, place] - run.full_lab[:, None, :]
    lab = np.array(topcoat.lab) + np.einsum("p,pnc->nc", paints.weight, missing)
    difference = weighted_quantile(run.difference[:, place].T, paints.weight, 0.5)
    return Outlook(
        undercoat=undercoat,
        count=Count(coats, low, high, tuple(map(float, counts.chance[0, place]))),
        coats_average=float(counts.average[0, place]),
        difference=tuple(map(float, difference)),
        lab=tuple((float(c[0]), float(c[1]), float(c[2])) for c in lab),
        paint_ml_per_m2=(
            None if coats is None else settings.film.sprayed_ml_per_m2(coats)
        ),
        lightness_gap=abs(undercoat.lightness - topcoat.lab[0]),
        flags=raise_flags(
            counts,
            np.array([place]),
            np.array([topcoat.lab[0]]),
            np.array([paints.nearest]),
            settings,
        )[0],
    )


def _hiding(paints: LikelyPaints, settings: Settings, library: RecipeLibrary) -> Hiding:
    ratio = contrast_ratio(
        paints.absorption, paints.scattering, settings.hiding_film_um, library.model
    )
    tail = (1.0 - INTERVAL) / 2.0
    low, middle, high = (
        float(weighted_quantile(ratio, paints.weight, share))
        for share in (tail, 0.5, 1.0 - tail)
    )
    return Hiding(
        middle, low, high, settings.hiding_film_um, str(rating(np.array(middle)))
    )


def _bands(paints: LikelyPaints, settings: Settings, library: RecipeLibrary) -> Bands:
    film = library.model.terms(paints.absorption, paints.scattering, settings.films_um)
    full = library.model.masstone(paints.absorption, paints.scattering)
    white = directional().inside(_LIGHT_UNDERCOAT)
    rise = (film.over(white) - film.over_black) / _LIGHT_UNDERCOAT
    return Bands(
        full=tuple(map(float, paints.weight @ full)),
        see_through=tuple(
            tuple(map(float, coat))
            for coat in np.einsum("p,pnw->nw", paints.weight, rise)
        ),
    )
