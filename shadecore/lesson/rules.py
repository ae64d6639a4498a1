"""Matching by lightness beside the fewest coats, colour by colour."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from shadecore.coats.pick_many import pick_many
from shadecore.coats.settings import Settings
from shadecore.lesson.colours import Example
from shadecore.recipes.library import RecipeLibrary
from shadecore.undercoats.shelf import Shelf, Undercoat
from shadecore.undercoats.shelf_table import demo_shelf


@dataclass(frozen=True)
class Ruled:
    """What the two rules cost for one colour.

    Attributes
    ----------
    name : str
        The colour.
    best, closest : Undercoat
        The undercoat with the fewest coats, and the closest in lightness.
    best_coats, closest_coats : int
        Coats over them; one more than the cap stands for "not within it".
    cap : int
        Coats counted at most.
    """

    name: str
    best: Undercoat
    best_coats: int
    closest: Undercoat
    closest_coats: int
    cap: int

    @property
    def lightness_works(self) -> bool:
        """Whether the closest in lightness takes no coat more."""
        return self.closest_coats == self.best_coats


def compare_rules(
    colours: Sequence[Example],
    settings: Settings | None = None,
    undercoats: Shelf | None = None,
    library: RecipeLibrary | None = None,
) -> tuple[Ruled, ...]:
    """Work out what the two rules cost.

    Parameters
    ----------
    colours : sequence of Example
        One or more.
    settings : Settings, optional
        Tolerance, film and cap.
    undercoats : tuple of Undercoat, optional
        What to choose from; the invented shelf unless given.
    library : RecipeLibrary, optional
        Plausible recipes.

    Returns
    -------
    tuple of Ruled
        One for each colour, in their order.
    """
    undercoats = demo_shelf() if undercoats is None else undercoats
    lab = np.array([each.topcoat.lab for each in colours])
    picks = pick_many(lab, undercoats, settings, library)
    coats = picks.counts.coats
    return tuple(
        Ruled(
            each.name,
            undercoats[best],
            int(coats[row, best]),
            undercoats[closest],
            int(coats[row, closest]),
            picks.counts.cap,
        )
        for row, (each, best, closest) in enumerate(
            zip(colours, picks.recommended, picks.closest, strict=True)
        )
    )
