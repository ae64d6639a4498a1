"""When each step may happen: windows of the films, breaks, and what is done already."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from types import MappingProxyType
from typing import Final

from shadecore.errors import JobError
from shadecore.job.air import air_until, waits_for_air
from shadecore.job.bare import overdue
from shadecore.job.breaks import Break
from shadecore.job.climate import Spell, climate_of
from shadecore.job.done import check_begun, check_done
from shadecore.job.hours import joined, minutes, to_minute
from shadecore.job.late import (
    AirNotClear,
    Broken,
    CameTooSoon,
    WaitCutShort,
    window_closed,
)
from shadecore.job.panel import (
    Panel,
    as_planned,
    gun_waited,
    late_after_own,
    missed,
    opens_and_closes,
    panel_after,
)
from shadecore.job.pieces import Shop, pieces_of
from shadecore.job.put_off import put_off
from shadecore.job.steps import Step
from shadecore.job.usual_steps import is_clean, is_cure
from shadecore.job.windows import beside, ready_at
from shadecore.products.product import ProductSheet

_NO_TIME: Final = timedelta()
_NOTHING_DONE: Final[Mapping[str, datetime]] = MappingProxyType({})
_NOTHING_BEGUN: Final[Mapping[str, float]] = MappingProxyType({})


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
    put_off : bool
        Whether it waits for the end of a break, so that coats after it come in time.
    air_until : datetime or None
        Until when whoever is at it breathes supplied air, because isocyanate hangs in
        the air; None where none does, or nobody is at it.
    """

    step: Step
    start: datetime
    end: datetime
    next_from: datetime
    next_until: datetime | None
    broken: tuple[Broken, ...]
    done: bool
    put_off: bool = False
    air_until: datetime | None = None


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
        Whether a coat waits for the end of a break where one after it would otherwise
        come too late, as when sealer would lie over night, or the first of two colours
        under tape over a weekend.

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
    panel = Panel()
    following: tuple[Step | None, ...] = (*steps, None)[1:]
    for place, (step, after) in enumerate(zip(steps, following, strict=True)):
        later = None
        if step.key in done:
            begun, end, broken = _as_done(step, panel, shop, done[step.key])
        else:
            begun, end, broken = as_planned(step, panel, shop, start)
            waits = step.coats or step.coat_within_h is not None
            if shop.hold and waits and not broken and step.key not in shop.begun:
                later = put_off(steps[place:], panel, shop, start)
            if later is not None:
                begun, end, broken = as_planned(step, panel, shop, later)
        panel = panel_after(step, panel, shop, end)
        earliest, latest = opens_and_closes(after, panel, shop, to_minute(end))
        timed.append(
            Timed(
                step,
                begun,
                end,
                earliest,
                latest,
                broken,
                step.key in done,
                put_off=later is not None,
                air_until=air_until(step, panel.air, begun, shop.climate.cure),
            )
        )
    return tuple(timed)


def _as_done(
    step: Step, panel: Panel, shop: Shop, end: datetime
) -> tuple[datetime, datetime, tuple[Broken, ...]]:
    begun = _worked_back(step, panel, shop, end)
    late = [
        window_closed(layer, shop.climate, begun)
        for layer in missed(step, panel, shop, begun)
    ]
    own, early = late_after_own(panel, begun), _too_early(step, panel, shop, end)
    if is_clean(step.key):
        return begun, end, gun_waited(step, panel, shop, begun)
    return begun, end, (*late, *own, *overdue(step, panel.bare, begun), *early)


def _worked_back(step: Step, panel: Panel, shop: Shop, end: datetime) -> datetime:
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


def _too_early(step: Step, panel: Panel, shop: Shop, end: datetime) -> list[Broken]:
    """What a step that is done cannot have waited for, however fast the hands were."""
    factor = shop.climate.factor_at(end)
    flashes = max(step.coats - 1, 0) * step.flash_min * factor
    last_start = to_minute(end) - minutes(flashes)
    found: list[Broken] = [
        CameTooSoon(layer.product.name, ready - last_start)
        for layer in panel.layers
        if not beside(step, layer)
        and (ready := ready_at(layer, step, shop.climate)) > last_start
    ]
    if panel.after and panel.dry_at and panel.dry_at > last_start:
        found.append(WaitCutShort(panel.after.title, panel.dry_at - last_start))
    if (
        panel.air
        and waits_for_air(step, panel.air[0], shop.climate.cure)
        and panel.air[1] > last_start
    ):
        found.append(AirNotClear(panel.air[0].title, panel.air[1] - last_start))
    return found
