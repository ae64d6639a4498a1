"""Where a step of several coats stands, and how long the last of them still flashes."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from shadecore.job.climate import Climate
from shadecore.job.steps import Step


@dataclass(frozen=True)
class CoatTimer:
    """Coats of a step so far.

    Attributes
    ----------
    sprayed, coats : int
        Coats sprayed, and coats the step has.
    flash : timedelta
        To wait between coats at the panel's temperature.
    next_at : datetime or None
        When the next coat may follow; None before the first and after the last.
    early : timedelta
        How much of its flash the coat under the last one missed; zero where none.
    """

    sprayed: int
    coats: int
    flash: timedelta
    next_at: datetime | None
    early: timedelta


def coat_timer(step: Step, climate: Climate, sprayed: Sequence[datetime]) -> CoatTimer:
    """Where a step stands.

    Parameters
    ----------
    step : Step
        A step that is sprayed.
    climate : Climate
        How films dry on its panel.
    sprayed : sequence of datetime
        When its coats ended, the first one first.

    Returns
    -------
    CoatTimer

    Examples
    --------
    >>> from shadecore.products.sheet_file import demo_sheet
    >>> from shadecore.job.steps import job_steps
    >>> base = next(
    ...     step
    ...     for step in job_steps(
    ...         demo_sheet(), 3, "", bare_metal=False, filler=False, flattest=False
    ...     )
    ...     if step.key == "base_coat"
    ... )
    >>> timer = coat_timer(base, Climate(2.0, "bake"), [datetime(2026, 3, 2, 8, 0)])
    >>> timer.next_at.isoformat()
    '2026-03-02T08:20:00'
    """
    factor = climate.factor_at(sprayed[-1]) if sprayed else climate.factor
    flash = timedelta(minutes=step.flash_min * factor)
    under_way = 0 < len(sprayed) < step.coats
    waited = sprayed[-1] - sprayed[-2] if len(sprayed) > 1 else flash
    return CoatTimer(
        len(sprayed),
        step.coats,
        flash,
        sprayed[-1] + flash if under_way else None,
        max(flash - waited, timedelta()),
    )
