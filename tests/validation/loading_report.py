"""Simulated paints of unknown loading, with and without records.

Each paint is drawn as ever and then loaded with half to five times the pigment, evenly
in the logarithm. A record is what a painter says of one job with it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from shadecore import CoatFilm, Settings
from shadecore.coats.answer import Picks
from shadecore.coats.pick_many import pick_many
from shadecore.coats.seen import Seen

from .card_report import nine_greys
from .paints import Paints, draw_paints
from .scoring import CountScore, PickScore, of_pick, score_counts, score_picks
from .truth import NINE_GREYS, Truth, grey_reflectance, simulate

LOADINGS = (0.5, 5.0)
FILM_UM = 10.0
CAP = 12
SIMULATED_COATS = 25
WHITE = 1
"""Place of the grey that counts as a white sealer, L* 90."""
RECORDS = ("nothing", "over white", "over any grey", "looked at the end")


@dataclass(frozen=True)
class LoadingValidation:
    """How the engine did at one tolerance with one kind of record.

    Attributes
    ----------
    tolerance : float
        CIEDE2000 that counts as hidden.
    record : str
        What the painter said.
    picks : PickScore
        Picks.
    pick_counts : CountScore
        Counts for the picked grey.
    """

    tolerance: float
    record: str
    picks: PickScore
    pick_counts: CountScore


def load_paints(count: int, seed: int) -> Paints:
    """Draw paints of unknown loading.

    Parameters
    ----------
    count : int
        How many.
    seed : int
        Of the draw.

    Returns
    -------
    Paints
    """
    rng = np.random.default_rng(seed)
    drawn = draw_paints(count, rng)
    factor = np.exp(rng.uniform(*np.log(LOADINGS), (count, 1)))
    return replace(
        drawn,
        absorption=drawn.absorption * factor,
        scattering=drawn.scattering * factor,
    )


def validate_loading(
    truth: Truth, tolerance: float, record: str, seed: int
) -> LoadingValidation:
    """Let the engine pick with one record a paint.

    Parameters
    ----------
    truth : Truth
        The paints over the nine greys.
    tolerance : float
        CIEDE2000 that counts as hidden.
    record : str
        One of ``RECORDS``.
    seed : int
        Of the painters' errors.

    Returns
    -------
    LoadingValidation
    """
    settings = Settings(tolerance=tolerance, film=CoatFilm(FILM_UM), coat_cap=CAP)
    coats = truth.coats_to_hide(tolerance, CAP)
    plain = pick_many(truth.hidden, nine_greys(), settings)
    seen = _records(record, coats, plain, np.random.default_rng(seed))
    picks = (
        plain
        if not seen
        else pick_many(truth.hidden, nine_greys(), settings, seen=seen)
    )
    tables = (coats, picks.counts.coats, picks.counts.low, picks.counts.high)
    own = tuple(of_pick(each, picks.recommended) for each in tables)
    return LoadingValidation(
        tolerance,
        record,
        score_picks(coats, picks.recommended),
        score_counts(*own, CAP),  # type: ignore[call-arg, arg-type]
    )


def _records(
    record: str, coats: NDArray[np.int64], plain: Picks, rng: np.random.Generator
) -> dict[int, tuple[Seen, ...]]:
    """What each paint's painter says; a count is a coat off at random."""
    if record == "nothing":
        return {}
    shelf = nine_greys()
    seen = {}
    for row, own in enumerate(coats):
        if record == "looked at the end":
            place = int(plain.recommended[row])
            planned = int(min(plain.counts.coats[row, place], CAP))
            hid = bool(own[place] <= planned)
            seen[row] = Seen(
                "job", 1, planned, hid=hid, undercoat=shelf[place], looked=False
            )
            continue
        place = WHITE if record == "over white" else int(rng.integers(len(NINE_GREYS)))
        said = int(np.clip(own[place] + rng.integers(-1, 2), 1, CAP + 1))
        if said > CAP:
            seen[row] = Seen("job", CAP, CAP, hid=False, undercoat=shelf[place])
        else:
            seen[row] = Seen("job", said, said, undercoat=shelf[place])
    return {row: (each,) for row, each in seen.items()}


def loading_truth(count: int, seed: int) -> Truth:
    """Paints of unknown loading over the nine greys, read at 45/0.

    Parameters
    ----------
    count : int
        How many.
    seed : int
        Of the draw.

    Returns
    -------
    Truth
    """
    greys = grey_reflectance(NINE_GREYS)
    return simulate(load_paints(count, seed), greys, FILM_UM, SIMULATED_COATS)["45/0"]


def loading_lines(results: list[LoadingValidation]) -> list[str]:
    """Write results as a table.

    Parameters
    ----------
    results : list of LoadingValidation
        In the order to print.

    Returns
    -------
    list of str
    """
    out = ["dE00  record             regret  within 1  counts +-1  holds  width  bias"]
    for each in results:
        counts = each.pick_counts
        out.append(
            f"{each.tolerance:<4g}  {each.record:<17}  {each.picks.mean_regret:6.2f}  "
            f"{each.picks.within_one:8.1%}  {counts.within_one:10.1%}  "
            f"{counts.coverage:5.1%}  {counts.width:5.1f}  {counts.bias:+5.2f}"
        )
    return out
