"""What counts as hidden, and how far the count goes."""

import math
from dataclasses import dataclass, field
from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.errors import SettingError
from shadecore.film.build import CoatFilm
from shadecore.formats.echo import shown

TOLERANCES: Final[dict[str, tuple[float, str]]] = {
    "beside-old-panel": (1.0, "beside an old panel: the eye compares edge to edge"),
    "whole-car": (2.0, "whole car: nothing next to it to compare with"),
}
"""Named tolerances [CIEDE2000]; common practice, no source."""
DEFAULT_TOLERANCE: Final = TOLERANCES["whole-car"][0]

DEFAULT_COAT_CAP: Final = 12
"""Coats counted at most; nobody sprays more, common practice, no source."""
DEFAULT_FILM_LIMIT_UM: Final = 60.0
"""Dry base coat above which solvent stays trapped; common practice, no source."""
DEFAULT_USUAL_COATS: Final = 4
"""More coats than these is poor hiding; three to four are usual, common practice, no
source."""
DEFAULT_HIDING_FILM_UM: Final = 30.0
"""Film for the contrast ratio: three coats of the default film. [um]"""

LARGEST_CAP = 50
TOLERANCE_RANGE = (0.1, 20.0)


@dataclass(frozen=True)
class Settings:
    """How an answer is worked out.

    Attributes
    ----------
    tolerance : float
        Difference to the full colour that counts as hidden. [CIEDE2000]
    film : CoatFilm
        What one coat leaves.
    coat_cap : int
        Coats counted at most.
    film_limit_um : float
        Dry film that should not be exceeded. [um]
    hiding_film_um : float
        Dry film for which the contrast ratio is stated. [um]
    usual_coats : int
        Coats beyond which a colour is said to hide poorly.

    Raises
    ------
    SettingError
        If one of them is outside its range.
    """

    tolerance: float = DEFAULT_TOLERANCE
    film: CoatFilm = field(default_factory=CoatFilm)
    coat_cap: int = DEFAULT_COAT_CAP
    film_limit_um: float = DEFAULT_FILM_LIMIT_UM
    hiding_film_um: float = DEFAULT_HIDING_FILM_UM
    usual_coats: int = DEFAULT_USUAL_COATS

    def __post_init__(self) -> None:
        low, high = TOLERANCE_RANGE
        if not low <= self.tolerance <= high:
            message = (
                f"The tolerance must lie between {low:g} and {high:g} CIEDE2000, not "
                f"{self.tolerance:g}; 1 is usual beside an old panel, 2 on a whole car."
            )
            raise SettingError(message)
        if not 1 <= self.coat_cap <= LARGEST_CAP:
            message = f"The most coats to count must lie between 1 and {LARGEST_CAP}."
            raise SettingError(message)
        if not 1 <= self.usual_coats <= LARGEST_CAP:
            message = f"The usual coats must lie between 1 and {LARGEST_CAP}."
            raise SettingError(message)
        for name, value in (
            ("film limit", self.film_limit_um),
            ("film for the contrast ratio", self.hiding_film_um),
        ):
            if not (math.isfinite(value) and value > 0.0):
                message = f"The {name} must be above 0 um, not {value:g}."
                raise SettingError(message)

    @property
    def coats_allowed(self) -> int:
        """Coats up to which a colour hides well: the usual ones within the film limit.

        0 where one coat is already above the limit.
        """
        within_film = math.floor(self.film_limit_um / self.film.dry_film_um + 1e-9)
        return min(self.usual_coats, within_film)

    @property
    def films_um(self) -> NDArray[np.float32]:
        """Dry film after each coat in um, up to the cap, shape (coats,)."""
        coats = np.arange(1, self.coat_cap + 1, dtype=np.float32)
        return coats * np.float32(self.film.dry_film_um)


def parse_tolerance(text: str) -> float:
    """Tolerance from a number or a name.

    Parameters
    ----------
    text : str
        A CIEDE2000 value, or one of ``TOLERANCES``.

    Returns
    -------
    float

    Raises
    ------
    SettingError
        If it is neither.
    """
    named = TOLERANCES.get(text.strip().lower().replace(" ", "-"))
    if named is not None:
        return named[0]
    try:
        return float(text.replace(",", "."))
    except ValueError:
        message = (
            f"The tolerance {shown(text)} is neither a number nor one of "
            f"{', '.join(TOLERANCES)}."
        )
        raise SettingError(message) from None
