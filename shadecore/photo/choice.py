"""The undercoat for a colour read off a photo, and which others it might be."""

from dataclasses import dataclass

from shadecore.coats.answer import Answer
from shadecore.coats.pick import pick
from shadecore.coats.settings import Settings
from shadecore.coats.uncertain import (
    Choice,
    choices,
    settled,
    uncertain_paints,
)
from shadecore.colour.topcoat import Topcoat
from shadecore.photo.measure import PhotoColour
from shadecore.undercoats.shelf import Shelf


@dataclass(frozen=True)
class PhotoPick:
    """The pick for a colour read off a photo.

    Attributes
    ----------
    answer : Answer
        The pick; its intervals include the error of the colour.
    choices : tuple of Choice
        Undercoats that are best for the colours that the swatch may have: the pick,
        then the others, the most frequent first.
    stable : bool
        Whether a better reading of the colour would hardly change the pick.
    """

    answer: Answer
    choices: tuple[Choice, ...]
    stable: bool


def pick_for_photo(
    colour: PhotoColour,
    shelf: Shelf,
    settings: Settings | None = None,
) -> PhotoPick:
    """Pick the undercoat for a colour read off a photo.

    Blends are left out: a blend gains less than the error of a photo's colour costs.

    Parameters
    ----------
    colour : PhotoColour
        The colour and the covariance of its error.
    shelf : tuple of Undercoat
        The shelf.
    settings : Settings, optional
        Tolerance, film and limits.
    """
    topcoat = Topcoat(colour.lab, "read off a photo")
    paints = uncertain_paints(colour.lab, colour.covariance)
    answer = pick(topcoat, shelf, settings, paints=paints)
    found = choices(colour.lab, colour.covariance, shelf, settings)
    # The recommended undercoat comes first, even where another is more frequent.
    picked = answer.recommended.undercoat
    found = tuple(sorted(found, key=lambda each: each.undercoat != picked))
    return PhotoPick(answer, found, settled(found))
