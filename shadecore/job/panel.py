"""A panel before a step, and a step laid on it as early as films and breaks allow."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final

from shadecore.job.air import waits_for_air
from shadecore.job.bare import Bare, bare_after, overdue
from shadecore.job.hours import Piece, lay, minutes, to_minute
from shadecore.job.late import Broken, GunWaited, StepWindowClosed, window_closed
from shadecore.job.pieces import Shop, layers_after, pieces_of, remedy_of
from shadecore.job.steps import Step
from shadecore.job.usual_steps import clean_key, is_clean
from shadecore.job.windows import Layer, beside, closes_at, coats_over, ready_at

_MIN_PER_H: Final = 60.0
GUN_WAITS_MIN: Final = 30.0
"""So long may two-pack paint stay in a gun; rule of thumb."""


@dataclass(frozen=True)
class Panel:
    """The panel before a step: what lies open on it, and since when it waits.

    Attributes
    ----------
    layers : tuple of Layer
        What lies open on it.
    free_from : datetime or None
        When the step before was done; None before the first.
    after : Step or None
        The step before.
    dry_at, until : datetime or None
        Times that the step before sets itself for the next one.
    air : tuple of (Step, datetime) or None
        What sprayed isocyanate, and when the air is clear of it.
    bare : tuple of Bare
        What must be coated by when.
    guns : tuple of (Step, datetime)
        What is still in a gun that is to be cleaned, and when its last coat was done.
    """

    layers: tuple[Layer, ...] = ()
    free_from: datetime | None = None
    after: Step | None = None
    dry_at: datetime | None = None
    until: datetime | None = None
    air: tuple[Step, datetime] | None = None
    bare: tuple[Bare, ...] = ()
    guns: tuple[tuple[Step, datetime], ...] = ()


def panel_after(step: Step, panel: Panel, shop: Shop, end: datetime) -> Panel:
    """The panel after a step.

    Parameters
    ----------
    step : Step
        The step.
    panel : Panel
        Before it.
    shop : Shop
        Products, weather and breaks.
    end : datetime
        When the step was done.

    Returns
    -------
    Panel
    """
    climate = shop.climate
    clear_at = end + minutes(step.clears_min)
    air = (step, clear_at) if step.clears_min else panel.air
    within_h = step.within_h
    dry_at = climate.after(end, step.wait_min) if step.wait_min else None
    until = None if within_h is None else climate.at_most(end, within_h * _MIN_PER_H)
    guns = tuple(each for each in panel.guns if clean_key(each[0].key) != step.key)
    if is_clean(step.key):
        # The panel waits on by the step before, and by what a shop says of this one.
        return replace(
            panel,
            free_from=end,
            guns=guns,
            after=step if step.wait_min or until else panel.after,
            dry_at=max(filter(None, (panel.dry_at, dry_at)), default=None),
            until=min(filter(None, (panel.until, until)), default=None),
        )
    layers = layers_after(step, panel.layers, shop, end)
    bare = bare_after(step, panel.bare, end)
    # Only where time is left for it is a gun cleaned after a coat.
    guns += ((step, end),) if step.room_min else ()
    return Panel(layers, end, step, dry_at, until, air, bare, guns)


def as_planned(
    step: Step, panel: Panel, shop: Shop, start: datetime
) -> tuple[datetime, datetime, tuple[Broken, ...]]:
    """A step as early as films and breaks allow.

    Parameters
    ----------
    step : Step
        The step.
    panel : Panel
        Before it.
    shop : Shop
        Products, weather and breaks.
    start : datetime
        Before which it does not start.

    Returns
    -------
    start, end : datetime
        With the extra work of a missed window.
    broken : tuple of Broken
        Which windows it missed.
    """
    free_from = start if panel.free_from is None else max(start, panel.free_from)
    earliest, _ = opens_and_closes(step, panel, shop, to_minute(free_from))
    begun, end, pieces = _laid(step, panel, shop, earliest)
    closed = missed(step, panel, shop, begun)
    late = [window_closed(layer, shop.climate, begun) for layer in closed]
    own: tuple[Broken, ...] = late_after_own(panel, begun)
    if is_clean(step.key):
        own = gun_waited(step, panel, shop, begun)
    stale = overdue(step, panel.bare, begun)
    if closed or stale:
        extra = [remedy_of(layer) for layer in closed]
        extra += [Piece(each.again_min) for each in stale]
        # Not from the earliest on: a film scuffed the evening before is no fresher.
        begun, end = lay([*extra, *pieces], begun, shop.breaks, shop.climate.after)
    return begun, end, (*late, *own, *stale)


def _laid(
    step: Step, panel: Panel, shop: Shop, earliest: datetime
) -> tuple[datetime, datetime, tuple[Piece, ...]]:
    """A step's pieces, and when they come to lie."""
    climate, share = shop.climate, shop.begun.get(step.key, 0.0)
    factor = climate.factor_at(earliest)
    pieces = pieces_of(step, panel.layers, shop, factor, share)
    begun, end = lay(pieces, earliest, shop.breaks, climate.after)
    # Put off into another spell of weather, its coats flash otherwise.
    if climate.factor_at(begun) != factor:
        pieces = pieces_of(step, panel.layers, shop, climate.factor_at(begun), share)
        begun, end = lay(pieces, begun, shop.breaks, climate.after)
    return begun, end, pieces


