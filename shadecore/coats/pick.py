"""The answer: which undercoat, how many coats, how sure."""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from shadecore.coats.answer import Answer, Bands, Count, Hiding, Outlook
from shadecore.coats.belief import Belief, count_over, first_belief
from shadecore.coats.count import Counts, closest_in_lightness, rank
from shadecore.coats.estimate import LikelyPaints, likely_paints
from shadecore.coats.evidence import after, resolved
from shadecore.coats.film_shown import FilmShown, film_shown
from shadecore.coats.flags import raise_flags
from shadecore.coats.hiding import contrast_interval, rating
from shadecore.coats.loading import Loading, default_loading
from shadecore.coats.paints import Paints, face
from shadecore.coats.rests_on import rests_on
from shadecore.coats.seen import Seen
from shadecore.coats.settings import Settings
from shadecore.colour.surface import directional
from shadecore.colour.topcoat import Topcoat
from shadecore.recipes.library import RecipeLibrary, recipe_library
from shadecore.undercoats.shelf import Shelf, Undercoat, check_shelf

_LIGHT_UNDERCOAT = 0.80
"""Reading of a white undercoat, the white of a contrast card."""


class _Solved(NamedTuple):
    """One topcoat over some undercoats."""

    topcoat: Topcoat
    settings: Settings
    belief: Belief
    undercoats: Shelf
    counts: Counts
    film: FilmShown


def pick(  # noqa: PLR0913 - the last are given by name
    topcoat: Topcoat,
    undercoats: Shelf,
    settings: Settings | None = None,
    *,
    blends: Shelf = (),
    paints: Paints | None = None,
    seen: Sequence[Seen] = (),
    loading: Loading | None = None,
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
        Blends that may be mixed; the best is named where it saves a coat.
    paints : Paints, optional
        What a test card or a photo says the paint is; worked out from the colour
        unless given.
    seen : sequence of Seen
        What the shop has seen of the paint, oldest first; the newest
        :data:`shadecore.coats.evidence.MOST_OF_A_COLOUR` count.
    loading : Loading, optional
        How heavily such paints are loaded; :func:`default_loading` unless given.
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
    check_shelf(undercoats)
    if paints is None:
        paints = likely_paints(topcoat, library or recipe_library())
    records = resolved(seen, settings)
    before = first_belief(paints, loading or default_loading())
    belief = after(before, records, settings)
    counts = count_over(belief, undercoats, settings)
    lightness = np.array([topcoat.lab[0]])
    order = [int(place) for place in rank(counts, lightness, undercoats)[0]]
    closest = int(closest_in_lightness(lightness, undercoats)[0])
    shelf = tuple(undercoats[place] for place in order)
    solved = _solve(topcoat, belief, shelf, settings)
    outlooks = _outlooks(solved)
    best = outlooks[0]
    without = count_over(before, shelf[:1], settings)
    return Answer(
        topcoat=topcoat,
        settings=settings,
        outlooks=outlooks,
        recommended=best,
        closest=outlooks[order.index(closest)],
        hiding=_hiding(belief, settings),
        bands=_bands(solved),
        nearest_recipe=paints.nearest,
        basis=paints.basis,
        paints=paints,
        belief=belief,
        film=solved.film,
        poor_chance=float(solved.counts.beyond(settings.coats_allowed)[0, 0]),
        without_records=count_of(without, 0),
        rests_on=rests_on(before, records, shelf[0], settings),
        mix=_mix(topcoat, belief, blends, settings, best),
        left_out=len(seen) - len(records),
    )


def count_of(counts: Counts, place: int) -> Count:
    """One undercoat's count of one colour.

    Parameters
    ----------
    counts : Counts
        For one colour.
    place : int
        Which undercoat.

    Returns
    -------
    Count
    """
    coats, low, high = (
        int(each[0, place]) if each[0, place] <= counts.cap else None
        for each in (counts.coats, counts.low, counts.high)
    )
    return Count(coats, low, high, tuple(map(float, counts.chance[0, place])))


def outlook_over(found: Answer, undercoat: Undercoat) -> Outlook:
    """What an undercoat off the shelf does under an answered topcoat.

    Parameters
    ----------
    found : Answer
        The answer; what the shop has seen of the paint counts here, too.
    undercoat : Undercoat
        The undercoat, such as the finish that is there.

    Returns
    -------
    Outlook
    """
    return _outlooks(_solve(found.topcoat, found.belief, (undercoat,), found.settings))[
        0
    ]


def _solve(
    topcoat: Topcoat, belief: Belief, undercoats: Shelf, settings: Settings
) -> _Solved:
    counts = count_over(belief, undercoats, settings)
    film = film_shown(topcoat, belief, undercoats, counts, settings)
    return _Solved(topcoat, settings, belief, undercoats, counts, film)


def _mix(
    topcoat: Topcoat,
    belief: Belief,
    blends: Shelf,
    settings: Settings,
    best: Outlook,
) -> Outlook | None:
    """The blend that hides soonest, if it takes a coat less than the shelf's best."""
    if not blends:
        return None
    counts = count_over(belief, blends, settings)
    first = int(rank(counts, np.array([topcoat.lab[0]]), blends)[0, 0])
    fewest = settings.coat_cap + 1 if best.coats is None else best.coats
    if counts.coats[0, first] >= fewest:
        return None
    return _outlooks(_solve(topcoat, belief, (blends[first],), settings))[0]


def _outlooks(solved: _Solved) -> tuple[Outlook, ...]:
    return tuple(
        _outlook(place, each, solved) for place, each in enumerate(solved.undercoats)
    )


def _outlook(place: int, undercoat: Undercoat, solved: _Solved) -> Outlook:
    """Gather what one undercoat does."""
    topcoat, settings, counts, film = (
        solved.topcoat,
        solved.settings,
        solved.counts,
        solved.film,
    )
    count = count_of(counts, place)
    coats = count.coats
    paints = solved.belief.paints
    lab = film.lab[place, :, face(paints)]
    apart = film.difference[place]
    before = max((coats or settings.coat_cap) - 2, 0)
    return Outlook(
        undercoat=undercoat,
        count=count,
        coats_average=float(counts.average[0, place]),
        difference=tuple(map(float, apart.max(axis=-1))),
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
        last_angle=float(paints.angles[int(np.argmax(apart[before]))]),
    )


def _hiding(belief: Belief, settings: Settings) -> Hiding:
    low, middle, high = contrast_interval(belief, settings.hiding_film_um)
    return Hiding(
        middle, low, high, settings.hiding_film_um, str(rating(np.array(middle)))
    )


def _bands(solved: _Solved) -> Bands:
    paint = solved.film.paint
    if not isinstance(paint, LikelyPaints):
        return Bands((), ())
    return bands(paint, solved.film.films_um(0, solved.settings))


def bands(paint: LikelyPaints, films_um: np.ndarray) -> Bands:
    """Where in the spectrum one paint's film is closed.

    Parameters
    ----------
    paint : LikelyPaints
        One paint.
    films_um : array, shape (films,)
        Dry films at the paint's own loading. [um]

    Returns
    -------
    Bands
    """
    terms = paint.model.terms(
        paint.absorption, paint.scattering, films_um.astype(np.float32)
    )
    white = directional().inside(_LIGHT_UNDERCOAT)
    rise = (terms.over(white) - terms.over_black)[0] / _LIGHT_UNDERCOAT
    return Bands(
        full=tuple(map(float, paint.full_reflectance()[0])),
        see_through=tuple(tuple(map(float, coat)) for coat in rise),
    )
