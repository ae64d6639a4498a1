"""What an answer holds."""

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.belief import Belief
from shadecore.coats.count import Counts
from shadecore.coats.film_shown import FilmShown
from shadecore.coats.flags import Flag
from shadecore.coats.paints import FACE_DEG, Paints
from shadecore.coats.rests_on import RestsOn
from shadecore.coats.seen import Seen
from shadecore.coats.settings import Settings
from shadecore.colour.topcoat import Topcoat
from shadecore.undercoats.shelf import Undercoat

if TYPE_CHECKING:
    import pandas as pd


@dataclass(frozen=True)
class Count:
    """A number of coats, with how sure it is.

    Attributes
    ----------
    coats : int or None
        Coats to hide, middle of what is likely; None where it lies beyond the cap.
    low, high : int or None
        Ends of the 90 percent interval; None where one lies beyond the cap.
    chance : tuple of float
        Probability that it hides by each coat, from the first to the cap.
    """

    coats: int | None
    low: int | None
    high: int | None
    chance: tuple[float, ...]

    @property
    def cap(self) -> int:
        """Coats counted at most."""
        return len(self.chance)


@dataclass(frozen=True)
class Outlook:
    """What one undercoat does under the topcoat.

    Attributes
    ----------
    undercoat : Undercoat
        The undercoat.
    count : Count
        Coats to hide.
    coats_average : float
        Mean count, with "not within the cap" counted as one more than the cap.
    difference : tuple of float
        Colour difference that the film shown has left after each coat, the largest
        over the angles. [CIEDE2000]
    lab : tuple
        L*, a*, b* of the film shown after each coat, looked at squarely.
    paint_ml_per_m2 : float or None
        Ready-to-spray paint for the coats, overspray included. [ml/m2]
    lightness_gap : float
        How far the undercoat is from the topcoat in L*.
    flags : tuple of Flag
        Warnings.
    last_angle : float
        Degrees from the mirror direction at which the film shown is the last to come
        within the tolerance.
    """

    undercoat: Undercoat
    count: Count
    coats_average: float
    difference: tuple[float, ...]
    lab: tuple[tuple[float, float, float], ...]
    paint_ml_per_m2: float | None
    lightness_gap: float
    flags: tuple[Flag, ...]
    last_angle: float = FACE_DEG

    @property
    def coats(self) -> int | None:
        """Coats to hide; None where it does not within the cap."""
        return self.count.coats


@dataclass(frozen=True)
class Hiding:
    """How the topcoat hides by itself.

    Attributes
    ----------
    contrast_ratio : float
        Over black and white at the stated film, middle of the likely paints. 0..1
    low, high : float
        Its 90 percent interval.
    film_um : float
        The stated dry film. [um]
    rating : str
        ``good``, ``fair`` or ``poor``.
    """

    contrast_ratio: float
    low: float
    high: float
    film_um: float
    rating: str


@dataclass(frozen=True)
class Bands:
    """Where in the spectrum the film is closed, for the curves.

    Attributes
    ----------
    full : tuple of float
        Reflectance of the film that hides, 31 wavelengths.
    see_through : tuple of tuple of float
        For each coat of the film shown over the recommended undercoat, the share of
        an undercoat's light that still comes through at each wavelength (rise in
        reading from a black to a white undercoat).
    """

    full: tuple[float, ...]
    see_through: tuple[tuple[float, ...], ...]


