"""The engine with a test card, on simulated cards.

Cards are sprayed and read by the simulator: 0.3 CIEDE2000 of noise, and a film that
is 10 % off what was stated, the same for the whole card.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shadecore.card.fit import fit_card
from shadecore.card.reading import Card, Step
from shadecore.coats.belief import count_over
from shadecore.coats.count import Counts, join_counts, rank
from shadecore.coats.evidence import believe
from shadecore.coats.settings import Settings
from shadecore.colour.topcoat import Topcoat
from shadecore.film.build import CoatFilm
from shadecore.recipes.library import RecipeLibrary, recipe_library
from shadecore.undercoats.shelf import Shelf, undercoat

from .cards import Card as SimulatedCard
from .cards import CardReadings, spray_cards
from .paints import Paints
from .report import CAP, FILM_UM
from .scoring import CountScore, PickScore, of_pick, score_counts, score_picks
from .truth import NINE_GREYS, Truth

Lab = tuple[float, float, float]


@dataclass(frozen=True)
class CardValidation:
    """How the engine did with cards, at one tolerance.

    Attributes
    ----------
    tolerance : float
        CIEDE2000 that counts as hidden.
    picks : PickScore
        Picks.
    pick_counts, all_counts : CountScore
        Counts for the picked grey and for every grey.
    """

    tolerance: float
    picks: PickScore
    pick_counts: CountScore
    all_counts: CountScore


def nine_greys() -> Shelf:
    """The nine greys as a shelf.

    Returns
    -------
    tuple of Undercoat
    """
    return tuple(
        undercoat(f"grey L* {lightness:g}", (float(lightness), 0.0, 0.0))
        for lightness in NINE_GREYS
    )


def validate_cards(
    paints: Paints,
    truth: Truth,
    tolerances: tuple[float, ...],
    rng: np.random.Generator,
    simulated: SimulatedCard,
) -> list[CardValidation]:
    """Read a simulated card of each paint and let the engine count with it.

    Parameters
    ----------
    paints : Paints
        The paints.
    truth : Truth
        The same paints over the nine greys, read at 45/0.
    tolerances : tuple of float
        CIEDE2000 values that count as hidden.
    rng : numpy.random.Generator
        Of noise and film error.
    simulated : Card
        How the cards are sprayed and read.

    Returns
    -------
    list of CardValidation
        One for each tolerance.
    """
    readings = spray_cards(paints, rng, simulated)
    library, shelf = recipe_library(), nine_greys()
    counts: dict[float, list[Counts]] = {each: [] for each in tolerances}
    for place in range(len(readings.hidden)):
        fit = fit_card(
            Topcoat(_lab(readings.hidden[place]), "simulated"),
            Card(_steps(readings, place, simulated), simulated.black, simulated.white),
            FILM_UM,
            library,
            simulated.film_error,
        )
        for tolerance in tolerances:
            settings = Settings(tolerance, CoatFilm(FILM_UM), CAP)
            counts[tolerance].append(
                count_over(believe(fit.paints, settings), shelf, settings)
            )
    return [
        _score(join_counts(counts[tolerance]), truth, tolerance, shelf)
        for tolerance in tolerances
    ]


def _score(
    counts: Counts, truth: Truth, tolerance: float, shelf: Shelf
) -> CardValidation:
    true_coats = truth.coats_to_hide(tolerance, CAP)
    pick = rank(counts, truth.hidden[:, 0], shelf)[:, 0]
    tables: tuple[NDArray[np.integer], ...] = (
        true_coats,
        counts.coats,
        counts.low,
        counts.high,
    )
    picked = tuple(of_pick(table, pick) for table in tables)
    return CardValidation(
        tolerance,
        score_picks(true_coats, pick),
        score_counts(*picked, CAP),  # type: ignore[call-arg, arg-type]
        score_counts(*tables, CAP),  # type: ignore[call-arg, arg-type]
    )


def _steps(
    readings: CardReadings, place: int, simulated: SimulatedCard
) -> tuple[Step, ...]:
    return tuple(
        Step(
            coats,
            _lab(readings.over_black[place, i]),
            _lab(readings.over_white[place, i]),
        )
        for i, coats in enumerate(simulated.coats)
    )


def _lab(values: NDArray[np.floating]) -> Lab:
    return float(values[0]), float(values[1]), float(values[2])


def library_without(family: str) -> RecipeLibrary:
    """The engine's library with one family of colorants taken out.

    Parameters
    ----------
    family : str
        Name of the family.

    Returns
    -------
    RecipeLibrary
    """
    from shadecore.recipes.draw import draw_recipes  # noqa: PLC0415
    from shadecore.recipes.families import chromatic_families  # noqa: PLC0415
    from shadecore.recipes.library import LIBRARY_SEED, LIBRARY_SIZE  # noqa: PLC0415

    kept = tuple(name for name in chromatic_families() if name != family)
    rng = np.random.default_rng(LIBRARY_SEED)
    return RecipeLibrary(draw_recipes(LIBRARY_SIZE, rng, kept), recipe_library().model)
