"""How films dry over a job: by the panel's temperature, and otherwise in some spells.

That drying halves with each so many kelvin, and that a cold shop stops it, are rules of
thumb: common practice, no source.
"""

import math
from bisect import bisect_right
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cached_property
from typing import Final

from shadecore.errors import JobError, SettingError
from shadecore.job.hours import minutes, minutes_at_most
from shadecore.products.product import ProductSheet
from shadecore.products.ranges import PANEL_C

CURES: Final = ("bake", "air", "lamp")
"""How a clear coat cures: a lamp is a short-wave infrared one."""
_MINUTE: Final = timedelta(minutes=1)
_SLACK_MIN: Final = 1e-6
"""What sums of fractions may miss the end of a spell by."""


@dataclass(frozen=True)
class Spell:
    """A time in which films dry otherwise than in the rest of a job.

    Attributes
    ----------
    start, end : datetime
        In the shop's own time.
    factor : float or None
        Drying time over that at the sheet's reference temperature; None where drying
        stands still.
    """

    start: datetime
    end: datetime
    factor: float | None


@dataclass(frozen=True)
class Climate:
    """How films dry in a job.

    Attributes
    ----------
    factor : float
        Drying time over that at the sheet's reference temperature.
    cure : str
        One of ``CURES``: how the clear coat cures.
    spells : tuple of Spell
        In which it is otherwise; in order, none in another.
    """

    factor: float
    cure: str
    spells: tuple[Spell, ...] = ()

    def factor_at(self, at: datetime) -> float:
        """Drying factor at a time; where drying stands still, that of the job.

        Parameters
        ----------
        at : datetime
            In the shop's own time.

        Returns
        -------
        float
        """
        for spell in self._from(at)[:1]:
            if spell.start <= at and spell.factor is not None:
                return spell.factor
        return self.factor

    @cached_property
    def _ends(self) -> tuple[datetime, ...]:
        return tuple(spell.end for spell in self.spells)

    def _from(self, at: datetime) -> tuple[Spell, ...]:
        """Spells that end after a time."""
        return self.spells[bisect_right(self._ends, at) :]

    def after(self, start: datetime, film_min: float) -> datetime:
        """When a film has dried.

        Parameters
        ----------
        start : datetime
            When it began to.
        film_min : float
            What it takes at the sheet's reference temperature. [min]

        Returns
        -------
        datetime
            Not before it has, to the minute.
        """
        return self._through(start, film_min, lambda factor: factor, minutes)

    def at_most(self, start: datetime, film_min: float) -> datetime:
        """Until when a film has surely not dried further than it may.

        Warmth shortens a window, but cold is not trusted to keep it open.

        Parameters
        ----------
        start : datetime
            When it began to dry.
        film_min : float
            What it may at the sheet's reference temperature. [min]

        Returns
        -------
        datetime
            Not after it has, to the minute.
        """
        return self._through(
            start,
            film_min,
            lambda factor: 1.0 if factor is None else min(factor, 1.0),
            minutes_at_most,
        )

    def _through(
        self,
        start: datetime,
        film_min: float,
        factor_of: Callable[[float | None], float | None],
        whole: Callable[[float], timedelta],
    ) -> datetime:
        """Go through the spells until the film has dried."""
        at, left = start, film_min
        usual = factor_of(self.factor) or self.factor
        for spell in self._from(at):
            for end, factor in (
                (spell.start, usual),
                (spell.end, factor_of(spell.factor)),
            ):
                if end <= at or left <= _SLACK_MIN:
                    continue
                if factor is not None:
                    if left * factor <= (end - at) / _MINUTE + _SLACK_MIN:
                        return at + whole(left * factor)
                    left -= (end - at) / _MINUTE / factor
                at = end
        return at + whole(left * usual)


def climate_of(
    sheet: ProductSheet, panel_c: float, cure: str, spells: tuple[Spell, ...] = ()
) -> Climate:
    """How films dry on a panel.

    Parameters
    ----------
    sheet : ProductSheet
        Whose times are stretched: each ``halving_k`` below its reference doubles them.
    panel_c : float
        Panel temperature, within ``PANEL_C``. [degrees C]
    cure : str
        One of ``CURES``.
    spells : tuple of Spell
        In which films dry otherwise, in any order.

    Returns
    -------
    Climate

    Raises
    ------
    SettingError
        If the temperature is out of range.
    JobError
        If the cure is not known, the sheet's rule cannot be used, or one spell begins
        in another one.

    Examples
    --------
    >>> from shadecore.products.sheet_file import demo_sheet
    >>> climate_of(demo_sheet(), 11.0, "bake").factor
    2.0
    """
    if cure not in CURES:
        message = f"The cure {cure!r} is not known; take one of {', '.join(CURES)}."
        raise JobError(message)
    ordered = tuple(sorted(spells, key=lambda each: each.start))
    last = datetime.min  # noqa: DTZ901 - the shop's own time
    for each in ordered:
        if not last <= each.start < each.end:
            since = each.start.isoformat(" ", "minutes")
            message = (
                f"The weather from {since} on ends before it starts or begins in other "
                "weather; correct its times."
            )
            raise JobError(message)
        last = each.end
    return Climate(drying_factor(sheet, panel_c), cure, ordered)


def drying_factor(sheet: ProductSheet, panel_c: float) -> float:
    """Drying time over that at a sheet's reference temperature.

    Parameters
    ----------
    sheet : ProductSheet
        The products.
    panel_c : float
        Panel temperature, within ``PANEL_C``. [degrees C]

    Returns
    -------
    float

    Raises
    ------
    SettingError
        If the temperature is out of range.
    JobError
        If the sheet's rule cannot be used.
    """
    PANEL_C.check(panel_c, "The panel's temperature", SettingError)
    if not (math.isfinite(sheet.halving_k) and sheet.halving_k > 0.0):
        message = (
            f"halving_k of {sheet.name} must be above 0 K, not {sheet.halving_k:g}."
        )
        raise JobError(message)
    return float(2.0 ** ((sheet.reference_c - panel_c) / sheet.halving_k))
