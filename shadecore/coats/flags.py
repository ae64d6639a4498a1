"""Warnings that go with an answer, by their codes."""

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
        What it is; ``telling/flag_words.py`` has the sentences.
    of_colour : bool
        Whether it speaks of the colour over all undercoats, not of one undercoat.
    """

    code: str
    of_colour: bool = False


FLAGS: Final = (
    Flag("hides-poorly", of_colour=True),
    Flag("film-limit"),
    Flag("not-within-cap"),
    Flag("wide-interval"),
    Flag("outside-recipes", of_colour=True),
    Flag("too-dark-to-matter", of_colour=True),
    Flag("too-light-to-matter", of_colour=True),
    Flag("undercoats-alike", of_colour=True),
)


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
