"""The undercoat for a colour read off a photo: one, or one of two."""

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
        The pick, the photo's doubt in its intervals.
    choices : tuple of Choice
        Undercoats that come out for the colours it may be: the pick, then the others
        by how often.
    stable : bool
        Whether the pick would hardly be another one with a better reading.
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

    Blends are left out: what a blend gains is less than what a photo leaves in doubt.

    Parameters
    ----------
    colour : PhotoColour
        The colour and its doubt.
    shelf : tuple of Undercoat
        The shelf.
    settings : Settings, optional
        Tolerance, film and limits.

    Returns
    -------
    PhotoPick
    """
    topcoat = Topcoat(colour.lab, "read off a photo")
    paints = uncertain_paints(colour.lab, colour.covariance)
    answer = pick(topcoat, shelf, settings, paints=paints)
    found = choices(colour.lab, colour.covariance, shelf, settings)
    # The one that is shown large is named first.
    picked = answer.recommended.undercoat
    found = tuple(sorted(found, key=lambda each: each.undercoat != picked))
    return PhotoPick(answer, found, settled(found))
