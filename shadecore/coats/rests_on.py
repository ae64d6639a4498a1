"""What an answer rests on: each record, and how much it narrowed the count."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.belief import Belief, count_over
from shadecore.coats.count import Counts
from shadecore.coats.evidence import agreement, likelihood
from shadecore.coats.seen import Seen
from shadecore.coats.settings import Settings
from shadecore.undercoats.shelf import Undercoat

CONTRADICTS_BELOW: Final = 0.1
"""A record contradicts the others where they make it a tenth as likely as it was
without them, or less; this tool's own limit."""
_AS_BAD: Final = 1.01
_TINY: Final = 1e-12


@dataclass(frozen=True)
class RestsOn:
    """A record behind an answer.

    Attributes
    ----------
    seen : Seen
        The record.
    low_before, high_before : int or None
        90 percent interval of the coats over the recommended undercoat without any
        record; None beyond the cap.
    low_after, high_after : int or None
        The same with this record alone.
    contradicts : bool
        Whether the other records make this one hard to believe.
    """

    seen: Seen
    low_before: int | None
    high_before: int | None
    low_after: int | None
    high_after: int | None
    contradicts: bool


def rests_on(
    belief: Belief, seen: Sequence[Seen], undercoat: Undercoat, settings: Settings
) -> tuple[RestsOn, ...]:
    """Work out what each record did.

    Parameters
    ----------
    belief : Belief
        What was held before the records.
    seen : sequence of Seen
        The records.
    undercoat : Undercoat
        The recommended undercoat.
    settings : Settings
        Film, tolerance and cap.

    Returns
    -------
    tuple of RestsOn
        In the order of the records.
    """
    if not seen:
        return ()
    before = _interval(count_over(belief, (undercoat,), settings))
    held = belief.spread_out()
    against = contradictions(held, seen, settings)
    # Records are often alike, and each takes a while to work out.
    after = {}
    for record in dict.fromkeys(seen):
        alone = held.likelier(likelihood(record, held, settings))
        after[record] = _interval(count_over(alone, (undercoat,), settings))
    return tuple(
        RestsOn(record, *before, *after[record], bool(contradicts))
        for record, contradicts in zip(seen, against, strict=True)
    )


def contradictions(
    belief: Belief, seen: Sequence[Seen], settings: Settings
) -> NDArray[np.bool_]:
    """Which records the others make hard to believe, shape (records,).

    Parameters
    ----------
    belief : Belief
        What was held before the records, spread out.
    seen : sequence of Seen
        The records.
    settings : Settings
        Film and tolerance where a record has none.

    Returns
    -------
    array of bool
    """
    by_record = {
        each: agreement(each, belief, settings) for each in dict.fromkeys(seen)
    }
    agrees = np.maximum(np.array([by_record[each] for each in seen]), _TINY)
    against = np.zeros(len(seen), dtype=bool)
    while not against.all():
        kept = np.flatnonzero(~against)
        ratio = _support(belief, agrees[kept])
        if ratio.min() >= CONTRADICTS_BELOW:
            break
        # Of two records that disagree both are named, as neither can be preferred; of
        # more than two the one that fits the others least is.
        against[kept[ratio <= ratio.min() * _AS_BAD]] = True
    return against


def _support(belief: Belief, agrees: NDArray[np.floating]) -> NDArray[np.floating]:
    """How much likelier the others make each record, shape (records,)."""
    by_itself = np.einsum("pl,rpl->r", belief.weight, agrees)
    product = np.prod(agrees, axis=0)
    together = np.sum(belief.weight * product)
    others = np.array([np.sum(belief.weight * product / each) for each in agrees])
    return np.asarray(together / (others * by_itself))


def _interval(counts: Counts) -> tuple[int | None, int | None]:
    low, high = (
        int(each[0, 0]) if each[0, 0] <= counts.cap else None
        for each in (counts.low, counts.high)
    )
    return low, high
