"""A colour of the book as the question that it was kept with."""

from dataclasses import replace

from shadecore.book.records import BookColour
from shadecore.colour.angles import AngleReadings, angle_readings
from shadecore.colour.condition import WORKING
from shadecore.colour.kinds import NOT_SAID, SOLID
from shadecore.errors import ShadecoreError
from shadecore.question.question import PhotoDoubt, Question
from shadecore.question.read_plain import Read, from_plain


def asked_of(colour: BookColour) -> Read:
    """The question of a colour, without what was seen of it.

    Parameters
    ----------
    colour : BookColour
        The colour.

    Returns
    -------
    Read
        As it was kept; the colour by itself where it was kept without a question.
    """
    if colour.question:
        return from_plain(colour.question)
    words = colour.entered or " ".join(map(repr, colour.lab))
    question = Question(
        words,
        kind=NOT_SAID if colour.kind == SOLID else colour.kind,
        condition=colour.condition if colour.entered else WORKING,
        photo=PhotoDoubt(colour.photo_spread) if colour.photo_spread else None,
    )
    try:
        question.topcoat  # noqa: B018 - raises where the words cannot be read
    except ShadecoreError:
        # Files of instruments have conditions that words cannot be read under.
        lab = " ".join(map(repr, colour.lab))
        question = replace(question, colour=lab, condition=WORKING)
    angles = readings_of(colour)
    if angles is None:
        return Read(question, ())
    return Read(replace(question, angles=angles, colour="", condition=WORKING), ())


def readings_of(colour: BookColour) -> AngleReadings | None:
    """A colour's readings at several angles.

    Parameters
    ----------
    colour : BookColour
        The colour.

    Returns
    -------
    AngleReadings or None
        None where there are none, or none that can be asked about.
    """
    spectra = all(each.reflectance for each in colour.angles)
    try:
        return angle_readings(
            [
                (each.aspecular_deg, each.reflectance if spectra else each.lab)
                for each in colour.angles
            ]
        )
    except ShadecoreError:
        return None
