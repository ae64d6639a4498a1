"""What records say of a paint and its loading: their likelihood."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.belief import Belief, first_belief
from shadecore.coats.chart import black_and_white
from shadecore.coats.grey_table import inside_greys
from shadecore.coats.loading import Loading, default_loading
from shadecore.coats.normal import normal_cdf
from shadecore.coats.over import ln_thickness_over
from shadecore.coats.paints import Paints
from shadecore.coats.seen import Seen, Source
from shadecore.coats.settings import TOLERANCES, Settings
from shadecore.undercoats.shelf import inside_views

Array = NDArray[np.floating]

EYE_TOLERANCE: Final = TOLERANCES["beside-old-panel"][0]
"""Difference that the eye just notices edge to edge: a rule of thumb, common practice,
no source; light, size, edge and training move it. [CIEDE2000]"""

BLUR_COATS: Final[dict[str, float]] = {"data-sheet": 1.0, "job": 0.8, "check": 0.8}
"""Standard deviation of a record's error: somebody counts a coat more or less, and a
data sheet was written for another gun. This tool's own judgement. [coats]"""
BLUR_SHARE: Final = 0.15
"""Part of the coats that the film differs by from job to job; this tool's own."""
WORTHLESS: Final[dict[Source, float]] = {"data-sheet": 0.1, "job": 0.02, "check": 0.02}
"""Chance that a record says nothing of this paint: it was another colour or another
gun, or the data sheet flatters. This tool's own judgement."""

_MOST_LN_COATS: Final = 10.0

_SUITABLE_GREYS: Final = np.arange(25.0, 96.0, 10.0)
"""L* of the greys that a data sheet may have meant."""
_SUITABLE_WITHIN: Final = float(np.log(1.25))
"""A grey suits that needs at most a quarter more film than the best."""

MOST_OF_A_COLOUR: Final = 200
"""Records of one colour: more say hardly more, and each takes a while to work out."""


def newest(seen: Sequence[Seen]) -> tuple[Seen, ...]:
    """Records that count where there are more than are worked out.

    Parameters
    ----------
    seen : sequence of Seen
        The records, oldest first.

    Returns
    -------
    tuple of Seen
        The last ``MOST_OF_A_COLOUR`` of them.
    """
    return tuple(seen[-MOST_OF_A_COLOUR:])


def resolved(seen: Sequence[Seen], settings: Settings) -> tuple[Seen, ...]:
    """Records that count, with the question's film and tolerance where they have none.

    Parameters
    ----------
    seen : sequence of Seen
        The records, oldest first.
    settings : Settings
        The question's.

    Returns
    -------
    tuple of Seen
        The newest ``MOST_OF_A_COLOUR`` at most.
    """
    return tuple(
        replace(
            one,
            film_um=one.film_um or settings.film.dry_film_um,
            tolerance=one.tolerance
            or (EYE_TOLERANCE if one.source == "check" else settings.tolerance),
        )
        for one in newest(seen)
    )


def likelihood(record: Seen, belief: Belief, settings: Settings) -> Array:
    """Chance of a record from each paint at each loading.

    Parameters
    ----------
    record : Seen
        What was seen.
    belief : Belief
        Paints and loadings, spread out.
    settings : Settings
        Film and tolerance where the record has none.

    Returns
    -------
    array, shape (paints, loadings)
        From the chance that the record is worthless up to 1.
    """
    worthless = WORTHLESS[record.source]
    agrees = agreement(record, belief, settings)
    return np.asarray(worthless + (1.0 - worthless) * agrees)


def agreement(record: Seen, belief: Belief, settings: Settings) -> Array:
    """Chance of a record from each paint at each loading, if it can be relied on.

    Parameters
    ----------
    record : Seen
        What was seen.
    belief : Belief
        Paints and loadings, spread out.
    settings : Settings
        Film and tolerance where the record has none.

    Returns
    -------
    array, shape (paints, loadings)
    """
    (record,) = resolved((record,), settings)
    ln_film, part = hiding_films(record, belief.paints)
    ln_coats = ln_film[..., None] - belief.ln_loading - np.log(record.film_um or 1.0)
    coats = np.exp(np.minimum(ln_coats, _MOST_LN_COATS))
    return np.asarray(np.einsum("u,pul->pl", part, _of_coats(record, coats)))


def _of_coats(record: Seen, coats: Array) -> Array:
    """Chance that coats which just hide are written down as the record has them."""
    low, high = record.limits
    blur = np.hypot(BLUR_COATS[record.source], BLUR_SHARE * coats)
    return np.asarray(normal_cdf((high - coats) / blur)) - np.asarray(
        normal_cdf((low - coats) / blur)
    )


def hiding_films(record: Seen, paints: Paints) -> tuple[Array, Array]:
    """Films that hide what a record was over.

    Parameters
    ----------
    record : Seen
        What was seen.
    paints : Paints
        What the paint may be.

    Returns
    -------
    ln_film : array, shape (paints, n)
        Logarithms of the films, over each undercoat that the record may mean, at the
        recipes' own loading. [ln of um]
    part : array, shape (n,)
        Chance of each of these undercoats, summing to 1.
    """
    tolerance = record.tolerance or EYE_TOLERANCE
    if record.source == "check":
        return black_and_white(paints, tolerance)[:, None], np.ones(1)
    if record.undercoat is not None:
        backing = inside_views((record.undercoat,)).backing
        ln_film = ln_thickness_over(paints, backing, tolerance)
        return ln_film, np.full(len(backing), 1.0 / len(backing))
    ln_film = ln_thickness_over(paints, inside_greys(_SUITABLE_GREYS), tolerance)
    mean = paints.weight @ ln_film
    suits = mean <= mean.min() + _SUITABLE_WITHIN
    return ln_film, suits / suits.sum()


def after(belief: Belief, seen: Sequence[Seen], settings: Settings) -> Belief:
    """What is held after records; their order does not matter.

    Parameters
    ----------
    belief : Belief
        What was held before.
    seen : sequence of Seen
        The records.
    settings : Settings
        Film and tolerance where a record has none.

    Returns
    -------
    Belief
    """
    if not seen:
        return belief
    held = belief.spread_out()
    # Records are often alike, and each takes a while to work out.
    found = {each: likelihood(each, held, settings) for each in dict.fromkeys(seen)}
    for record in seen:
        held = held.likelier(found[record])
    return held


def believe(
    paints: Paints,
    settings: Settings,
    seen: Sequence[Seen] = (),
    loading: Loading | None = None,
) -> Belief:
    """What is held of a topcoat, with everything that was seen of it.

    Parameters
    ----------
    paints : Paints
        What it may be by its colour.
    settings : Settings
        Film and tolerance where a record has none.
    seen : sequence of Seen
        The records.
    loading : Loading, optional
        How heavily such paints are loaded; :func:`default_loading` unless given.

    Returns
    -------
    Belief
    """
    return after(first_belief(paints, loading or default_loading()), seen, settings)
