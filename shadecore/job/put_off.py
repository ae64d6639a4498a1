"""Coats that wait for the end of a break, so that no film lies open for too long.

A film's window closes too soon where a break falls between its coat and the one over
it. Then the coat below waits for the end of that break, and the coats below that one
where their own windows would close meanwhile. A wipe, and the sanding of metal, wait in
the same way, as they are to be coated soon. Whatever cannot be helped so stays as early
as it can be.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from shadecore.job.panel import Panel, as_planned, missed, panel_after
from shadecore.job.pieces import Shop
from shadecore.job.steps import Step

_MOST: Final = 4
"""So many breaks a coat is put off by at most: a lunch, a night, a weekend."""


@dataclass(frozen=True)
class _Late:
    """A coat that comes too late on one that lies below.

    Attributes
    ----------
    place : int
        Of the step that is late.
    pair : tuple of str
        Keys of the coat below and of the step that is late on it.
    begun : datetime
        When the coat below starts.
    """

    place: int
    pair: tuple[str, str]
    begun: datetime


def put_off(
    steps: Sequence[Step], panel: Panel, shop: Shop, start: datetime
) -> datetime | None:
    """Until when a coat waits, so that those after it come in time.

    Parameters
    ----------
    steps : sequence of Step
        The coat, and all steps after it.
    panel : Panel
        Before it.
    shop : Shop
        Products, weather and breaks.
    start : datetime
        Before which nothing starts.

    Returns
    -------
    datetime or None
        The end of a break; None where the coat need not wait, or nothing is gained.
    """
    waits: Mapping[str, datetime] = {}
    lost: set[tuple[str, str]] = set()
    look = _Look(steps, panel, shop, start)
    while (late := look.first_late(waits, lost)) is not None:
        better = _in_time(look, late, waits, lost)
        if better is None:
            lost.add(late.pair)
        else:
            waits = better
    return waits.get(steps[0].key)


@dataclass(frozen=True)
class _Look:
    """What comes after a coat, as far as its film lies open."""

    steps: Sequence[Step]
    panel: Panel
    shop: Shop
    start: datetime

    def may_wait(self, key: str) -> bool:
        """Whether a step is one of these that ages, and nobody has begun it."""
        ages = any(
            each.key == key and (each.coats or each.coat_within_h is not None)
            for each in self.steps
        )
        return ages and key not in self.shop.begun

    def first_late(
        self, waits: Mapping[str, datetime], lost: AbstractSet[tuple[str, str]]
    ) -> _Late | None:
        """The first step that misses a window, beside those that cannot be helped."""
        panel, begins, coat = self.panel, dict[str, datetime](), ""
        for place, step in enumerate(self.steps):
            start = max(self.start, waits.get(step.key, self.start))
            begun, end, broken = as_planned(step, panel, self.shop, start)
            begins[step.key] = begun
            if broken:
                below = (each.by for each in missed(step, panel, self.shop, begun))
                own = [coat] if panel.until and begun > panel.until else []
                stale = [each.step.key for each in panel.bare if begun > each.until]
                pairs = ((each, step.key) for each in (*below, *own, *stale))
                pair = next((each for each in pairs if each not in lost), None)
                if pair is not None:
                    return _Late(place, pair, begins.get(pair[0], begun))
            coat = step.key if step.coats else coat
            panel = panel_after(step, panel, self.shop, end)
            if not panel.layers and not panel.bare and panel.until is None:
                return None
        return None


def _in_time(
    look: _Look,
    late: _Late,
    waits: Mapping[str, datetime],
    lost: AbstractSet[tuple[str, str]],
) -> Mapping[str, datetime] | None:
    """Waits with which a step, and all before it, come in time; None without any."""
    tried, counted = dict(waits), Counter[str]()
    found: _Late | None = late
    while found is not None and found.place <= late.place:
        below = found.pair[0]
        end = _next_end(look.shop, found.begun)
        if end is None or counted[below] >= _MOST or not look.may_wait(below):
            return None
        counted[below] += 1
        tried[below] = end
        found = look.first_late(tried, lost)
    return tried


def _next_end(shop: Shop, begun: datetime) -> datetime | None:
    return next((each.end for each in shop.breaks if each.end > begun), None)