def late_after_own(panel: Panel, begun: datetime) -> tuple[StepWindowClosed, ...]:
    """What is late by the window that the step before sets itself.

    Parameters
    ----------
    panel : Panel
        Before a step.
    begun : datetime
        When that starts.

    Returns
    -------
    tuple of StepWindowClosed
    """
    if panel.after is None or panel.until is None or begun <= panel.until:
        return ()
    return (StepWindowClosed(panel.after.title, begun - panel.until),)


def gun_waited(
    step: Step, panel: Panel, shop: Shop, begun: datetime
) -> tuple[GunWaited, ...]:
    """What is late of the cleaning of a gun.

    Parameters
    ----------
    step : Step
        The cleaning.
    panel : Panel
        Before it.
    shop : Shop
        Products.
    begun : datetime
        When it starts.

    Returns
    -------
    tuple of GunWaited
        Where another step came between, or it waited longer than ``GUN_WAITS_MIN``.
    """
    held = next((e for e in panel.guns if clean_key(e[0].key) == step.key), None)
    if held is None:
        return ()
    sprayed, end = held
    between = panel.after is not None and panel.after.key != sprayed.key
    product = shop.product(sprayed)
    if product is None or begun <= end + minutes(0.0 if between else GUN_WAITS_MIN):
        return ()
    return (GunWaited(product.name, begun - end),)


def opens_and_closes(
    step: Step | None, panel: Panel, shop: Shop, earliest: datetime
) -> tuple[datetime, datetime | None]:
    """From when and until when a step may start.

    Parameters
    ----------
    step : Step or None
        The step; None after the last.
    panel : Panel
        Before it.
    shop : Shop
        Products and weather.
    earliest : datetime
        Before which it does not start anyhow.

    Returns
    -------
    opens : datetime
        When what lies open is ready for it.
    closes : datetime or None
        Until when it needs no extra work; None where that does not matter.
    """
    if step is None:
        # The last step may end with a wait, too, such as the weeks before wax.
        return max(earliest, panel.dry_at or earliest), None
    if is_clean(step.key):
        return to_minute(earliest), None
    under = [layer for layer in panel.layers if not beside(step, layer)]
    ready = [ready_at(layer, step, shop.climate) for layer in under]
    limits = [limit for _, limit in _closing(step, panel, shop)]
    ready += [panel.dry_at] if panel.dry_at is not None else []
    if panel.air is not None and waits_for_air(step, panel.air[0], shop.climate.cure):
        ready.append(panel.air[1])
    limits += [panel.until] if panel.until is not None else []
    return to_minute(max([earliest, *ready])), min(limits, default=None)


def missed(step: Step, panel: Panel, shop: Shop, begun: datetime) -> list[Layer]:
    """Layers whose window had closed when a step began to coat them.

    Parameters
    ----------
    step : Step
        The step.
    panel : Panel
        Before it.
    shop : Shop
        Products and weather.
    begun : datetime
        When it starts.

    Returns
    -------
    list of Layer
    """
    closing = _closing(step, panel, shop)
    return [layer for layer, limit in closing if begun > limit]


def _closing(step: Step, panel: Panel, shop: Shop) -> Iterator[tuple[Layer, datetime]]:
    """Layers that a step coats, and when their windows close."""
    for layer in panel.layers:
        limit = closes_at(layer, shop.climate) if coats_over(step, layer) else None
        if limit is not None:
            yield layer, limit
