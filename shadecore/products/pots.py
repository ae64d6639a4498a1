"""Into how many pots a mix is split, so that each is sprayed while it can be."""

import math
from dataclasses import dataclass
from typing import Final

from shadecore.errors import JobError

_SLACK: Final = 1e-9
"""Rounding must not cost a pot."""
_LEAST_SHARE: Final = 0.5
"""Of a pot life is left to spray in, however long the mixing takes."""
MOST_POTS: Final = 1000
"""Of one mix; this tool's own limit."""


@dataclass(frozen=True)
class Spraying:
    """How long the coats of one step take.

    Attributes
    ----------
    coats : int
        How many, above 0.
    coat_min, flash_min : float
        To spray one, and the flash between two. [min]
    mix_min : float
        From the hardener's going in to the first stroke. [min]
    life_min : float or None
        For how long a mix can be sprayed; None where it does not harden. [min]
    """

    coats: int
    coat_min: float
    flash_min: float
    mix_min: float
    life_min: float | None

    @property
    def sprayed_min(self) -> float | None:
        """Of a pot life, what is left to spray in. [min]."""
        if self.life_min is None:
            return None
        return max(self.life_min - self.mix_min, _LEAST_SHARE * self.life_min)


def number_of_pots(
    ready_ml: float, spraying: Spraying, room_ml: float | None = None
) -> int:
    """How many pots a step is mixed in, all of them alike.

    Parameters
    ----------
    ready_ml : float
        What all its coats take, above 0. [ml]
    spraying : Spraying
        How long they take.
    room_ml : float, optional
        What a cup may be filled to; as large as it takes unless given. [ml]

    Returns
    -------
    int
        The least with which a pot is sprayed within its pot life and goes into the
        cup, and ends with a coat: whole coats to a pot, or whole pots to a coat.

    Raises
    ------
    JobError
        If the cup holds nothing.

    Examples
    --------
    A coat of 25 min, a flash of 5 and a pot life of 60: two coats are through after 55.

    >>> number_of_pots(1200.0, Spraying(4, 25.0, 5.0, 5.0, 60.0))
    2
    >>> number_of_pots(1200.0, Spraying(4, 25.0, 5.0, 5.0, 60.0), room_ml=200.0)
    8
    """
    coats = spraying.coats
    most = float(coats)
    fills = 1.0
    if room_ml is not None:
        if not (room_ml > 0.0 and math.isfinite(ready_ml / room_ml)):
            message = f"The cup must hold more than 0 ml, not {room_ml:g}."
            raise JobError(message)
        most = min(most, coats * room_ml / ready_ml)
        fills = max(fills, ready_ml / coats / room_ml)
    left_min = spraying.sprayed_min
    if left_min is not None:
        flash_min, coat_min = spraying.flash_min, spraying.coat_min
        if coat_min > 0.0:
            most = min(most, (left_min + flash_min) / (coat_min + flash_min))
            fills = max(fills, coat_min / left_min)
    if most + _SLACK < 1.0:
        return coats * math.ceil(fills - _SLACK)
    return next(
        pots
        for pots in range(1, coats + 1)
        if coats % pots == 0 and coats <= pots * (most + _SLACK)
    )
