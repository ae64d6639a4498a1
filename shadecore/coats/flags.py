"""Warnings that go with an answer, and what to do about each."""

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.count import Counts
from shadecore.coats.settings import Settings

LIKELY: Final = 0.5
"""Chance from which a colour is said to hide poorly."""
FAR_FROM_RECIPES: Final = 3.0
"""Beyond this no recipe resembles the colour; this tool's own limit. [CIEDE2000]"""
DARK_FROM, LIGHT_FROM = 30.0, 70.0
"""L* below and above which a colour is called dark or light; this tool's own limits."""


class Flag(NamedTuple):
    """A warning.

    Attributes
    ----------
    code : str
        For programs and tables.
    headline : str
        What it is, in a few words.
    advice : str
        What to do about it, in one sentence.
    of_colour : bool
        Whether it speaks of the colour over all undercoats, not of one undercoat.
    """

    code: str
    headline: str
    advice: str
    of_colour: bool = False


FLAGS: Final = (
    Flag(
        "hides-poorly",
        "Hides poorly on any undercoat here",
        "Put a ground coat of a similar hue under it, or use a coloured undercoat, "
        "before spending paint on more coats.",
        of_colour=True,
    ),
    Flag(
        "film-limit",
        "Needs more film than the limit",
        "Spray a ground coat of a similar hue first, or use a coloured undercoat; "
        "thick base coat traps solvent.",
    ),
    Flag(
        "not-within-cap",
        "Does not hide within the coats counted",
        "Choose another undercoat, or a ground coat of a similar hue first.",
    ),
    Flag(
        "wide-interval",
        "Too uncertain to plan on",
        "Spray out a test card with the paint as mixed and count the coats there.",
    ),
    Flag(
        "outside-recipes",
        "Colour outside what the recipes cover",
        "Check the reading; effect and fluorescent colours are not covered, so trust "
        "a sprayed-out test card alone.",
        of_colour=True,
    ),
    Flag(
        "too-dark-to-matter",
        "Too dark for the undercoat to matter",
        "All of them hide it within a coat of each other; use what is open.",
        of_colour=True,
    ),
    Flag(
        "too-light-to-matter",
        "Too light for these undercoats to matter",
        "All of them hide it within a coat of each other; use what is open.",
        of_colour=True,
    ),
    Flag(
        "undercoats-alike",
        "The undercoats here do equally well",
        "They hide it within a coat of each other; use what is open.",
        of_colour=True,
    ),
)
BY_CODE: Final = {flag.code: flag for flag in FLAGS}


def raise_flags(
    counts: Counts,
    choice: NDArray[np.intp],
    lightness: NDArray[np.floating],
    nearest: NDArray[np.floating],
    settings: Settings,
) -> list[tuple[Flag, ...]]:
    """Flags of an undercoat under each colour.

    Parameters
    ----------
    counts : Counts
        Coats of each colour over each undercoat.
    choice : array of int, shape (colours,)
        The undercoat of each colour to judge.
    lightness, nearest : array, shape (colours,)
        L* of each colour and its difference to the nearest recipe.
    settings : Settings
        Film per coat and limits.

    Returns
    -------
    list of tuple of Flag
        One tuple for each colour.
    """
    row = np.arange(choice.size)
    coats, high = counts.coats[row, choice], counts.high[row, choice]
    best, worst = counts.coats.min(axis=1), counts.coats.max(axis=1)
    poor = counts.beyond(settings.coats_allowed).min(axis=1) >= LIKELY
    alike = (worst - best <= 1) & ~poor & (counts.coats.shape[1] > 1)
    dark, light = lightness < DARK_FROM, lightness > LIGHT_FROM
    film = coats * settings.film.dry_film_um
    # A plan can allow for twice the coats, not for more.
    open_ended = (high > 2 * coats + 1) | (high > counts.cap)
    raised = np.stack(
        [
            poor,
            film > settings.film_limit_um,
            coats > counts.cap,
            open_ended,
            nearest > FAR_FROM_RECIPES,
            alike & dark,
            alike & light,
            alike & ~dark & ~light,
        ],
        axis=1,
    )
    return [
        tuple(flag for flag, up in zip(FLAGS, ups, strict=True) if up) for ups in raised
    ]
