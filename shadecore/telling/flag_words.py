"""Warnings that go with an answer, by the code that the engine gives each."""

from typing import Final, NamedTuple

from shadecore.coats.flags import Flag


class Warned(NamedTuple):
    """A warning in words.

    Attributes
    ----------
    headline : str
        What it is, in a few words, without a full stop.
    advice : str
        What to do about it, in one sentence.
    """

    headline: str
    advice: str


_LEAVE_FREE: Final = "They all hide it within a coat of each other; use what is open."
WARNINGS: Final = {
    "hides-poorly": Warned(
        "Likely to hide poorly over any sealer here",
        "Put a ground coat of a similar hue under it, or use a coloured sealer, "
        "before spending paint on more coats.",
    ),
    "film-limit": Warned(
        "Needs more film than the limit",
        "Spray a ground coat of a similar hue first, or use a coloured sealer; "
        "thick base coat traps solvent.",
    ),
    "not-within-cap": Warned(
        "Does not hide within the coats counted",
        "Choose another sealer, or a ground coat of a similar hue first.",
    ),
    "wide-interval": Warned(
        "Too uncertain to plan on",
        "Spray out a test card with the paint as mixed and count the coats there.",
    ),
    "outside-recipes": Warned(
        "Colour outside what the recipes cover",
        "Check the reading and the kind of colour, and trust a sprayed-out test card "
        "alone; fluorescent colours are not covered.",
    ),
    "too-dark-to-matter": Warned("Too dark for the sealer to matter", _LEAVE_FREE),
    "too-light-to-matter": Warned("Too light for these sealers to matter", _LEAVE_FREE),
    "undercoats-alike": Warned("The sealers here do equally well", _LEAVE_FREE),
}
"""What each flag says, by ``Flag.code``."""


def warning_of(flag: Flag) -> Warned:
    """What a flag says.

    Parameters
    ----------
    flag : Flag
        As the engine raised it.

    Returns
    -------
    Warned
    """
    return WARNINGS[flag.code]


def warning_words(flag: Flag) -> str:
    """A flag as headline and advice, two sentences.

    Parameters
    ----------
    flag : Flag
        As the engine raised it.

    Returns
    -------
    str
    """
    warned = warning_of(flag)
    return f"{warned.headline}. {warned.advice}"
