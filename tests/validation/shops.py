"""What the book learns, on simulated shops; printed by ``python -m validation shops``.

Shops, lines, guns, colours and painters are drawn here, from other distributions than
the learning assumes, and share no code with it. A colour is its hiding thickness; what
the engine says of it is a mean and a spread that are honest on average, with tails.
"""

import math
import sys
from dataclasses import dataclass, replace

import numpy as np

from shadecore.book.learning import Experience, Observation, Usual, learn

STAGES = (0, 1, 3, 10)
CAP = 12
FILM_UM = 10.0
SEED = 20_260_301

_PIGMENT = (0.03, 0.20)
"""Pigment by volume of a line of base coats, log-uniform; no source."""
_PUBLISHED = ((0.02, 0.12), (0.228, 0.60))
"""Pigment by volume and scattering per um at 550 nm of two white films: R. Levinson,
P. Berdahl, H. Akbari, Sol. Energy Mater. Sol. Cells 89 (2005) 319 and 353."""
_RATE = math.log(_PUBLISHED[1][1] / _PUBLISHED[0][1]) / math.log(
    _PUBLISHED[1][0] / _PUBLISHED[0][0]
)
_WHITE_PER_UM = 0.2
"""Scattering that a loading of 1 stands for here; any number would do."""
_GUN = (0.75, 1.35)
"""Film that is left, as part of the film told, log-uniform; no source."""
_EYE = (0.9, 1.1)
"""How far the shop's eye moves a hiding thickness; no source."""
_BATCH = (0.93, 1.07)
_COLOUR = (0.65, 1.55)
"""Loading of a colour, as part of its line's; no source."""
_OFF = ((-1, 0, 1), (0.25, 0.5, 0.25))
"""A count that is remembered or judged is off by so much, with these chances."""
_WRONG = 0.05
_TAIL_DEGREES = 5
PAINTERS = ("looks after each coat", "looks at the end", "both, in turns")


@dataclass(frozen=True)
class Score:
    """How counts of new colours came out.

    Attributes
    ----------
    painter : str
        How the shop looks.
    jobs : str
        After how many jobs.
    within_one : float
        Share of colours whose count is within one coat. 0..1
    holds : float
        Share of colours whose 90 percent interval holds the count. 0..1
    promised : float
        Chance that these intervals give themselves, on average: more than 90 percent,
        as they consist of whole coats. 0..1
    width : float
        Coats that an interval spans on average.
    colours : int
        How many were tried.
    """

    painter: str
    jobs: str
    within_one: float
    holds: float
    promised: float
    width: float
    colours: int


@dataclass(frozen=True)
class _Colour:
    ln_mean: float
    spread: float
    ln_true: float
    loading: float


class _Shop:
    """A shop with one line, two guns and as many colours as are asked for."""

    def __init__(self, rng: np.random.Generator) -> None:
        self.rng = rng
        pigment = self._draw(_PIGMENT)
        self.line = (
            math.log(_PUBLISHED[0][1] / _WHITE_PER_UM)
            + _RATE * (pigment - math.log(_PUBLISHED[0][0]))
            + self._draw(_EYE)
        )
        self.gun = {"one": self._draw(_GUN), "other": self._draw(_GUN)}
        self.batch = {"first": self._draw(_BATCH), "next": self._draw(_BATCH)}

    def _draw(self, ends: tuple[float, float]) -> float:
        return float(self.rng.uniform(math.log(ends[0]), math.log(ends[1])))

    def colour(self) -> _Colour:
        """A colour of 1 to 5 coats over its best grey, as the engine sees it."""
        spread = self.rng.uniform(0.15, 0.5)
        mean = math.log(FILM_UM * self.rng.uniform(1.0, 5.0) * math.exp(usual().mean))
        scale = math.sqrt((_TAIL_DEGREES - 2) / _TAIL_DEGREES)
        off = spread * scale * self.rng.standard_t(_TAIL_DEGREES)
        return _Colour(mean, spread, mean + off, self._draw(_COLOUR))

    def count(self, colour: _Colour, gun: str, batch: str) -> int:
        """Coats that the colour takes in truth."""
        loading = self.line + self.batch[batch] + self.gun[gun] + colour.loading
        return min(
            math.ceil(math.exp(colour.ln_true - loading - math.log(FILM_UM))), CAP + 1
        )


def usual() -> Usual:
    """What is usual, from the published films alone and a fifth for gun and painter."""
    low, high = (math.log(scattering / _WHITE_PER_UM) for _, scattering in _PUBLISHED)
    flat = (high - low) / math.sqrt(12.0)
    return Usual(0.5 * (low + high), math.hypot(flat, 0.2))


def chances(colour: _Colour, mean: float, spread: float) -> np.ndarray:
    """Chance that the colour hides by each coat, 1 to the cap, and beyond it."""
    over = math.hypot(colour.spread, spread)
    at = (np.log(np.arange(1, CAP + 1) * FILM_UM) + mean - colour.ln_mean) / over
    within = np.array([0.5 * math.erfc(-each / math.sqrt(2.0)) for each in at])
    return np.append(within, 1.0)


