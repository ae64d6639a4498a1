"""What the counts that a shop saw say about the next colour of a paint line and a gun.

A colour hides after ``h / (loading x film)`` coats, with ``h`` its hiding thickness at
the usual loading. The logarithm of loading times film is taken as a sum: what is usual,
and what the shop, the line, its batch, the gun and the colour add. Each of these is
normal about zero with a variance of its own, so a line with one job stays near what is
usual and one with ten stands on its own (partial pooling). All variances together are
that of a colour nothing is known of, so a book without records changes nothing.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.book.message_passing import Effects, Statements, infer
from shadecore.coats.evidence import BLUR_COATS, BLUR_SHARE
from shadecore.errors import SettingError

SHOP_SHARE: Final = 0.15
LINE_SHARE: Final = 0.40
BATCH_SHARE: Final = 0.05
GUN_SHARE: Final = 0.15
COLOUR_SHARE: Final = 0.25
"""Parts of the variance of ln(loading x film) by where it comes from; they add up to 1.
This tool's own judgement: the pigment content of a line is what differs most (white
films of 2.0 to 22.8 percent by volume scatter 0.12 to 0.60 per um: R. Levinson,
P. Berdahl, H. Akbari, Sol. Energy Mater. Sol. Cells 89 (2005) 319); within a line
it follows the pigment, and so the colour; a gun and its painter leave a fifth more or
less film than was told, and a shop looks more or less closely (common practice, no
source); batches of a line are made to one recipe."""

WRONG: Final = {"job": 0.05, "check": 0.05, "data-sheet": 0.15}
"""Chance that a record says nothing of this paint, by its source: another car, a slip
of the finger, a sheet that flatters. This tool's own; without it one such record would
outweigh many good ones. Higher than ``WORTHLESS`` of :mod:`shadecore.coats.evidence`:
there the colour alone must be noted rightly, here its line, gun and batch too."""
_WRONG_COUNTS: Final = 12
"""Counts that a wrong record may name as well as another; the usual cap of coats."""
_WRONG_SIDE: Final = 0.5
"""Chance that a wrong record says "covered"."""


@dataclass(frozen=True)
class Usual:
    """What is usual, for a colour nothing is known of.

    Attributes
    ----------
    mean, spread : float
        Mean and standard deviation of ln(loading x film / film told).
    """

    mean: float
    spread: float

    def __post_init__(self) -> None:
        if not (math.isfinite(self.mean) and 0.0 < self.spread < math.inf):
            message = "The usual loading needs a mean and a spread above zero."
            raise SettingError(message)


@dataclass(frozen=True)
class Observation:
    """A count that somebody saw, beside what the model says of that colour.

    Attributes
    ----------
    colour, line, gun : str
        What tells them from others, such as their ``uid``; line and gun may be empty.
    coats_low, coats_high : int
        The counts, 1 or more, and None for no upper end; see
        :class:`shadecore.book.records.BookSeen`.
    ln_thickness_mean, ln_thickness_spread : float
        Of the logarithm of the colour's hiding thickness in um over that undercoat, at
        the loading that counts as 1, by its likely recipes alone.
    film_um : float
        Dry film of one coat as it was told. [um]
    hid, looked : bool
        Whether it hid, and whether somebody looked after each coat.
    source : str
        ``job``, ``check`` or ``data-sheet``.
    batch : str
        Batch of the line.
    job : str
        What tells the job from others; records of one job count as one.
    """

    colour: str
    line: str
    gun: str
    coats_low: int
    coats_high: int | None
    ln_thickness_mean: float
    ln_thickness_spread: float
    film_um: float
    hid: bool = True
    looked: bool = True
    source: str = "job"
    batch: str = ""
    job: str = ""

    def __post_init__(self) -> None:
        numbers = (self.ln_thickness_mean, self.ln_thickness_spread, self.film_um)
        good = all(math.isfinite(each) for each in numbers)
        if not good or self.ln_thickness_spread < 0.0 or self.film_um <= 0.0:
            message = (
                "A record needs the colour's hiding thickness with its spread and the "
                "film of a coat."
            )
            raise SettingError(message)
        high = math.inf if self.coats_high is None else self.coats_high
        if not 1 <= self.coats_low <= high or (high == math.inf and not self.hid):
            message = (
                f"A record says {self.coats_low} to {self.coats_high} coats; the first "
                "must be 1 or more and not above the second."
            )
            raise SettingError(message)
        if self.source not in BLUR_COATS:
            message = f"The source of a record must be one of {', '.join(BLUR_COATS)}."
            raise SettingError(message)


@dataclass(frozen=True)
class Learned:
    """What was learned, in numbers.

    Attributes
    ----------
    mean, spread : float
        Mean and standard deviation of ln(loading x film / film told), or of what one
        line or gun adds to it.
    jobs : int
        From how many jobs.
    """

    mean: float
    spread: float
    jobs: int


@dataclass(frozen=True)
class Experience:
    """What a shop's records say, taken together.

    Attributes
    ----------
    usual : Usual
        Where it started.
    observations : tuple of Observation
        What it rests on.
    wrong : tuple of float
        For each of them the chance that it is plainly wrong.
    """

    usual: Usual
    observations: tuple[Observation, ...]
    wrong: tuple[float, ...]
    _names: tuple[tuple[str, ...], ...] = field(repr=False)
    _mean: NDArray[np.float64] = field(repr=False, compare=False)
    _covariance: NDArray[np.float64] = field(repr=False, compare=False)

    def loading(self, line: str = "", gun: str = "", batch: str = "") -> Learned:
        """For a new colour of a line, sprayed with a gun.

        Parameters
        ----------
        line, gun : str
            As in the records; one that no record names is as usual.
        batch : str
            Batch of the line; one that no record names widens what is known.

        Returns
        -------
        Learned
            What is usual where neither the line nor the gun has a job: the little
            that other lines say of the shop could not be told with its reason.
        """
        jobs = self._jobs(line, gun)
        if not jobs:
            return Learned(self.usual.mean, self.usual.spread, 0)
        variance = self.usual.spread**2
        mean, spread = self._sum(_effects_of(line, gun, batch), COLOUR_SHARE * variance)
        return Learned(self.usual.mean + mean, spread, jobs)

    def line(self, name: str) -> Learned:
        """What a line adds to what is usual, with what the whole shop adds.

        Parameters
        ----------
        name : str
            The line.

        Returns
        -------
        Learned
        """
        mean, spread = self._sum((("shop",), ("line", name)))
        return Learned(mean, spread, self._jobs(name, ""))

    def gun(self, name: str) -> Learned:
        """What a gun adds to what is usual.

        Parameters
        ----------
        name : str
            The gun.

        Returns
        -------
        Learned
        """
        mean, spread = self._sum((("gun", name),))
        return Learned(mean, spread, self._jobs("", name))

    def _sum(
        self, names: tuple[tuple[str, ...], ...], more: float = 0.0
    ) -> tuple[float, float]:
        """Mean and spread of a sum of effects and of one more variance."""
        places = [self._names.index(each) for each in names if each in self._names]
        unseen = [each for each in names if each not in self._names]
        more += sum(_variance(each, self.usual) for each in unseen)
        known = self._covariance[np.ix_(places, places)]
        return float(self._mean[places].sum()), math.sqrt(float(known.sum()) + more)

    def _jobs(self, line: str, gun: str) -> int:
        """Jobs of the line or, where there are none, of the gun; empty for none."""
        for each, field_name in ((line, "line"), (gun, "gun")):
            found = {
                seen.job or place
                for place, seen in enumerate(self.observations)
                if each and getattr(seen, field_name) == each
            }
            if found:
                return len(found)
        return 0


def learn(
    observations: Sequence[Observation], usual: Usual, *, leave_out: str = ""
) -> Experience:
    """Take a shop's records together.

    Parameters
    ----------
    observations : sequence of Observation
        The records, in any order.
    usual : Usual
        What is usual.
    leave_out : str
        A colour whose own records stay out, as the question about it holds them
        already.

    Returns
    -------
    Experience

    Notes
    -----
    A count is an interval of the coats needed, open below where nobody looked, blurred
    by ``BLUR_COATS`` and, with the chance ``WRONG``, says nothing. Such statements are
    joined with the normal effects by expectation propagation [1]_, which has no random
    numbers in it. What the recipes leave open about a colour counts once for all
    records of that colour.

    References
    ----------
    .. [1] T. P. Minka, "Expectation propagation for approximate Bayesian inference",
       Proc. 17th Conf. Uncertainty in Artificial Intelligence (2001) 362.
    """
    used = tuple(each for each in observations if each.colour != leave_out)
    names = tuple(
        dict.fromkeys(
            name
            for each in used
            for name in _effects_of(each.line, each.gun, each.batch)
        )
    )
    if not used:
        nothing = np.zeros((0, 0))
        return Experience(usual, (), (), (), np.zeros(0), nothing)
    place = {name: i for i, name in enumerate(names)}
    design = np.zeros((len(used), len(names)))
    for row, each in enumerate(used):
        for name in _effects_of(each.line, each.gun, each.batch):
            design[row, place[name]] = 1.0
    colour = np.unique([each.colour for each in used], return_inverse=True)[1]
    doubt = np.array([each.ln_thickness_spread for each in used]) ** 2
    shared = np.bincount(colour, doubt) / np.bincount(colour)
    effects = Effects(
        design=design,
        variance=np.array([_variance(name, usual) for name in names]),
        group=colour,
        group_variance=shared + COLOUR_SHARE * usual.spread**2,
        offset=np.array(
            [
                each.ln_thickness_mean - math.log(each.film_um) - usual.mean
                for each in used
            ]
        ),
    )
    found = infer(effects, _statements(used))
    wrong = tuple(float(chance) for chance in found.wrong)
    return Experience(usual, used, wrong, names, found.mean, found.covariance)


def _effects_of(line: str, gun: str, batch: str) -> tuple[tuple[str, ...], ...]:
    return ("shop",), ("line", line), ("batch", line, batch), ("gun", gun)


def _variance(name: tuple[str, ...], usual: Usual) -> float:
    share = {
        "shop": SHOP_SHARE,
        "line": LINE_SHARE,
        "batch": BATCH_SHARE,
        "gun": GUN_SHARE,
    }
    return share[name[0]] * usual.spread**2


def _statements(used: Sequence[Observation]) -> Statements:
    low = np.array([each.coats_low - 1.0 for each in used])
    high = np.array(
        [math.inf if each.coats_high is None else each.coats_high for each in used]
    )
    hid = np.array([each.hid for each in used])
    looked = np.array([each.looked for each in used])
    counted = hid & looked
    return Statements(
        low=np.where(hid, np.where(looked & (low > 0.0), low, -np.inf), high),
        high=np.where(hid, high, np.inf),
        error=np.array([BLUR_COATS[each.source] for each in used]),
        error_share=BLUR_SHARE,
        wrong=np.array([WRONG[each.source] for each in used]),
        if_wrong=np.where(
            counted,
            np.minimum((high - low) / _WRONG_COUNTS, 1.0),
            np.where(hid, _WRONG_SIDE, 1.0 - _WRONG_SIDE),
        ),
    )
