"""What must be coated soon: bare metal, and a panel that has been wiped.

Common practice, no source.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from shadecore.job.late import BareTooLong
from shadecore.job.steps import Step

WIPED_H: Final = 4.0
"""Until a wiped panel has gathered so much dust that it is wiped again; rule of thumb.
"""
BARE_METAL_H: Final = 8.0
"""Until bare steel is coated, which is the same day."""
_RESAND_MIN: Final = 20.0
"""To sand metal again that has lain bare, and to wipe it; rule of thumb."""


@dataclass(frozen=True)
class Bare:
    """What must be coated by when.

    Attributes
    ----------
    step : Step
        What laid it bare or wiped it.
    until : datetime
        When the next coat must begin.
    """

    step: Step
    until: datetime

    @property
    def wiped(self) -> bool:
        """Whether it is a wipe, and not metal."""
        return self.step.product is not None


def bare_after(step: Step, bare: tuple[Bare, ...], end: datetime) -> tuple[Bare, ...]:
    """What must be coated soon after a step.

    Parameters
    ----------
    step : Step
        The step.
    bare : tuple of Bare
        Before it.
    end : datetime
        When it was done.

    Returns
    -------
    tuple of Bare
    """
    if step.coats:
        return ()
    # Sanding makes a wipe worthless, and a new wipe takes the place of the old one.
    gone = bool(step.grits) or step.coat_within_h is not None
    left = tuple(each for each in bare if not (each.wiped and gone))
    if step.coat_within_h is None:
        return left
    until = end + timedelta(hours=step.coat_within_h)
    return (*left, Bare(step, until))


def overdue(
    step: Step, bare: tuple[Bare, ...], begun: datetime
) -> tuple[BareTooLong, ...]:
    """What a coat comes too late for.

    Parameters
    ----------
    step : Step
        The step.
    bare : tuple of Bare
        Before it.
    begun : datetime
        When it starts.

    Returns
    -------
    tuple of BareTooLong
        None where the step sprays nothing.
    """
    if not step.coats:
        return ()
    return tuple(
        BareTooLong(
            each.step.title,
            begun - each.until,
            each.step.work_min if each.wiped else _RESAND_MIN,
            metal=not each.wiped,
        )
        for each in bare
        if begun > each.until
    )
