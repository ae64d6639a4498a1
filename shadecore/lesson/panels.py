"""The same film over five undercoats, coat by coat."""

from dataclasses import dataclass
from functools import cache

import numpy as np

from shadecore.coats.answer import Answer, Outlook
from shadecore.coats.paints import Paints
from shadecore.coats.pick import pick
from shadecore.coats.settings import Settings
from shadecore.colour.appearance import WAVELENGTHS_NM, colour_difference
from shadecore.colour.topcoat import Topcoat
from shadecore.lesson.colours import Shown, shown
from shadecore.recipes.library import RecipeLibrary
from shadecore.undercoats.shelf import Shelf, Undercoat
from shadecore.undercoats.shelf_table import demo_shelf


@dataclass(frozen=True)
class Strip:
    """One undercoat and the film growing on it.

    Sequences start with the bare undercoat and go on coat by coat to the cap.

    Attributes
    ----------
    undercoat : Undercoat
        What lies under the film.
    estimate : Outlook
        Coats over it with their interval, over all likely paints.
    film : tuple of Shown
        Its colour after 0, 1, ... coats.
    difference : tuple of float
        Difference to the full colour after 0, 1, ... coats. [CIEDE2000]
    hides_from : int or None
        Coats from which the film shown hides, which are the estimate's; None where it
        does not within the cap.
    """

    undercoat: Undercoat
    estimate: Outlook
    film: tuple[Shown, ...]
    difference: tuple[float, ...]
    hides_from: int | None

    def hides(self, coats: int) -> bool:
        """Whether the film shown hides after some coats.

        Parameters
        ----------
        coats : int
            0 to the cap.

        Returns
        -------
        bool
        """
        return self.hides_from is not None and coats >= self.hides_from


@dataclass(frozen=True, eq=False)
class Lesson:
    """One colour over the undercoats, with why it hides where it does.

    Attributes
    ----------
    answer : Answer
        The pick from these undercoats.
    full : Shown
        The full colour.
    panels : tuple of Strip
        One for each undercoat, in the order given.
    see_through : tuple of tuple of float
        After 0, 1, ... coats, the share of an undercoat's light that still comes
        through at each wavelength.
    reflectance : tuple of float
        Of the film that hides, at the same wavelengths.
    """

    answer: Answer
    full: Shown
    panels: tuple[Strip, ...]
    see_through: tuple[tuple[float, ...], ...]
    reflectance: tuple[float, ...]

    @property
    def topcoat(self) -> Topcoat:
        """The colour."""
        return self.answer.topcoat

    @property
    def settings(self) -> Settings:
        """What was assumed."""
        return self.answer.settings

    @property
    def any_outside(self) -> bool:
        """Whether a screen cannot show one of the colours as it is."""
        colours = [self.full, *(one for each in self.panels for one in each.film)]
        return any(each.outside for each in colours)


@cache
def lesson(
    topcoat: Topcoat,
    settings: Settings | None = None,
    undercoats: Shelf | None = None,
    paints: Paints | None = None,
    library: RecipeLibrary | None = None,
) -> Lesson:
    """Follow one film over each undercoat.

    Parameters
    ----------
    topcoat : Topcoat
        The colour.
    settings : Settings, optional
        Tolerance, film and cap.
    undercoats : tuple of Undercoat, optional
        What to compare; the invented shelf unless given.
    paints : Paints, optional
        What a test card says the paint is; worked out from the colour unless given.
    library : RecipeLibrary, optional
        Plausible recipes.

    Returns
    -------
    Lesson

    Raises
    ------
    ShelfError
        If the shelf is empty or two undercoats share a name.
    """
    settings = settings or Settings()
    undercoats = demo_shelf() if undercoats is None else undercoats
    answer = pick(topcoat, undercoats, settings, paints=paints, library=library)
    return lesson_of(answer, undercoats)


def lesson_of(answer: Answer, undercoats: Shelf) -> Lesson:
    """The lesson of an answer that is already there.

    Parameters
    ----------
    answer : Answer
        The pick from these undercoats.
    undercoats : tuple of Undercoat
        The same, in the order to show them.

    Returns
    -------
    Lesson
    """
    estimates = {each.undercoat.name: each for each in answer.outlooks}
    (full,) = shown([answer.topcoat.lab])
    bare = (1.0,) * WAVELENGTHS_NM.size
    bands = answer.bands
    return Lesson(
        answer,
        full,
        tuple(_panel(full, estimates[each.name]) for each in undercoats),
        (bare, *bands.see_through),
        bands.full,
    )


def _panel(full: Shown, estimate: Outlook) -> Strip:
    bare = np.array([estimate.undercoat.lab])
    film = np.array(estimate.lab)
    before = float(colour_difference(bare, full.lab)[0])
    return Strip(
        estimate.undercoat,
        estimate,
        shown(np.concatenate([bare, film])),
        (before, *estimate.difference),
        estimate.coats,
    )
