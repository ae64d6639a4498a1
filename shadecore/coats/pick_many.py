"""Answers for many topcoats at once, as arrays."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import fields
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shadecore.coats.answer import Picks
from shadecore.coats.belief import Belief, count_over, first_belief
from shadecore.coats.contrast import ratios_at
from shadecore.coats.count import (
    INTERVAL,
    MIDDLE,
    Counts,
    closest_in_lightness,
    count_coats,
    counts_from_chance,
    join_counts,
    rank,
    weighted_quantile,
)
from shadecore.coats.estimate import library_paints
from shadecore.coats.evidence import after, newest
from shadecore.coats.grey_table import contrast_table, grey_table
from shadecore.coats.hiding import contrast_interval
from shadecore.coats.loading import Loading, default_loading, likely_loadings
from shadecore.coats.over import ln_thickness_of_recipes
from shadecore.coats.seen import Seen
from shadecore.coats.settings import Settings
from shadecore.colour.convert import lab_from_lab
from shadecore.errors import ColourError
from shadecore.recipes.library import Neighbours, RecipeLibrary, recipe_library
from shadecore.undercoats.shelf import Shelf, Views, check_shelf, inside_views

Array = NDArray[np.floating]

_RECIPES_AT_ONCE = 4096
"""Recipes solved between two reports of progress."""
_COLOURS_AT_ONCE = 256
"""Colours counted together: their chances stay within some 20 MB."""
_ROWS_OF_COORDINATES: Final = 2


def pick_many(  # noqa: PLR0913 - the last are given by name
    lab: ArrayLike,
    undercoats: Shelf,
    settings: Settings | None = None,
    library: RecipeLibrary | None = None,
    progress: Callable[[float], None] | None = None,
    *,
    seen: Mapping[int, Sequence[Seen]] | None = None,
    loading: Loading | None = None,
) -> Picks:
    """Pick undercoats for many topcoats known by their Lab.

    Parameters
    ----------
    lab : array, shape (colours, 3)
        L*, a*, b* under the working condition.
    undercoats : tuple of Undercoat
        What to choose from.
    settings : Settings, optional
        Tolerance, film and limits.
    library : RecipeLibrary, optional
        Plausible recipes.
    progress : callable, optional
        Called with the share done, 0..1.
    seen : mapping of int to sequence of Seen, optional
        What the shop has seen of some of the colours, by their row, oldest first; of
        each the newest :data:`shadecore.coats.evidence.MOST_OF_A_COLOUR` count.
    loading : Loading, optional
        How heavily such paints are loaded; :func:`default_loading` unless given.

    Returns
    -------
    Picks

    Raises
    ------
    ColourError
        If they are not such an array of colours.
    ShelfError
        If the shelf is empty or two undercoats share a name.
    """
    settings = settings or Settings()
    colours = lab_from_lab(lab)
    if colours.ndim != _ROWS_OF_COORDINATES or not len(colours):
        message = "Give colours as rows of L*, a* and b*, at least one."
        raise ColourError(message)
    chart = _Chart(
        check_shelf(undercoats),
        settings,
        loading or default_loading(),
        library or recipe_library(),
    )
    near = chart.library.near(colours)
    solved = _solve_recipes(near, chart, progress)
    counted = [_count(near, solved, rows, chart) for rows in _blocks(len(colours))]
    counts = join_counts([each[0] for each in counted])
    contrast = np.concatenate([each[1] for each in counted])
    for row, records in (seen or {}).items():
        _with_records(row, records, near, chart, (counts, contrast))
    lightness = colours[:, 0]
    order = rank(counts, lightness, undercoats)
    poor = counts.beyond(settings.coats_allowed)
    return Picks(
        counts=counts,
        order=order,
        closest=closest_in_lightness(lightness, undercoats),
        contrast_ratio=contrast[:, 1],
        contrast_low=contrast[:, 0],
        contrast_high=contrast[:, 2],
        poor_chance=np.take_along_axis(poor, order[:, :1], axis=1)[:, 0],
        nearest=near.nearest,
    )


class _Chart(NamedTuple):
    """What is the same for all colours."""

    shelf: Shelf
    settings: Settings
    loading: Loading
    library: RecipeLibrary


class _Recipes(NamedTuple):
    """Recipes solved once, however many colours each stands for.

    Attributes
    ----------
    place : array of int, shape (colours, neighbours)
        Where each colour's neighbours are among them.
    ln_film : array, shape (recipes, views)
        Logarithms of their hiding thicknesses.
    contrast : array, shape (recipes, loadings)
        Contrast ratios at the stated film, lightly to heavily loaded.
    part : array, shape (loadings,)
        Weights of these loadings.
    views : Views
        The undercoats.
    """

    place: NDArray[np.intp]
    ln_film: NDArray[np.float32]
    contrast: NDArray[np.float32]
    part: NDArray[np.float64]
    views: Views


def _solve_recipes(
    near: Neighbours, chart: _Chart, progress: Callable[[float], None] | None
) -> _Recipes:
    used, place = np.unique(near.index, return_inverse=True)
    views = inside_views(chart.shelf)
    loadings, part = likely_loadings(chart.loading.mean, chart.loading.spread)
    ln_films = np.log(chart.settings.hiding_film_um) + loadings
    ln_film = np.empty((used.size, len(views.backing)), dtype=np.float32)
    contrast = np.empty((used.size, loadings.size), dtype=np.float32)
    for start in range(0, used.size, _RECIPES_AT_ONCE):
        rows = slice(start, start + _RECIPES_AT_ONCE)
        ln_film[rows] = ln_thickness_of_recipes(
            chart.library, used[rows], views.backing, chart.settings.tolerance
        )
        ratios = contrast_table(chart.library).of(used[rows])
        contrast[rows] = ratios_at(ratios, ln_films)
        if progress is not None:
            progress(min(start + _RECIPES_AT_ONCE, used.size) / used.size)
    grey_table(chart.library, chart.settings.tolerance).keep()
    contrast_table(chart.library).keep()
    return _Recipes(place.reshape(near.index.shape), ln_film, contrast, part, views)


def _blocks(size: int) -> list[slice]:
    starts = range(0, size, _COLOURS_AT_ONCE)
    return [slice(start, start + _COLOURS_AT_ONCE) for start in starts]


def _count(
    near: Neighbours, solved: _Recipes, rows: slice, chart: _Chart
) -> tuple[Counts, Array]:
    """Counts of some colours, and their contrast ratios with the interval's ends."""
    place, weight = solved.place[rows], near.weight[rows]
    counts = count_coats(
        solved.ln_film[place] - np.float32(chart.loading.mean),
        weight,
        chart.loading.spread,
        chart.settings.films_um,
    )
    chance = np.swapaxes(solved.views.mean(np.swapaxes(counts.chance, 1, 2)), 1, 2)
    counts = counts_from_chance(chance, solved.views.mean(counts.ln_film))
    ratios = solved.contrast[place].reshape(len(weight), -1)
    parts = (weight[..., None] * solved.part).reshape(len(weight), -1)
    tail = (1.0 - INTERVAL) / 2.0
    contrast = [
        weighted_quantile(ratios, parts, share) for share in (tail, MIDDLE, 1.0 - tail)
    ]
    return counts, np.stack(contrast, axis=1)


def _with_records(
    row: int,
    records: Sequence[Seen],
    near: Neighbours,
    chart: _Chart,
    found: tuple[Counts, Array],
) -> None:
    """Count one colour again, with what was seen of it."""
    paints = library_paints(
        chart.library, near.index[row], near.weight[row], float(near.nearest[row])
    )
    before = first_belief(paints, chart.loading)
    belief: Belief = after(before, newest(records), chart.settings)
    counts = count_over(belief, chart.shelf, chart.settings)
    for each in fields(Counts):
        getattr(found[0], each.name)[row] = getattr(counts, each.name)[0]
    found[1][row] = contrast_interval(belief, chart.settings.hiding_film_um)
