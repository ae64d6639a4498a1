"""Where in a job a step goes."""

import re
from collections.abc import Sequence
from itertools import takewhile
from typing import Final

from shadecore.job.steps import USUAL_KEYS, Step
from shadecore.job.trade_steps import trade_steps

FIRST: Final = ""
"""Stands for the place before all steps."""
_AGAIN: Final = re.compile(r"_\d+$")
"""Ends the key of a step that is done once more."""


def once(key: str) -> str:
    """The key of a step as it is the first time it is done.

    Parameters
    ----------
    key : str
        Such as ``surfacer_2``.

    Returns
    -------
    str
        Such as ``surfacer``.
    """
    return _AGAIN.sub("", key)


def place_of(key: str, after: str | None, steps: Sequence[Step]) -> int:
    """Where a step goes: right after the one named, or the nearest one before that.

    Parameters
    ----------
    key : str
        The step's.
    after : str or None
        Key of the step it comes after, ``FIRST`` for none; None for its usual place,
        where steps of the trade keep the trade's order.
    steps : sequence of Step
        Of the job, without it.

    Returns
    -------
    int
        How many steps come before it.
    """
    told = after is not None
    if after is None:
        trade = trade_steps().get(once(key))
        after = trade.after if trade is not None else _before(key)
    places = {each.key: place for place, each in enumerate(steps, start=1)}
    while after and after not in places:
        after = _before(after)
    place = places.get(after, 0)
    if told:
        return place
    earlier = _no_later(key)
    return place + sum(
        1 for _ in takewhile(lambda each: once(each.key) in earlier, steps[place:])
    )


def _no_later(key: str) -> frozenset[str]:
    """Steps of the trade that are not done later than one; none for any other step."""
    order = tuple(trade_steps())
    first = once(key)
    return frozenset(order[: order.index(first) + 1] if first in order else ())


def _before(key: str) -> str:
    """The usual step before one; the last one before a step that is not usual."""
    if key in USUAL_KEYS:
        place = USUAL_KEYS.index(key)
        return USUAL_KEYS[place - 1] if place else FIRST
    first = once(key)
    if first in USUAL_KEYS:
        return first
    return trade_steps()[first].after if first in trade_steps() else USUAL_KEYS[-1]
