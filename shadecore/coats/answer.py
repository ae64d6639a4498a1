"""What an answer holds."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.count import Counts
from shadecore.coats.flags import Flag
from shadecore.coats.settings import Settings
from shadecore.colour.topcoat import Topcoat
from shadecore.undercoats.shelf import Undercoat


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
        Colour difference left after each coat, middle of the likely paints.
        [CIEDE2000]
    lab : tuple
        L*, a*, b* after each coat, as it would look.
    paint_ml_per_m2 : float or None
        Ready-to-spray paint for the coats, overspray included. [ml/m2]
    lightness_gap : float
        How far the undercoat is from the topcoat in L*.
    flags : tuple of Flag
        Warnings.
    """

    undercoat: Undercoat
    count: Count
    coats_average: float
    difference: tuple[float, ...]
    lab: tuple[tuple[float, float, float], ...]
    paint_ml_per_m2: float | None
    lightness_gap: float
    flags: tuple[Flag, ...]

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
        For each coat, the share of an undercoat's light that still comes through
        at each wavelength (rise in reading from a black to a white undercoat).
    """

    full: tuple[float, ...]
    see_through: tuple[tuple[float, ...], ...]


@dataclass(frozen=True)
class Answer:
    """The answer for one topcoat.

    Attributes
    ----------
    topcoat : Topcoat
        The colour asked for.
    settings : Settings
        What was assumed.
    outlooks : tuple of Outlook
        Best first; the last may be a blend's.
    recommended : Outlook
        Fewest coats.
    closest : Outlook
        Closest in lightness on the shelf.
    hiding : Hiding
        How the topcoat hides by itself.
    bands : Bands
        Where the film is closed.
    nearest_recipe : float
        Difference to the nearest recipe. [CIEDE2000]
    basis : str
        What the paint is known from: ``colour``, ``spectrum``, ``photo`` or
        ``test card``.
    """

    topcoat: Topcoat
    settings: Settings
    outlooks: tuple[Outlook, ...]
    recommended: Outlook
    closest: Outlook
    hiding: Hiding
    bands: Bands
    nearest_recipe: float
    basis: str = "colour"

    @property
    def flags(self) -> tuple[Flag, ...]:
        """Flags of the recommended undercoat."""
        return self.recommended.flags


@dataclass(frozen=True)
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
    nearest : array, shape (colours,)
        Difference to the nearest recipe. [CIEDE2000]
    """

    counts: Counts
    order: NDArray[np.intp]
    closest: NDArray[np.intp]
    contrast_ratio: NDArray[np.float64]
    nearest: NDArray[np.float64]

    @property
    def recommended(self) -> NDArray[np.intp]:
        """Undercoat with the fewest coats for each colour, shape (colours,)."""
        return self.order[:, 0]