def middle(within: np.ndarray) -> int:
    """Count at which half of the chance is reached."""
    return 1 + int(np.sum(within < 0.5))


def interval(within: np.ndarray, share: float = 0.9) -> tuple[int, int]:
    """Fewest neighbouring counts that hold a share of the chance."""
    best = (1, within.size)
    for low in range(1, within.size + 1):
        before = within[low - 2] if low > 1 else 0.0
        enough = np.flatnonzero(within >= before + share - 1e-9)
        if enough.size and enough[0] + 1 - low < best[1] - best[0]:
            best = (low, int(enough[0]) + 1)
    return best


def _records(
    shop: _Shop, colour: _Colour, name: str, experience: Experience, *, looks: bool
) -> list[Observation]:
    """What the painter says of one job."""
    truth = shop.count(colour, "one", "first")
    base = Observation(
        name, "line", "one", 1, 1, colour.ln_mean, colour.spread, FILM_UM,
        batch="first", job=name,
    )  # fmt: skip
    seen = max(1, truth + int(shop.rng.choice(_OFF[0], p=_OFF[1])))
    wrong = shop.rng.random() < _WRONG
    if looks:
        count = int(shop.rng.integers(1, CAP + 1)) if wrong else min(seen, CAP)
        return [replace(base, coats_low=count, coats_high=count)]
    learned = experience.loading("line", "one", "first")
    plan = min(middle(chances(colour, learned.mean, learned.spread)), CAP)
    if (seen <= plan) != wrong:
        return [replace(base, coats_high=plan, looked=False)]
    record = replace(base, coats_low=plan, coats_high=plan, hid=False)
    if seen <= plan or seen > CAP:
        return [record]
    # After "not yet" the painter looks after each further coat.
    return [record, replace(base, coats_low=seen, coats_high=seen)]


def simulate(painter: str, shops: int, seed: int = SEED) -> list[Score]:
    """Simulate shops of one kind.

    Parameters
    ----------
    painter : str
        One of ``PAINTERS``.
    shops : int
        How many.
    seed : int
        Of the random numbers.

    Returns
    -------
    list of Score
        After each of ``STAGES``, and then with a new batch and with a new gun.
    """
    rng = np.random.default_rng([seed, PAINTERS.index(painter)])
    start = usual()
    tried: dict[str, list[tuple[float, ...]]] = {}
    for _ in range(shops):
        shop = _Shop(rng)
        records: list[Observation] = []
        for job in range(STAGES[-1] + 1):
            experience = learn(records, start)
            if job in STAGES:
                _try(shop, experience, f"{job}", tried, ("one", "first"))
            looks = painter == PAINTERS[0] or (painter == PAINTERS[2] and job % 2 == 0)
            name = f"colour {job}"
            records += _records(shop, shop.colour(), name, experience, looks=looks)
        _try(shop, experience, "10, new batch", tried, ("one", "next"))
        _try(shop, experience, "10, new gun", tried, ("other", "first"))
    return [
        Score(
            painter,
            stage,
            *(float(each) for each in np.mean(found, axis=0)),
            len(found),
        )
        for stage, found in tried.items()
    ]


def _try(
    shop: _Shop,
    experience: Experience,
    stage: str,
    tried: dict[str, list[tuple[float, ...]]],
    told: tuple[str, str],
) -> None:
    """Ask for the counts of three new colours."""
    gun, batch = told
    learned = experience.loading("line", gun, batch)
    for _ in range(3):
        colour = shop.colour()
        truth = shop.count(colour, gun, batch)
        within = chances(colour, learned.mean, learned.spread)
        low, high = interval(within)
        promised = within[high - 1] - (within[low - 2] if low > 1 else 0.0)
        tried.setdefault(stage, []).append(
            (
                abs(middle(within) - truth) <= 1,
                low <= truth <= high,
                promised,
                high - low + 1,
            )
        )


def print_shops(shops: int = 300) -> None:
    """Print how counts of new colours come out as the book fills.

    Parameters
    ----------
    shops : int
        How many of each kind.
    """
    out = sys.stdout
    out.write(
        f"Simulated shops, {shops} of each kind: one line, counts a coat off in one\n"
        "of two, one record in twenty plainly wrong; three new colours each time.\n\n"
        "| painter | jobs | count within 1 | 90 % interval holds | as it says "
        "itself | width |\n| --- | --- | --- | --- | --- | --- |\n"
    )
    for painter in PAINTERS:
        for each in simulate(painter, shops):
            out.write(
                f"| {each.painter} | {each.jobs} | {each.within_one:.0%} | "
                f"{each.holds:.0%} | {each.promised:.0%} | {each.width:.1f} |\n"
            )
