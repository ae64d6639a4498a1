"""The engine on real oil paints: picks by colour, by spectrum and by a test card.

Their films are taken as five coats, so which grey hides in the fewest can be judged;
how many coats that is, cannot.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.stats import spearmanr

from shadecore import CoatFilm, Settings, Topcoat
from shadecore.card.fit import fit_card
from shadecore.card.reading import Card, Step
from shadecore.coats.answer import Answer
from shadecore.coats.pick import pick
from shadecore.coats.pick_many import pick_many
from shadecore.recipes.library import RecipeLibrary

from .card_report import nine_greys
from .cards import Card as SimulatedCard
from .cards import spray_cards
from .oil_paints import COATS_ON_CARD, fitted_paints, oil_paints
from .scoring import PickScore, closest_in_lightness, score_picks
from .transport import solve
from .truth import (
    HIDING_THICKNESS,
    NINE_GREYS,
    Truth,
    _weights,
    grey_reflectance,
    simulate,
)

CAP = 12
FILM_UM = 10.0
SIMULATED_COATS = 25
CARD_SEED = 12


@dataclass(frozen=True)
class RealPicks:
    """How picks did on the real paints, at one tolerance.

    Attributes
    ----------
    tolerance : float
        CIEDE2000 that counts as hidden.
    scores : dict of str to PickScore
        By what the engine was told.
    too_light, too_dark : int
        Picks from the colour alone that cost a coat or more and are lighter or darker
        than the best grey.
    """

    tolerance: float
    scores: dict[str, PickScore]
    too_light: int
    too_dark: int


def real_truth() -> Truth:
    """The oil paints over the nine greys.

    Returns
    -------
    Truth
    """
    greys = grey_reflectance(NINE_GREYS)
    return simulate(fitted_paints(), greys, FILM_UM, SIMULATED_COATS)["45/0"]


def validate_real(
    truth: Truth, tolerance: float, library: RecipeLibrary | None = None
) -> RealPicks:
    """Let the engine pick for the real paints.

    Parameters
    ----------
    truth : Truth
        As :func:`real_truth` gives it.
    tolerance : float
        CIEDE2000 that counts as hidden.
    library : RecipeLibrary, optional
        Recipes to answer from; the engine's own unless given.

    Returns
    -------
    RealPicks
    """
    settings = Settings(tolerance=tolerance, film=CoatFilm(FILM_UM), coat_cap=CAP)
    shelf = nine_greys()
    coats = truth.coats_to_hide(tolerance, CAP)
    by_colour = pick_many(truth.hidden, shelf, settings, library).recommended
    told = {
        "closest in lightness": closest_in_lightness(truth.hidden[:, 0], NINE_GREYS),
        "colour": by_colour,
        "spectrum": _places(_by_spectrum(truth, settings, library)),
        "card, two coats": _places(_by_card(settings, library)),
    }
    lost = coats[np.arange(len(coats)), by_colour] - coats.min(axis=1)
    lightness = np.array(NINE_GREYS)
    best = [lightness[row == row.min()] for row in coats]
    picked = lightness[by_colour]
    lighter = sum(
        bool(cost > 0 and own > greys.max())
        for cost, own, greys in zip(lost, picked, best, strict=True)
    )
    darker = sum(
        bool(cost > 0 and own < greys.min())
        for cost, own, greys in zip(lost, picked, best, strict=True)
    )
    return RealPicks(
        tolerance,
        {name: score_picks(coats, each) for name, each in told.items()},
        lighter,
        darker,
    )


def _full_reflectance() -> NDArray[np.float64]:
    paints = fitted_paints()
    film = solve(paints.absorption, paints.scattering, [HIDING_THICKNESS])["45/0"]
    return np.asarray(film.black[..., 0])


def _topcoat(lab: NDArray[np.float64], spectrum: NDArray[np.float64]) -> Topcoat:
    own = (float(lab[0]), float(lab[1]), float(lab[2]))
    return Topcoat(own, "real paint", tuple(map(float, spectrum)))


def _by_spectrum(
    truth: Truth, settings: Settings, library: RecipeLibrary | None
) -> list[Answer]:
    return [
        pick(_topcoat(lab, spectrum), nine_greys(), settings, library=library)
        for lab, spectrum in zip(truth.hidden, _full_reflectance(), strict=True)
    ]


def _by_card(settings: Settings, library: RecipeLibrary | None) -> list[Answer]:
    simulated = SimulatedCard()
    rng = np.random.default_rng(CARD_SEED)
    read = spray_cards(fitted_paints(), rng, simulated)
    answers = []
    for place in range(len(read.hidden)):
        hidden, black, white = (
            (float(each[0]), float(each[1]), float(each[2]))
            for each in (
                read.hidden[place],
                read.over_black[place, 0],
                read.over_white[place, 0],
            )
        )
        topcoat = Topcoat(hidden, "real paint")
        card = Card(
            (Step(simulated.coats[0], black, white),), simulated.black, simulated.white
        )
        fit = fit_card(topcoat, card, FILM_UM, library)
        answers.append(pick(topcoat, nine_greys(), settings, paints=fit.paints))
    return answers


def _places(answers: list[Answer]) -> NDArray[np.intp]:
    names = [each.name for each in nine_greys()]
    return np.array([names.index(each.recommended.undercoat.name) for each in answers])


@dataclass(frozen=True)
class HidingFlag:
    """What is said of hiding from the colour alone, and what was read.

    Attributes
    ----------
    rank_correlation : float
        Between the contrast ratio told and the one read.
    said, poor, right : int
        Paints flagged as hiding poorly; paints that do; flags that agree with the
        paint, of all.
    paints : int
        All of them.
    """

    rank_correlation: float
    said: int
    poor: int
    right: int
    paints: int


def hiding_flags(truth: Truth, tolerance: float) -> HidingFlag:
    """Compare the flag of poor hiding with the paints.

    Parameters
    ----------
    truth : Truth
        As :func:`real_truth` gives it.
    tolerance : float
        CIEDE2000 that counts as hidden.

    Returns
    -------
    HidingFlag
    """
    settings = Settings(tolerance=tolerance, film=CoatFilm(FILM_UM), coat_cap=CAP)
    picks = pick_many(truth.hidden, nine_greys(), settings)
    read = oil_paints()
    luminance = _weights()[:, 1]
    measured = (read.over_black @ luminance) / (read.over_white @ luminance)
    rank = spearmanr(picks.contrast_ratio, measured).statistic
    said = picks.poor_chance >= 0.5
    poor = truth.coats_to_hide(tolerance, CAP).min(axis=1) > settings.usual_coats
    return HidingFlag(
        float(rank),
        int(said.sum()),
        int(poor.sum()),
        int((said == poor).sum()),
        len(poor),
    )


def real_lines(results: list[RealPicks], flags: list[HidingFlag]) -> list[str]:
    """Write results as a table.

    Parameters
    ----------
    results : list of RealPicks
        One for each tolerance.
    flags : list of HidingFlag
        Likewise.

    Returns
    -------
    list of str
    """
    out = [
        f"films taken as {COATS_ON_CARD} coats",
        "dE00  told                  regret  best  within 1",
    ]
    for each in results:
        out += [
            f"{each.tolerance:<4g}  {name:<20}  {score.mean_regret:6.2f}  "
            f"{score.best:4.0%}  {score.within_one:8.0%}"
            for name, score in each.scores.items()
        ]
        out.append(
            f"{each.tolerance:<4g}  wrong from colour: {each.too_light} too light, "
            f"{each.too_dark} too dark"
        )
    for each, flag in zip(results, flags, strict=True):
        out.append(
            f"{each.tolerance:<4g}  poor hiding said of {flag.said} of {flag.paints}, "
            f"true of {flag.poor}, right for {flag.right}; contrast ratio from colour "
            f"ranks at {flag.rank_correlation:.2f}"
        )
    return out
