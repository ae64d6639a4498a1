"""A question as plain values by name, the form that links and job files share.

Texts, numbers and true or false only, one to a name: a link writes them as its
parameters, a job file as a table. Both are read here, by the same checks.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Final

from shadecore.card.card_table import write_card
from shadecore.coats.loading import LEARNED_OF
from shadecore.coats.seen_table import Noted, write_seen
from shadecore.coats.settings import LARGEST_CAP, TOLERANCE_RANGE
from shadecore.colour.angle_text import write_angles
from shadecore.colour.condition import ILLUMINANTS, OBSERVERS, SPECULAR
from shadecore.colour.kinds import KINDS, NOT_SAID
from shadecore.formats.toml_table import Wrong
from shadecore.question.photo_line import write_photo_line
from shadecore.question.question import Question
from shadecore.undercoats.shelf_table import demo_shelf, write_shelf

Value = str | bool | int | float

LONGEST_TEXT: Final = 200_000
"""Characters of a text; a shelf of a thousand undercoats takes fewer."""
_USUAL: Final = Question()


@dataclass(frozen=True)
class Plain:
    """One plain value of a question.

    Attributes
    ----------
    name : str
        In a link and in a job file.
    of : callable
        The value in a question.
    ends : tuple of float, optional
        Between what a number may lie.
    choices : tuple, optional
        What it may be.
    """

    name: str
    of: Callable[[Question], Value]
    ends: tuple[float, float] | None = None
    choices: tuple[Value, ...] = field(default=())

    needed: bool = field(default=False, init=False)
    """No value is needed: what is left out is as usual."""

    @property
    def usual(self) -> Value:
        """Its value in a question that says nothing of it."""
        return self.of(_USUAL)

    @property
    def default(self) -> Value:
        """The same, by the name that readers of TOML know it by."""
        return self.usual

    @property
    def expected(self) -> str:
        """What it must be, as the end of "must be ..."."""
        if self.choices:
            return f"one of {', '.join(map(str, self.choices))}"
        if isinstance(self.usual, bool):
            return "true or false"
        if self.ends is None:
            return "text in quotes"
        whole = "whole " if isinstance(self.usual, int) else ""
        low, high = self.ends
        return f"a {whole}number from {low:g} to {high:g}"

    def read(self, value: object) -> Value:
        """The value, if it may be this one; raises ``Wrong`` if it may not."""
        usual = self.usual
        found: Value | None = None
        if isinstance(usual, float) and isinstance(value, int | float):
            found = value if isinstance(value, bool) else float(value)
        elif type(value) is type(usual):
            found = value
        if type(found) is not type(usual) or not self._allows(found):
            raise Wrong
        return found

    def _allows(self, value: Value) -> bool:
        if self.choices:
            return value in self.choices
        if isinstance(value, str):
            return len(value) <= LONGEST_TEXT
        if self.ends is None:
            return True
        low, high = self.ends
        # Also refuses what is not a number, which compares with nothing.
        return low <= value <= high


def _film(name: str) -> Callable[[Question], Value]:
    return lambda question: getattr(question.film, name)


def _rate(name: str) -> Callable[[Question], Value]:
    return lambda question: getattr(question.rates, name)


def _angles_text(question: Question) -> str:
    return "" if question.angles is None else write_angles(question.angles)


def _photo_text(question: Question) -> str:
    if question.photo is None:
        return ""
    return write_photo_line(question.colour, question.photo)


def _shelf_text(question: Question) -> str:
    own = question.shelf != demo_shelf()
    return write_shelf(question.shelf) if own else ""


def _card_text(question: Question) -> str:
    return "" if question.card is None else write_card(question.card)


def _seen_text(question: Question) -> str:
    noted = [Noted("", each) for each in question.seen]
    return write_seen(noted) if noted else ""


PLAIN: Final = (
    Plain("colour", lambda each: each.colour),
    Plain("kind", lambda each: each.kind, choices=(NOT_SAID, *KINDS)),
    Plain("angles", _angles_text),
    Plain("illuminant", lambda each: each.condition.illuminant, choices=ILLUMINANTS),
    Plain("observer", lambda each: each.condition.observer, choices=OBSERVERS),
    Plain("specular", lambda each: each.condition.specular, choices=SPECULAR),
    Plain("photo", _photo_text),
    Plain("tolerance", lambda each: each.tolerance, TOLERANCE_RANGE),
    Plain("film_um", lambda each: each.film.dry_film_um, (0.5, 200.0)),
    Plain("from_gun", _film("from_gun")),
    Plain("paint_parts", _film("paint_parts"), (0.1, 100.0)),
    Plain("reducer_parts", _film("reducer_parts"), (0.0, 100.0)),
    Plain("solids_percent", _film("solids_percent"), (1.0, 100.0)),
    Plain("wet_um", _film("wet_um"), (1.0, 500.0)),
    Plain("overlap_percent", _film("overlap_percent"), (0.0, 95.0)),
    Plain("transfer_percent", _film("transfer_percent"), (5.0, 100.0)),
    Plain("coat_cap", lambda each: each.coat_cap, (1, LARGEST_CAP)),
    Plain("film_limit_um", lambda each: each.film_limit_um, (5.0, 1000.0)),
    Plain("usual_coats", lambda each: each.usual_coats, (1, LARGEST_CAP)),
    Plain("shelf", _shelf_text),
    Plain("blends", lambda each: each.mixing.allowed),
    Plain("strength", lambda each: each.mixing.strength, (0.05, 20.0)),
    Plain("test_card", _card_text),
    Plain("seen", _seen_text),
    Plain("loading_mean", lambda each: each.loading.mean, (-5.0, 5.0)),
    Plain("loading_spread", lambda each: each.loading.spread, (0.001, 3.0)),
    Plain("loading_jobs", lambda each: each.loading.jobs, (0, 1_000_000)),
    Plain("loading_of", lambda each: each.loading.of, choices=LEARNED_OF),
    Plain("areas", lambda each: "\n".join(each.areas)),
    Plain("area_m2", _rate("area_m2"), (0.01, 1000.0)),
    Plain("topcoat_price_per_l", _rate("topcoat_price_per_l"), (0.0, 10_000.0)),
    Plain("sealer_ml_per_m2", _rate("sealer_ml_per_m2"), (0.0, 5000.0)),
    Plain("minutes_per_coat", _rate("minutes_per_coat"), (0.0, 600.0)),
    Plain("hourly_rate", _rate("hourly_rate"), (0.0, 10_000.0)),
    Plain("units", lambda each: each.units, choices=("metric", "us")),
)
"""All of them. Ranges without a source are this tool's own: what a shop can mean."""
BY_NAME: Final = {each.name: each for each in PLAIN}
RANGES: Final = {each.name: each.ends for each in PLAIN if each.ends is not None}
"""Between what the numbers may lie."""
MEASURED_CARD: Final = "card"
"""Readings of a card as an older job file or link has them: under the condition of the
colour, where ``test_card`` has them under the working condition."""
NAMES: Final = frozenset((*BY_NAME, MEASURED_CARD))
"""Every name that is read."""


def to_plain(question: Question) -> dict[str, Value]:
    """Write a question as plain values.

    Parameters
    ----------
    question : Question
        The question.

    Returns
    -------
    dict of str to str, bool, int or float
        One for each of ``PLAIN``; :func:`shadecore.question.read_plain.from_plain`
        reads them back without loss.
    """
    return {each.name: each.of(question) for each in PLAIN}
