"""What a shop has seen of a paint: records that narrow the count."""

import math
from dataclasses import dataclass
from typing import Final, Literal, get_args

from shadecore.coats.settings import LARGEST_CAP, TOLERANCE_RANGE
from shadecore.errors import SettingError
from shadecore.film.build import CoatFilm
from shadecore.formats.echo import shown
from shadecore.undercoats.shelf import Undercoat

Source = Literal["data-sheet", "job", "check"]
SOURCES: Final[tuple[Source, ...]] = get_args(Source)


@dataclass(frozen=True)
class Seen:
    """One thing that somebody saw or wrote of a paint's hiding.

    Attributes
    ----------
    source : str
        ``data-sheet``, ``job``, or ``check`` for a black-and-white pattern under the
        paint that was looked at by eye (common practice, no source).
    coats_low : int
        Fewest coats that the record allows; 1 where nobody looked sooner.
    coats_high : int or None
        Where it hid, the most coats that it took; where it did not, the coats that
        were not enough. None for no upper end.
    hid : bool
        Whether it hid.
    undercoat : Undercoat or None
        What was under the paint; None for whichever suits it. A check needs none.
    film_um : float or None
        Dry film of one coat; None for the question's. [um]
    tolerance : float or None
        What counted as hidden; None for the question's, and for a check for what the
        eye just notices edge to edge. [CIEDE2000]
    looked : bool
        Whether somebody looked after each coat. A painter sprays what the plan says:
        where nobody looked, 4 coats that hid prove 4 or fewer.

    Raises
    ------
    SettingError
        If one of them is outside its range.
    """

    source: Source
    coats_low: int
    coats_high: int | None
    hid: bool = True
    undercoat: Undercoat | None = None
    film_um: float | None = None
    tolerance: float | None = None
    looked: bool = True

    def __post_init__(self) -> None:
        if self.source not in SOURCES:
            message = (
                f"The source of a record must be one of {', '.join(SOURCES)}, not "
                f"{shown(self.source)}."
            )
            raise SettingError(message)
        self._check_coats()
        if self.film_um is not None:
            CoatFilm(self.film_um)
        low, high = TOLERANCE_RANGE
        if self.tolerance is not None and not low <= self.tolerance <= high:
            message = (
                f"The tolerance of a record must lie between {low:g} and {high:g} "
                f"CIEDE2000, not {self.tolerance:g}."
            )
            raise SettingError(message)

    def _check_coats(self) -> None:
        if not 1 <= self.coats_low <= LARGEST_CAP:
            message = (
                f"A record's fewest coats must lie between 1 and {LARGEST_CAP}, not "
                f"{self.coats_low}."
            )
            raise SettingError(message)
        if self.coats_high is None:
            if not self.hid:
                message = (
                    "A record of a paint that did not hide needs the coats that were "
                    "not enough."
                )
                raise SettingError(message)
            return
        if not self.coats_low <= self.coats_high <= LARGEST_CAP:
            message = (
                f"A record's most coats must lie between its fewest ({self.coats_low}) "
                f"and {LARGEST_CAP}, not {self.coats_high}."
            )
            raise SettingError(message)

    @property
    def limits(self) -> tuple[float, float]:
        """Between which the coats that just hide lie, before any doubt of the record.

        Returns
        -------
        tuple of float
            Lower and upper end; minus infinity where even one coat may be more than
            was needed, infinity where nothing is known.
        """
        if not self.hid:
            return float(self.coats_high or 0), math.inf
        low = self.coats_low - 1 if self.looked else 0
        high = math.inf if self.coats_high is None else float(self.coats_high)
        return (float(low) if low else -math.inf), high
