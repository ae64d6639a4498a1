"""A colour read off a photo, in words."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from shadecore.coats.uncertain import Choice, settled
from shadecore.colour.topcoat import Lab
from shadecore.question.question import PhotoDoubt, Question
from shadecore.telling.colours import lab_words
from shadecore.units import percent

if TYPE_CHECKING:
    from shadecore.photo.measure import PhotoColour

PHOTO_SURE: Final = "95 %"
"""How the interval of a photographed colour is headed."""
DRIVERS: Final = {
    "noise": "grain and unevenness of the picture",
    "reference": "how well the reference's colour is known",
    "light": "light that differs between reference and swatch",
    "camera": "how the camera turns light into colour",
}
"""What the doubt comes from, by ``Driver.name``."""
_CLOSER: Final = {
    "noise": "mark a larger, even part of the swatch",
    "reference": "use a grey card of known L*",
    "light": "lay the reference right beside the swatch, in even light",
    "camera": "photograph a 24-patch chart beside it, in daylight",
}
"""What narrows each of them."""
_CLOSER_THAN_A_CHART: Final = "measure the swatch with an instrument"


def photo_colour_words(colour: "PhotoColour") -> str:
    """Colour with its 95 percent interval.

    Parameters
    ----------
    colour : PhotoColour
        The colour.

    Returns
    -------
    str
    """
    return _with_doubt(colour.lab, colour.interval)


def asked_lab_words(lab: Lab, doubt: PhotoDoubt | None) -> str:
    """Lab of what is asked, with its doubt where it was read off a photo.

    Parameters
    ----------
    lab : tuple of float
        L*, a*, b*.
    doubt : PhotoDoubt or None
        None where it was not read off a photo.

    Returns
    -------
    str
        With the heading of the interval, where there is one.
    """
    if doubt is None:
        return lab_words(lab)
    # Reading pictures takes long to load, and most questions have none.
    from shadecore.photo.measure import NORMAL_95  # noqa: PLC0415

    variances = doubt.covariance.diagonal()
    halves = [NORMAL_95 * float(each) ** 0.5 for each in variances]
    return f"{_with_doubt(lab, halves)} ({PHOTO_SURE}, read off a photo)"


def _with_doubt(lab: Sequence[float], halves: Sequence[float]) -> str:
    return ", ".join(
        f"{name}* {round(value, 1) + 0.0:.1f} ± {half:.1f}"
        for name, value, half in zip("Lab", lab, halves, strict=True)
    )


def driver_words(colour: "PhotoColour") -> str:
    """What the doubt comes from most, and what would narrow it.

    Parameters
    ----------
    colour : PhotoColour
        The colour.

    Returns
    -------
    str
    """
    first = colour.drivers[0]
    if colour.source == "nothing":
        return (
            "Most of the doubt is the light and the exposure, which nothing here "
            "tells; to narrow it, lay a grey card or matt white paper right beside the "
            "swatch."
        )
    advice = _CLOSER[first.name]
    if colour.source == "chart" and first.name in {"camera", "reference"}:
        advice = _CLOSER_THAN_A_CHART
    return f"Most of the doubt is {DRIVERS[first.name]}; to narrow it, {advice}."


def choice_words(choices: tuple[Choice, ...]) -> str:
    """Whether one undercoat comes out, or one of two.

    Parameters
    ----------
    choices : tuple of Choice
        Undercoats that come out, most frequent first.

    Returns
    -------
    str
    """
    first, *others = choices
    if settled(choices) or not others:
        first = max(choices, key=lambda each: each.share)
        return (
            f"{first.undercoat.name} stays the pick for {percent(first.share)} of the "
            "colours that the photo allows."
        )
    second = others[0]
    return (
        f"Either {first.undercoat.name} ({percent(first.share)} of the colours that "
        f"the photo allows) or {second.undercoat.name} ({percent(second.share)}): take "
        "a reading with an instrument, or a photo with a chart, before you decide."
    )


CORNER_PATCHES: Final = "Corner patches of the chart"
SURE_OF_ONE: Final = "Yes, it lies there"
SURE: Final = "Yes, they all do"
"""Buttons that confirm one guessed mark, and several."""


def sure_words(marks: Sequence[str]) -> str:
    """Question whether guessed marks lie on what they are called.

    Parameters
    ----------
    marks : sequence of str
        What the marks are called, such as "Grey card".

    Returns
    -------
    str
    """
    if are_several(marks):
        first, *others = marks
        small = [f"{each[0].lower()}{each[1:]}" for each in others]
        names = " and ".join([first, *small])
        return (
            f"{names}: do the marks lie on them? The places are guesses, so nothing is "
            "measured until you say yes, or drag the marks onto them."
        )
    return (
        f"{marks[0]}: does the mark lie on it? The place is a guess, so nothing is "
        "measured until you say yes, or drag the mark onto it."
    )


def are_several(marks: Sequence[str]) -> bool:
    """Whether names stand for more than one mark; a chart has four corners.

    Parameters
    ----------
    marks : sequence of str
        What the marks are called.

    Returns
    -------
    bool
    """
    return len(marks) > 1 or CORNER_PATCHES in marks


def one_side_words(question: Question) -> str:
    """What a photo cannot show of the kind of colour; empty for a plain solid.

    Parameters
    ----------
    question : Question
        With the photographed colour and its kind.

    Returns
    -------
    str
    """
    if question.flakes:
        return (
            "A photo shows one side only: its colour is taken for the one seen halfway "
            "(45°), how it turns is guessed, and the photo's own doubt is not in the "
            "coats. Read face and flop with an instrument before you decide."
        )
    if question.over_a_ground:
        return (
            "A photo shows one side only: photograph the ground coat, without "
            "mid-coats or candy over it, for that is what is counted."
        )
    return ""


def odd_words(name: str) -> str:
    """What is said of a photo that does not belong to the others.

    Parameters
    ----------
    name : str
        Its file's name.

    Returns
    -------
    str
    """
    return (
        f"{name} shows another colour than the other photos and is left out; check "
        "what was marked on it."
    )