@dataclass(frozen=True, repr=False)
class Answer:
    """The answer for one topcoat.

    Attributes
    ----------
    topcoat : Topcoat
        The colour asked for.
    settings : Settings
        What was assumed.
    outlooks : tuple of Outlook
        One for each undercoat on the shelf, best first.
    recommended : Outlook
        Fewest coats, off the shelf.
    closest : Outlook
        Closest in lightness on the shelf.
    hiding : Hiding
        How the topcoat hides by itself.
    bands : Bands
        Where the film is closed; empty for paints that have no one spectrum.
    nearest_recipe : float
        Difference to the nearest recipe. [CIEDE2000]
    basis : str
        What the paint is known from: ``colour``, ``spectrum``, ``photo`` or
        ``test card``.
    paints : Paints
        The likely paints.
    belief : Belief
        The same with their loadings and what the records say of both.
    film : FilmShown
        The one film shown over each undercoat, in the order of ``outlooks``.
    poor_chance : float
        Chance that the recommended undercoat needs more than the usual coats, or more
        film than the limit. 0..1
    without_records : Count
        Coats over the recommended undercoat if nothing had been seen.
    rests_on : tuple of RestsOn
        The records behind the answer.
    mix : Outlook or None
        The best mix of two undercoats, where mixing saves a coat.
    left_out : int
        Older records that do not count, as there are more than are worked out.
    """

    topcoat: Topcoat
    settings: Settings
    outlooks: tuple[Outlook, ...]
    recommended: Outlook
    closest: Outlook
    hiding: Hiding
    bands: Bands
    nearest_recipe: float
    basis: str
    paints: Paints = field(repr=False, compare=False)
    belief: Belief = field(repr=False, compare=False)
    film: FilmShown = field(repr=False, compare=False)
    poor_chance: float
    without_records: Count
    rests_on: tuple[RestsOn, ...] = ()
    mix: Outlook | None = None
    left_out: int = 0

    @property
    def lines(self) -> tuple[Outlook, ...]:
        """Everything to list: the shelf, best first, then a mix that saves a coat."""
        return self.outlooks if self.mix is None else (*self.outlooks, self.mix)

    @property
    def seen(self) -> tuple[Seen, ...]:
        """The records behind the answer."""
        return tuple(each.seen for each in self.rests_on)

    @property
    def guessed(self) -> bool:
        """Whether nothing but the colour is known, so that hiding is a guess."""
        return self.basis in {"colour", "photo", "angles"} and not self.rests_on

    @property
    def flags(self) -> tuple[Flag, ...]:
        """Flags of the recommended undercoat."""
        return self.recommended.flags

    # How an answer looks is the business of a higher room, which is asked only where
    # somebody looks.
    def __repr__(self) -> str:
        from shadecore.pages.notebook import answer_line  # noqa: PLC0415

        return answer_line(self)

    def _repr_html_(self) -> str:
        from shadecore.pages.notebook import answer_html  # noqa: PLC0415

        return answer_html(self)

    def to_frame(self) -> "pd.DataFrame":
        """A row for each undercoat, best first; see :mod:`shadecore.pages.notebook`."""
        from shadecore.pages.notebook import answer_frame  # noqa: PLC0415

        return answer_frame(self)


@dataclass(frozen=True, repr=False)
class Picks:
    """Answers for many topcoats, as arrays.

    Attributes
    ----------
    counts : Counts
        Coats of each colour over each undercoat.
    order : array of int, shape (colours, undercoats)
        Undercoats from best to worst.
    closest : array of int, shape (colours,)
        Undercoat closest in lightness.
    contrast_ratio : array, shape (colours,)
        Hiding at the stated film.
    contrast_low, contrast_high : array, shape (colours,)
        Its 90 percent interval.
    poor_chance : array, shape (colours,)
        Chance that the recommended undercoat needs more than the usual coats, or more
        film than the limit.
    nearest : array, shape (colours,)
        Difference to the nearest recipe. [CIEDE2000]
    """

    counts: Counts
    order: NDArray[np.intp]
    closest: NDArray[np.intp]
    contrast_ratio: NDArray[np.float64]
    contrast_low: NDArray[np.float64]
    contrast_high: NDArray[np.float64]
    poor_chance: NDArray[np.float64]
    nearest: NDArray[np.float64]

    @property
    def recommended(self) -> NDArray[np.intp]:
        """Undercoat with the fewest coats for each colour, shape (colours,)."""
        return self.order[:, 0]

    def __repr__(self) -> str:
        from shadecore.pages.notebook import picks_line  # noqa: PLC0415

        return picks_line(self)

    def to_frame(self) -> "pd.DataFrame":
        """A row for each colour; see :mod:`shadecore.pages.notebook`."""
        from shadecore.pages.notebook import picks_frame  # noqa: PLC0415

        return picks_frame(self)
