"""A topcoat whose colour is not known exactly: what that does to the pick."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shadecore.coats.estimate import LikelyPaints, library_paints
from shadecore.coats.pick_many import pick_many
from shadecore.coats.settings import Settings
from shadecore.colour.convert import MAX_LIGHTNESS, MAX_OPPONENT
from shadecore.recipes.library import RecipeLibrary, recipe_library
from shadecore.undercoats.shelf import Shelf, Undercoat

DRAWS: Final = 64
"""Colours drawn from what the colour may be; with twice as many one pick in forty
changes."""
_SEED: Final = 20_261_125
STABLE_FROM: Final = 0.8
"""Share of those colours from which their common undercoat is called certain; this
tool's own limit."""
WORTH_NAMING: Final = 0.1
"""Share below which an undercoat is not named as the other choice."""


@dataclass(frozen=True)
class Choice:
    """An undercoat and how often it comes out.

    Attributes
    ----------
    undercoat : Undercoat
        The undercoat.
    share : float
        Share of the colours that it is the pick for. 0..1
    """

    undercoat: Undercoat
    share: float


def colours_drawn(lab: ArrayLike, covariance: ArrayLike) -> NDArray[np.float64]:
    """Colours that an uncertain one may be, the middle one first.

    Parameters
    ----------
    lab : array, shape (3,)
        L*, a*, b*.
    covariance : array, shape (3, 3)
        Of their errors.

    Returns
    -------
    array, shape (``DRAWS``, 3)
        The same for the same colour: the draw is seeded.
    """
    rng = np.random.default_rng(_SEED)
    centre = np.asarray(lab, dtype=np.float64)
    drawn = rng.multivariate_normal(
        centre, np.asarray(covariance), DRAWS, method="eigh"
    )
    drawn[0] = centre
    drawn[:, 0] = np.clip(drawn[:, 0], 0.0, MAX_LIGHTNESS)
    drawn[:, 1:] = np.clip(drawn[:, 1:], -MAX_OPPONENT, MAX_OPPONENT)
    # No surface reflects less than nothing: X and Z of CIELAB, whose f is 4/29 for
    # black, stay above 0.
    height = drawn[:, 0] / 116.0
    drawn[:, 1] = np.maximum(drawn[:, 1], -500.0 * height)
    drawn[:, 2] = np.minimum(drawn[:, 2], 200.0 * height)
    return drawn


def uncertain_paints(
    lab: ArrayLike, covariance: ArrayLike, library: RecipeLibrary | None = None
) -> LikelyPaints:
    """Paints that a topcoat of uncertain colour may be.

    Parameters
    ----------
    lab : array, shape (3,)
        L*, a*, b* under the working condition.
    covariance : array, shape (3, 3)
        Of their errors.
    library : RecipeLibrary, optional
        Plausible recipes.

    Returns
    -------
    LikelyPaints
        Those near any of the colours it may be.
    """
    library = library or recipe_library()
    near = library.near(colours_drawn(lab, covariance))
    index, place = np.unique(near.index, return_inverse=True)
    weight = np.bincount(place.ravel(), near.weight.ravel()) / len(near.index)
    return library_paints(library, index, weight, float(near.nearest[0]), "photo")


def settled(found: tuple[Choice, ...]) -> bool:
    """Whether one undercoat comes out for nearly all colours.

    Parameters
    ----------
    found : tuple of Choice
        As :func:`choices` gives them.

    Returns
    -------
    bool
    """
    return max(each.share for each in found) >= STABLE_FROM


def choices(
    lab: ArrayLike,
    covariance: ArrayLike,
    undercoats: Shelf,
    settings: Settings | None = None,
) -> tuple[Choice, ...]:
    """Undercoats that are the pick for the colours that an uncertain one may be.

    Parameters
    ----------
    lab : array, shape (3,)
        L*, a*, b* under the working condition.
    covariance : array, shape (3, 3)
        Of their errors.
    undercoats : tuple of Undercoat
        The shelf.
    settings : Settings, optional
        Tolerance, film and limits.

    Returns
    -------
    tuple of Choice
        Those worth naming, the most frequent first.
    """
    picks = pick_many(colours_drawn(lab, covariance), undercoats, settings)
    counted = np.bincount(picks.recommended, minlength=len(undercoats))
    share = counted / counted.sum()
    order = np.argsort(-share, kind="stable")
    return tuple(
        Choice(undercoats[place], float(share[place]))
        for place in order
        if share[place] >= WORTH_NAMING or place == order[0]
    )
