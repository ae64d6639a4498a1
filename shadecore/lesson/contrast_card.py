"""A simulated black-and-white contrast card, coat by coat, and who calls it hidden."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.answer import Answer, Count
from shadecore.coats.belief import Belief, count_films
from shadecore.coats.chart import chart_halves
from shadecore.coats.contrast import contrast_ratios
from shadecore.coats.count import INTERVAL, weighted_quantile
from shadecore.coats.evidence import EYE_TOLERANCE
from shadecore.coats.paints import face
from shadecore.coats.pick import count_of
from shadecore.coats.thickness import FILMS_UM, hidden_from, last_crossing
from shadecore.colour.appearance import colour_difference
from shadecore.film.drawdown import CHART_WHITE, COMPLETE_HIDING
from shadecore.lesson.colours import Shown, shown


@dataclass(frozen=True)
class Judge:
    """One way to call the card hidden.

    Attributes
    ----------
    name : str
        Who judges.
    rule : str
        By what, in a few words.
    limit : float
        Difference up to which it calls the halves the same.
    difference : tuple of float
        What it sees between the halves after 0, 1, ... coats.
    hidden_from : int or None
        Coats from which it calls the film shown hidden; None for not within the cap.
    low, high : int or None
        The 90 percent interval over all likely paints; None for beyond the cap.
    """

    name: str
    rule: str
    limit: float
    difference: tuple[float, ...]
    hidden_from: int | None
    low: int | None
    high: int | None

    def hidden(self, coats: int) -> bool:
        """Whether it calls the card hidden after some coats.

        Parameters
        ----------
        coats : int
            0 to the cap.

        Returns
        -------
        bool
        """
        return self.hidden_from is not None and coats >= self.hidden_from


@dataclass(frozen=True)
class ContrastCard:
    """The card with the film on it.

    Sequences start with the bare card and go on coat by coat to the cap.

    Attributes
    ----------
    over_black, over_white : tuple of Shown
        The film on each half.
    contrast_ratio : tuple of float
        Luminous reflectance over black by that over white, of the film shown. 0..1
    low, high : tuple of float
        Its 90 percent interval over all likely paints.
    hidden_from : int or None
        Coats from which the ratio stays at 0.98; None for not within the cap.
    judges : tuple of Judge
        A spectral reading, a lightness match and the eye.

    References
    ----------
    .. [1] ISO 6504-3; ASTM D2805.
    """

    over_black: tuple[Shown, ...]
    over_white: tuple[Shown, ...]
    contrast_ratio: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]
    hidden_from: int | None
    judges: tuple[Judge, ...]


def contrast_card(answer: Answer) -> ContrastCard:
    """Spray the film shown on a black-and-white card.

    Parameters
    ----------
    answer : Answer
        What is known of the topcoat.

    Returns
    -------
    ContrastCard
    """
    film, settings = answer.film, answer.settings
    films_um = film.films_um(0, settings)
    full = film.paint.full_lab()[0]
    angle = face(film.paint)
    over = film.paint.lab_over(chart_halves(), films_um)[0] - full[angle]
    lab = np.array(answer.topcoat.lab) + over[:, :, angle]
    own = np.concatenate([_bare()[:, None, :], lab], axis=1)
    ratio = contrast_ratios(film.paint, films_um)[0]
    low, high = _ratio_interval(answer.belief, settings.films_um)
    return ContrastCard(
        shown(own[0]),
        shown(own[1]),
        (0.0, *map(float, ratio)),
        (0.0, *map(float, np.minimum(low, ratio))),
        (0.0, *map(float, np.maximum(high, ratio))),
        _stays(1.0 - ratio, 1.0 - COMPLETE_HIDING),
        _judges(answer, own),
    )


def _bare() -> NDArray[np.float64]:
    """Lab of the bare halves, black and white, shape (2, 3)."""
    white = 116.0 * np.cbrt(CHART_WHITE) - 16.0
    return np.array([[0.0, 0.0, 0.0], [white, 0.0, 0.0]])


def _ratio_interval(
    belief: Belief, films_um: NDArray[np.floating]
) -> tuple[NDArray[np.floating], NDArray[np.floating]]:
    """Ends of the 90 percent interval of the contrast ratio after each coat."""
    held = belief.spread_out()
    solved = contrast_ratios(held.paints, FILMS_UM)
    at = np.log(films_um)[:, None] + held.ln_loading
    ratios = np.stack([np.interp(at, np.log(FILMS_UM), row) for row in solved])
    weight = held.weight.ravel()
    tail = (1.0 - INTERVAL) / 2.0
    by_coat = np.moveaxis(ratios, 1, 0).reshape(len(films_um), -1)
    low, high = (
        weighted_quantile(by_coat, weight, share) for share in (tail, 1.0 - tail)
    )
    return low, high


def _judges(answer: Answer, own: NDArray[np.floating]) -> tuple[Judge, ...]:
    """What each judge sees between the halves, of the film shown and of all paints."""
    angle = face(answer.paints)
    halves = answer.paints.lab_over(chart_halves(), FILMS_UM)[..., angle, :]
    seen = colour_difference(halves[:, 0], halves[:, 1])
    lightness = np.abs(halves[:, 0, :, 0] - halves[:, 1, :, 0])
    shown_seen = colour_difference(own[0], own[1])
    shown_lightness = np.abs(own[0, :, 0] - own[1, :, 0])
    limit = answer.settings.tolerance
    spectral = (shown_seen, _count(answer, seen, limit))
    matched = (shown_lightness, _count(answer, lightness, limit))
    looked = (shown_seen, _count(answer, seen, EYE_TOLERANCE))
    return (
        _judge("An instrument", "difference in CIEDE2000", limit, spectral),
        _judge("Lightness match", "difference in L* alone", limit, matched),
        _judge("The eye", "just noticed, CIEDE2000", EYE_TOLERANCE, looked),
    )


def _count(answer: Answer, difference: NDArray[np.floating], limit: float) -> Count:
    ln_film = last_crossing(difference, np.log(FILMS_UM), limit)
    counts = count_films(answer.belief, ln_film[:, None], answer.settings.films_um)
    return count_of(counts, 0)


def _judge(
    name: str, rule: str, limit: float, seen: tuple[NDArray[np.floating], Count]
) -> Judge:
    difference, count = seen
    return Judge(
        name,
        rule,
        limit,
        tuple(map(float, difference)),
        _stays(difference[1:], limit),
        count.low,
        count.high,
    )


def _stays(difference: NDArray[np.floating], limit: float) -> int | None:
    """Coats from which a difference stays within a limit; None for not at all."""
    coats = int(hidden_from(difference, limit))
    return coats if coats <= len(difference) else None
