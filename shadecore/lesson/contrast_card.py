"""A simulated black-and-white contrast card, coat by coat, and who calls it hidden."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.count import INTERVAL, count_coats, weighted_quantile
from shadecore.coats.course import coats_to_hide, course
from shadecore.coats.hiding import contrast_ratios
from shadecore.coats.settings import TOLERANCES, Settings
from shadecore.colour.appearance import WAVELENGTHS_NM, colour_difference
from shadecore.colour.surface import directional
from shadecore.colour.topcoat import Topcoat
from shadecore.film.drawdown import CHART_WHITE, COMPLETE_HIDING
from shadecore.lesson.colours import Shown, shown
from shadecore.lesson.film import TypicalFilm

EYE_THRESHOLD: Final = TOLERANCES["beside-old-panel"][0]
"""Difference that the eye just notices edge to edge: a rule of thumb, common practice,
no source; light, size, edge and training move it. [CIEDE2000]"""


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


def contrast_card(
    topcoat: Topcoat, film: TypicalFilm, settings: Settings
) -> ContrastCard:
    """Spray the film on a black-and-white card.

    Parameters
    ----------
    topcoat : Topcoat
        The colour.
    film : TypicalFilm
        The film to show, among its likely paints.
    settings : Settings
        Film, tolerance and cap.

    Returns
    -------
    ContrastCard
    """
    paints = film.paints
    halves = np.array([0.0, float(directional().inside(CHART_WHITE))])
    backing = np.repeat(halves[:, None], WAVELENGTHS_NM.size, axis=1)
    run = course(
        paints.absorption, paints.scattering, backing, settings.films_um, film.model
    )
    lab = np.array(topcoat.lab) + run.lab - run.full_lab[:, None, None, :]
    bare = _bare()
    own = np.concatenate([bare[:, None, :], lab[film.place]], axis=1)
    ratio = contrast_ratios(
        paints.absorption, paints.scattering, settings.films_um, film.model
    )
    tail = (1.0 - INTERVAL) / 2.0
    low, high = (
        weighted_quantile(ratio.T, paints.weight, share) for share in (tail, 1.0 - tail)
    )
    return ContrastCard(
        shown(own[0]),
        shown(own[1]),
        (0.0, *map(float, ratio[film.place])),
        (0.0, *map(float, low)),
        (0.0, *map(float, high)),
        _stays(1.0 - ratio[film.place], 1.0 - COMPLETE_HIDING),
        _judges(bare, lab, film, settings),
    )


def _bare() -> NDArray[np.float64]:
    """Lab of the bare halves, black and white, shape (2, 3)."""
    white = 116.0 * np.cbrt(CHART_WHITE) - 16.0
    return np.array([[0.0, 0.0, 0.0], [white, 0.0, 0.0]])


def _judges(
    bare: NDArray[np.float64],
    lab: NDArray[np.floating],
    film: TypicalFilm,
    settings: Settings,
) -> tuple[Judge, ...]:
    """What each judge sees between the halves of all likely paints."""
    halves = np.concatenate(
        [np.broadcast_to(bare[:, None, :], (len(lab), 2, 1, 3)), lab], axis=2
    )
    seen = colour_difference(halves[:, 0], halves[:, 1])
    lightness = np.abs(halves[:, 0, :, 0] - halves[:, 1, :, 0])
    limit = settings.tolerance
    return (
        _judge("Spectral reading", "CIEDE2000", limit, seen, film),
        _judge("Lightness match", "difference in L* alone", limit, lightness, film),
        _judge("The eye", "just noticeable, CIEDE2000", EYE_THRESHOLD, seen, film),
    )


def _judge(
    name: str, rule: str, limit: float, seen: NDArray[np.floating], film: TypicalFilm
) -> Judge:
    coated = seen[:, 1:]
    cap = coated.shape[1]
    counts = count_coats(
        coats_to_hide(coated, limit)[None, :, None],
        coated[None, :, -1:],
        film.paints.weight[None],
        cap,
        film.paints.doubt,
    )
    low, high = int(counts.low[0, 0]), int(counts.high[0, 0])
    return Judge(
        name,
        rule,
        limit,
        tuple(map(float, seen[film.place])),
        _stays(coated[film.place], limit),
        low if low <= cap else None,
        high if high <= cap else None,
    )


def _stays(difference: NDArray[np.floating], limit: float) -> int | None:
    """Coats from which a difference stays within a limit; None for not at all."""
    coats = int(coats_to_hide(difference, limit))
    return coats if coats <= len(difference) else None
