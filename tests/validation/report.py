"""The engine against simulated paints, beside the lightness rule.

Run it by ``python -m validation`` from ``tests``. Everything it prints is simulated:
the paints, their films and the readings.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shadecore import CoatFilm, Settings, undercoat
from shadecore.coats.answer import Picks
from shadecore.coats.pick_many import pick_many
from shadecore.recipes.library import RecipeLibrary

from .paints import draw_paints
from .scoring import (
    CountScore,
    PickScore,
    closest_in_lightness,
    of_pick,
    score_counts,
    score_picks,
)
from .truth import NINE_GREYS, Truth, grey_reflectance, simulate

FILM_UM = 10.0
CAP = 20
SIMULATED_COATS = 25
TOLERANCES = (1.0, 2.0)


@dataclass(frozen=True)
class Validation:
    """How the engine did at one tolerance.

    Attributes
    ----------
    tolerance : float
        CIEDE2000 that counts as hidden.
    engine, lightness : PickScore
        Picks of the engine and of the lightness rule.
    pick_counts, all_counts : CountScore
        Counts for the picked grey and for every grey.
    """

    tolerance: float
    engine: PickScore
    lightness: PickScore
    pick_counts: CountScore
    all_counts: CountScore


def simulated_truth(paints: int, seed: int) -> dict[str, Truth]:
    """Simulate paints over the nine greys.

    Parameters
    ----------
    paints : int
        How many.
    seed : int
        Of the draw.

    Returns
    -------
    dict of str to Truth
        By measuring geometry.
    """
    drawn = draw_paints(paints, np.random.default_rng(seed))
    solved = simulate(drawn, grey_reflectance(NINE_GREYS), FILM_UM, SIMULATED_COATS)
    return {str(geometry): truth for geometry, truth in solved.items()}


def validate(
    truth: Truth, tolerance: float, library: RecipeLibrary | None = None
) -> Validation:
    """Let the engine pick for simulated paints and score it.

    Parameters
    ----------
    truth : Truth
        The paints over the nine greys.
    tolerance : float
        CIEDE2000 that counts as hidden.
    library : RecipeLibrary, optional
        Recipes to answer from; the engine's own unless given.

    Returns
    -------
    Validation
    """
    shelf = tuple(
        undercoat(f"grey L* {lightness:g}", (float(lightness), 0.0, 0.0))
        for lightness in NINE_GREYS
    )
    settings = Settings(tolerance=tolerance, film=CoatFilm(FILM_UM), coat_cap=CAP)
    picks = pick_many(truth.hidden, shelf, settings, library)
    true_coats = truth.coats_to_hide(tolerance, CAP)
    by_lightness = closest_in_lightness(truth.hidden[:, 0], NINE_GREYS)
    return Validation(
        tolerance,
        score_picks(true_coats, picks.recommended),
        score_picks(true_coats, by_lightness),
        _score(true_coats, picks, picks.recommended),
        _score(true_coats, picks, None),
    )


def _score(
    true_coats: NDArray[np.integer], picks: Picks, pick: NDArray[np.intp] | None
) -> CountScore:
    tables = (true_coats, picks.counts.coats, picks.counts.low, picks.counts.high)
    if pick is not None:
        tables = tuple(of_pick(table, pick) for table in tables)  # type: ignore[assignment]
    true, predicted, low, high = tables
    return score_counts(true, predicted, low, high, CAP)


def lines(results: dict[str, list[Validation]]) -> list[str]:
    """Write results as a table.

    Parameters
    ----------
    results : dict of str to list of Validation
        By measuring geometry.

    Returns
    -------
    list of str
    """
    out = [
        "geometry   dE00  rule          regret  within 1  counts +-1  holds  width",
    ]
    for geometry, validations in results.items():
        for each in validations:
            start = f"{geometry:<9}  {each.tolerance:<4g}"
            out += [
                f"{start}  lightness   {_picks(each.lightness)}",
                f"{start}  shadecore   {_picks(each.engine)}  "
                + _counts(each.pick_counts),
                f"{start}  every grey  {'':16}  {_counts(each.all_counts)}",
            ]
    return out


def _picks(score: PickScore) -> str:
    return f"{score.mean_regret:6.2f}  {score.within_one:8.1%}"


def _counts(score: CountScore) -> str:
    return f"{score.within_one:10.1%}  {score.coverage:5.1%}  {score.width:5.1f}"
