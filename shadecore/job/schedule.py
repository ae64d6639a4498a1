"""When each step may happen: windows of the films, breaks, and what is done already."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from itertools import islice
from types import MappingProxyType
from typing import Final

from shadecore.errors import JobError
from shadecore.job.air import air_until, waits_for_air
from shadecore.job.bare import Bare, bare_after, overdue
from shadecore.job.breaks import Break
from shadecore.job.climate import Spell, climate_of
from shadecore.job.done import check_begun, check_done
from shadecore.job.hours import Piece, joined, lay, minutes, to_minute
from shadecore.job.late import (
    AirNotClear,
    Broken,
    CameTooSoon,
    StepWindowClosed,
    WaitCutShort,
    window_closed,
)
from shadecore.job.pieces import Shop, layers_after, pieces_of, remedy_of
from shadecore.job.steps import Step
from shadecore.job.usual_steps import is_clean, is_cure
from shadecore.job.windows import (
    Layer,
    closes_at,
    coats_over,
    ready_at,
)
from shadecore.products.product import ProductSheet

_NO_TIME: Final = timedelta()
_NOTHING_DONE: Final[Mapping[str, datetime]] = MappingProxyType({})
_NOTHING_BEGUN: Final[Mapping[str, float]] = MappingProxyType({})
_MIN_PER_H: Final = 60.0
_MOST_HELD: Final = 4
"""So many breaks a coat is put off by at most: a lunch, a night, a weekend."""
_NEVER: Final = datetime.min  # noqa: DTZ901 - the shop's own time


@dataclass(frozen=True)
class Timed:
    """A step and its time.

    Attributes
    ----------
    step : Step
        The step.
    start, end : datetime
        From the first hand laid on to the last; a break may lie in it where work can
        be left. The start of a step that is done is worked back from its end.
    next_from : datetime
        When the next step may start at the earliest.
    next_until : datetime or None
        Until when it may start without extra work; None where that does not matter.
    broken : tuple of Broken
        Windows that closed before it and what it did not wait for.
    done : bool
        Whether it is done.
    air_until : datetime or None
        Until when whoever is at it breathes supplied air, because isocyanate hangs in
        the air of an open shop; None where none does, or nobody is at it.
    """

    step: Step
    start: datetime
    end: datetime
    next_from: datetime
    next_until: datetime | None
    broken: tuple[Broken, ...]
    done: bool
    air_until: datetime | None = None


@dataclass(frozen=True)
class _Panel:
    """The panel before a step: what lies open on it, and since when it waits.

    ``after`` is the step before, ``dry_at`` and ``until`` the times that it sets
    itself for the next one. ``air`` is the step that sprayed isocyanate in the open,
    and when the air is clear of it. ``bare`` is what must be coated by when.
    """

    layers: tuple[Layer, ...] = ()
    free_from: datetime | None = None
    after: Step | None = None
    dry_at: datetime | None = None
    until: datetime | None = None
    air: tuple[Step, datetime] | None = None
    bare: tuple[Bare, ...] = ()


def schedule(  # noqa: PLR0913, PLR0917 - the times depend on each
    steps: Sequence[Step],
    sheet: ProductSheet,
    start: datetime,
    panel_c: float,
    breaks: tuple[Break, ...] = (),
    done: Mapping[str, datetime] = _NOTHING_DONE,
    cure: str = "bake",
    *,
    spells: tuple[Spell, ...] = (),
    begun: Mapping[str, float] = _NOTHING_BEGUN,
    longest_min: float = math.inf,
    hold: bool = False,
) -> tuple[Timed, ...]:
    """Give each step its time, as early as films and breaks allow.

    Drying times double with each ``halving_k`` that the panel is colder than the
    sheet's reference; baking does not depend on it. Sanding and cleaning may be left
    for a break, spraying may not. A step that misses a window starts with the extra
    work this costs.

    Parameters
    ----------
    steps : sequence of Step
        As :func:`shadecore.job.steps.job_steps` gives them.
    sheet : ProductSheet
        The products.
    start : datetime
        Before which nothing starts that is not done, in the shop's own time: the
        job's start, or now when it is planned again.
    panel_c : float
        Panel temperature, within ``PANEL_C``. [degrees C]
    breaks : tuple of Break
        When nobody works; films dry on.
    done : mapping of str to datetime
        When steps were finished, by their key. They stay where they are.
    cure : str
        One of ``CURES``: how the clear coat cures.
    spells : tuple of Spell
        In which films dry otherwise, such as cold nights.
    begun : mapping of str to float
        How much of a step is done that is not done yet, 0..1, by its key.
    longest_min : float
        Longest time in which somebody works without a break: no work that takes longer
        is kept whole. [min]
    hold : bool
        Whether a coat waits for the end of a break where the next one would otherwise
        come too late, as when sealer would lie over night.

    Returns
    -------
    tuple of Timed
        In the order of the steps.

    Raises
    ------
    SettingError
        If the panel's temperature is out of range.
    JobError
        If a break, a time or what is done cannot be, or the sheet misses a time.

    Examples
    --------
    >>> from shadecore.products.sheet_file import demo_sheet
    >>> from shadecore.job.steps import job_steps
    >>> sheet = demo_sheet()
    >>> steps = job_steps(
    ...     sheet, 3, "Grey N5", bare_metal=False, filler=False, flattest=False
    ... )
    >>> timed = schedule(steps, sheet, datetime(2026, 3, 2, 8, 0), 21.0)
    >>> timed[0].step.key, timed[1].start.isoformat(" ", "minutes")
    ('wash', '2026-03-02 08:20')
    """
    shop = Shop(
        {product.key: product for product in sheet.products},
        climate_of(sheet, panel_c, cure, spells),
        joined(breaks),
        begun,
        longest_min,
        hold,
        frozenset(each.zone for each in steps if each.zone),
    )
    check_done(steps, done)
    check_begun(steps, begun)
    try:
        return _timeline(steps, shop, to_minute(start), done)
    except OverflowError as error:
        message = "The job would run beyond the calendar; check its times."
        raise JobError(message) from error


def _timeline(
    steps: Sequence[Step], shop: Shop, start: datetime, done: Mapping[str, datetime]
) -> tuple[Timed, ...]:
    timed: list[Timed] = []
    panel = _Panel()
    following: tuple[Step | None, ...] = (*steps, None)[1:]
    for place, (step, after) in enumerate(zip(steps, following, strict=True)):
        if step.key in done:
            begun, end, broken = _as_done(step, panel, shop, done[step.key])
        else:
            begun, end, broken = _as_planned(step, panel, shop, start)
            waits = step.coats or step.coat_within_h is not None
            if shop.hold and waits and not broken and step.key not in shop.begun:
                rest = steps[place + 1 :]
                begun, end = _held(step, rest, panel, shop, (begun, end))
        panel = _panel_after(step, panel, shop, end)
        earliest, latest = _opens_and_closes(after, panel, shop, to_minute(end))
        breathed = air_until(step, panel.air, begun, shop.climate.cure)
        is_done = step.key in done
        timed.append(
            Timed(step, begun, end, earliest, latest, broken, is_done, breathed)
        )
    return tuple(timed)


def _panel_after(step: Step, panel: _Panel, shop: Shop, end: datetime) -> _Panel:
    climate = shop.climate
    clear_at = end + minutes(step.clears_min)
    air = (step, clear_at) if step.clears_min else panel.air
    within_h = step.within_h
    dry_at = climate.after(end, step.wait_min) if step.wait_min else None
    until = None if within_h is None else climate.at_most(end, within_h * _MIN_PER_H)
    if is_clean(step.key):
        # The panel waits on by the step before, and by what a shop says of this one.
        return replace(
            panel,
            free_from=end,
            after=step if step.wait_min or until else panel.after,
            dry_at=max(filter(None, (panel.dry_at, dry_at)), default=None),
            until=min(filter(None, (panel.until, until)), default=None),
        )
    layers = layers_after(step, panel.layers, shop, end)
    bare = bare_after(step, panel.bare, end)
    return _Panel(layers, end, step, dry_at, until, air, bare)


def _as_planned(
    step: Step, panel: _Panel, shop: Shop, start: datetime
) -> tuple[datetime, datetime, tuple[Broken, ...]]:
    free_from = start if panel.free_from is None else max(start, panel.free_from)
    earliest, _ = _opens_and_closes(step, panel, shop, to_minute(free_from))
    begun, end, pieces = _laid(step, panel, shop, earliest)
    missed = _missed(step, panel, shop, begun)
    late = [window_closed(each, shop.climate, begun) for each in missed]
    stale = overdue(step, panel.bare, begun)
    if missed or stale:
        extra = [remedy_of(layer) for layer in missed]
        extra += [Piece(each.again_min) for each in stale]
        # Not from the earliest on: a film scuffed the evening before is no fresher.
        begun, end = lay([*extra, *pieces], begun, shop.breaks, shop.climate.after)
    own = () if is_clean(step.key) else _late_after_own(panel, begun)
    return begun, end, (*late, *own, *stale)


def _held(
    step: Step,
    rest: Sequence[Step],
    panel: _Panel,
    shop: Shop,
    planned: tuple[datetime, datetime],
) -> tuple[datetime, datetime]:
    """A coat put off to the end of a break, where the next one then comes in time."""
    begun, end = planned
    if not _next_is_late(rest, _panel_after(step, panel, shop, end), shop):
        return planned
    later = (each.end for each in shop.breaks if each.end > begun)
    for start in islice(later, _MOST_HELD):
        held, end, broken = _as_planned(step, panel, shop, start)
        if broken:
            break
        if not _next_is_late(rest, _panel_after(step, panel, shop, end), shop):
            return held, end
    return planned


def _next_is_late(rest: Sequence[Step], panel: _Panel, shop: Shop) -> bool:
    """Whether the next coat misses a window of what lies open."""
    waiting = {(each.product.key, each.end) for each in panel.layers}
    for step in rest:
        _, end, broken = _as_planned(step, panel, shop, panel.free_from or _NEVER)
        if broken:
            return True
        panel = _panel_after(step, panel, shop, end)
        # Where one colour lies beside another, more than one coat has to be in time.
        if step.coats and not any(
            (each.product.key, each.end) in waiting for each in panel.layers
        ):
            return False
        if not panel.layers and not panel.bare and panel.until is None:
            return False
    return False


def _laid(
    step: Step, panel: _Panel, shop: Shop, earliest: datetime
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


def _as_done(
    step: Step, panel: _Panel, shop: Shop, end: datetime
) -> tuple[datetime, datetime, tuple[Broken, ...]]:
    begun = _worked_back(step, panel, shop, end)
    late = [
        window_closed(layer, shop.climate, begun)
        for layer in _missed(step, panel, shop, begun)
    ]
    own, early = _late_after_own(panel, begun), _too_early(step, panel, shop, end)
    if is_clean(step.key):
        return begun, end, ()
    return begun, end, (*late, *own, *overdue(step, panel.bare, begun), *early)


def _worked_back(step: Step, panel: _Panel, shop: Shop, end: datetime) -> datetime:
    """Start of a step that is done, not before the end of the one before it."""
    if is_cure(step.key):
        return end if panel.free_from is None else panel.free_from
    # By the sheet's reference, so that a plan for other weather does not move it.
    pieces = pieces_of(step, panel.layers, shop, 1.0, 0.0)
    length = sum(
        (minutes(each.work_min + each.wait_min + each.film_min) for each in pieces),
        _NO_TIME,
    )
    return max(end - length, panel.free_from or end - length)


def _too_early(step: Step, panel: _Panel, shop: Shop, end: datetime) -> list[Broken]:
    """What a step that is done cannot have waited for, however fast the hands were."""
    factor = shop.climate.factor_at(end)
    flashes = max(step.coats - 1, 0) * step.flash_min * factor
    last_start = to_minute(end) - minutes(flashes)
    found: list[Broken] = [
        CameTooSoon(layer.product.name, ready - last_start)
        for layer in panel.layers
        if layer.lies_under(step)
        and (ready := ready_at(layer, step, shop.climate)) > last_start
    ]
    if panel.after and panel.dry_at and panel.dry_at > last_start:
        found.append(WaitCutShort(panel.after.title, panel.dry_at - last_start))
    if (
        panel.air
        and waits_for_air(step, shop.climate.cure)
        and panel.air[1] > last_start
    ):
        found.append(AirNotClear(panel.air[0].title, panel.air[1] - last_start))
    return found


def _late_after_own(panel: _Panel, begun: datetime) -> tuple[StepWindowClosed, ...]:
    """What is late by the window that the step before sets itself."""
    if panel.after is None or panel.until is None or begun <= panel.until:
        return ()
    return (StepWindowClosed(panel.after.title, begun - panel.until),)


def _opens_and_closes(
    step: Step | None, panel: _Panel, shop: Shop, earliest: datetime
) -> tuple[datetime, datetime | None]:
    if step is None:
        # The last step may end with a wait, too, such as the weeks before wax.
        return max(earliest, panel.dry_at or earliest), None
    if is_clean(step.key):
        return to_minute(earliest), None
    layers = [layer for layer in panel.layers if layer.lies_under(step)]
    ready = [ready_at(layer, step, shop.climate) for layer in layers]
    closing = [closes_at(layer, shop.climate) for layer in layers]
    limits = [each for each in closing if each is not None and coats_over(step)]
    ready += [panel.dry_at] if panel.dry_at is not None else []
    if panel.air is not None and waits_for_air(step, shop.climate.cure):
        ready.append(panel.air[1])
    limits += [panel.until] if panel.until is not None else []
    return to_minute(max([earliest, *ready])), min(limits, default=None)


def _missed(step: Step, panel: _Panel, shop: Shop, begun: datetime) -> list[Layer]:
    """Layers whose window had closed when a step began to coat them."""
    if not coats_over(step):
        return []
    return [
        layer
        for layer in panel.layers
        if layer.lies_under(step)
        and (limit := closes_at(layer, shop.climate)) is not None
        and begun > limit
    ]
