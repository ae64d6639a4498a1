"""Why a metallic is different: one effect colour over the lesson's greys, by angle."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shadecore.coats.answer import Answer, Outlook
from shadecore.coats.settings import Settings
from shadecore.colour.angles import AngleReadings
from shadecore.colour.appearance import lab_from_reflectance, neutral_reflectance
from shadecore.colour.colour_file import parse_colour_file
from shadecore.datafiles import data_file
from shadecore.formats.table import read_text
from shadecore.lesson.colours import Shown, shown
from shadecore.lesson.rules import Ruled
from shadecore.question.answer import answer
from shadecore.question.question import FilmAsked, Mixing, Question
from shadecore.undercoats.shelf import Shelf, Undercoat
from shadecore.undercoats.shelf_table import demo_shelf

LESSON_EFFECTS = "lesson-effects.csv"
"""Invented effect colours; the first is the one that is looked at closely."""
LEAK = 0.005
"""Light of an undercoat that still comes through, to show what it does. 0..1"""
_WAVELENGTHS = 31


@dataclass(frozen=True)
class EffectExample:
    """An effect colour to teach with.

    Attributes
    ----------
    name : str
        What anybody calls it.
    kind : str
        ``metallic`` or ``pearl``.
    readings : AngleReadings
        The colour.
    """

    name: str
    kind: str
    readings: AngleReadings


@cache
def effect_examples() -> tuple[EffectExample, ...]:
    """The effect colours, in the order of the file.

    Returns
    -------
    tuple of EffectExample
    """
    every = parse_colour_file(read_text(data_file(LESSON_EFFECTS)), LESSON_EFFECTS)
    return tuple(
        EffectExample(code, kind, readings)
        for code, kind, readings in zip(
            every.colours.codes, every.kinds, every.readings, strict=True
        )
        if readings is not None
    )


@dataclass(frozen=True)
class TurnedStrip:
    """One undercoat and the film growing on it, by angle.

    Attributes
    ----------
    estimate : Outlook
        Coats over it, and the angle that hides last.
    film : tuple of tuple of Shown
        Colour of the film shown after 1, 2, ... coats, at each angle.
    difference : tuple of tuple of float
        To the full colour, after 1, 2, ... coats, at each angle. [CIEDE2000]
    """

    estimate: Outlook
    film: tuple[tuple[Shown, ...], ...]
    difference: tuple[tuple[float, ...], ...]

    @property
    def undercoat(self) -> Undercoat:
        """What lies under the film."""
        return self.estimate.undercoat


@dataclass(frozen=True, eq=False)
class TurnedLesson:
    """One effect colour over the undercoats.

    Attributes
    ----------
    example : EffectExample
        The colour.
    answer : Answer
        The pick from these undercoats.
    full : tuple of Shown
        The full colour of the film shown at each angle.
    strips : tuple of TurnedStrip
        One for each undercoat, in the order given.
    """

    example: EffectExample
    answer: Answer
    full: tuple[Shown, ...]
    strips: tuple[TurnedStrip, ...]

    @property
    def angles(self) -> tuple[float, ...]:
        """Aspecular. [degrees]."""
        return self.answer.paints.angles


def turned_lesson(
    example: EffectExample,
    settings: Settings | None = None,
    undercoats: Shelf | None = None,
) -> TurnedLesson:
    """Follow the film of an effect colour over each undercoat.

    Parameters
    ----------
    example : EffectExample
        The colour.
    settings : Settings, optional
        Tolerance, film and cap.
    undercoats : tuple of Undercoat, optional
        What to compare; the invented shelf unless given.

    Returns
    -------
    TurnedLesson
    """
    shelf = demo_shelf() if undercoats is None else undercoats
    found = _answered(example, settings or Settings(), shelf)
    places = {each.undercoat.name: at for at, each in enumerate(found.outlooks)}
    return TurnedLesson(
        example,
        found,
        shown(found.film.paint.full_lab()[0]),
        tuple(_strip(found, places[each.name]) for each in shelf),
    )


def compare_effect_rules(
    colours: Sequence[EffectExample],
    settings: Settings | None = None,
    undercoats: Shelf | None = None,
) -> tuple[Ruled, ...]:
    """Work out what the fewest coats and the closest in L* at 45 degrees cost.

    Parameters
    ----------
    colours : sequence of EffectExample
        One or more.
    settings : Settings, optional
        Tolerance, film and cap.
    undercoats : tuple of Undercoat, optional
        What to choose from; the invented shelf unless given.

    Returns
    -------
    tuple of Ruled
        One for each colour, in their order.
    """
    shelf = demo_shelf() if undercoats is None else undercoats
    return tuple(
        _ruled(each.name, _answered(each, settings or Settings(), shelf))
        for each in colours
    )


def leak_rise(lightness: ArrayLike, leak: float = LEAK) -> NDArray[np.float64]:
    """How much lighter a little light of the undercoat makes a grey.

    Parameters
    ----------
    lightness : array
        L* of what the light is added to, from 0; above 100 where flakes shine.
    leak : float
        Reflectance that is added. 0..1

    Returns
    -------
    array, same shape
        Rise in L*, by the formula of CIE 15.
    """
    before = np.asarray(lightness, dtype=np.float64)
    grey = neutral_reflectance(before)[..., None] * np.ones(_WAVELENGTHS)
    return np.asarray(lab_from_reflectance(grey + leak)[..., 0] - before)


def _answered(example: EffectExample, settings: Settings, shelf: Shelf) -> Answer:
    return answer(
        Question(
            colour="",
            kind=example.kind,
            angles=example.readings,
            tolerance=settings.tolerance,
            film=FilmAsked(dry_film_um=settings.film.dry_film_um),
            coat_cap=settings.coat_cap,
            shelf=shelf,
            mixing=Mixing(allowed=False),
        )
    )


def _strip(found: Answer, place: int) -> TurnedStrip:
    film = found.film
    return TurnedStrip(
        found.outlooks[place],
        tuple(shown(lab) for lab in film.lab[place]),
        tuple(tuple(map(float, row)) for row in film.difference[place]),
    )


def _ruled(name: str, found: Answer) -> Ruled:
    best, closest, cap = found.recommended, found.closest, found.settings.coat_cap
    best_coats, closest_coats = (
        cap + 1 if each.coats is None else each.coats for each in (best, closest)
    )
    return Ruled(
        name, best.undercoat, best_coats, closest.undercoat, closest_coats, cap
    )
