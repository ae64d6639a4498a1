"""Cautions about areas of a picture, in sentences for the painter."""

from typing import Final

from shadecore.photo.area import AreaReading
from shadecore.units import percent

NO_REFERENCE: Final = (
    "Nothing neutral is marked, so the light and the exposure are guessed; put a grey "
    "card or matt white paper beside the swatch."
)
_WARN_CLIPPED: Final = 0.02
_WARN_DARK: Final = 0.20
_WARN_REJECTED: Final = 0.40
"""Shares of an area above which the painter is told; this tool's own limits."""


def area_cautions(what: str, reading: AreaReading) -> tuple[str, ...]:
    """Say what disturbs an area that was read.

    Parameters
    ----------
    what : str
        What the area is: ``swatch`` or ``reference``.
    reading : AreaReading
        What was read.

    Returns
    -------
    tuple of str
        One sentence each; empty where nothing disturbs it.
    """
    told = []
    if any(reading.at_limit):
        told.append(
            "A channel of the swatch is overexposed all over, so its colour is lighter "
            "or stronger than read; take the picture darker."
        )
    elif reading.clipped > _WARN_CLIPPED:
        told.append(
            f"{percent(reading.clipped)} of the {what} is overexposed; take the "
            "picture darker or turn the reflection away."
        )
    if any(reading.at_floor) and what == "swatch":
        told.append(
            "The swatch's colour is stronger than the picture can hold: a channel of "
            "it is black; set the camera's white balance to the light, or take the "
            "picture as Display P3."
        )
    if reading.dark > _WARN_DARK:
        told.append(
            f"{percent(reading.dark)} of the {what} is too dark to read; take the "
            "picture lighter."
        )
    if reading.rejected > _WARN_REJECTED:
        told.append(
            f"{percent(reading.rejected)} of the {what} was left out as reflection, "
            "dirt or edge; mark an even part of it."
        )
    if reading.sparkle and what == "swatch":
        told.append(
            "The swatch sparkles like a metallic or pearl colour: a photo shows it "
            "from one side only and cannot tell how light it is from the others."
        )
    return tuple(told)
