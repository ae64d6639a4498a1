"""The exercise: a colour comes up, the class names the undercoat, coats are counted."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.coats.answer import Picks
from shadecore.coats.pick_many import pick_many
from shadecore.coats.settings import Settings
from shadecore.colour.appearance import colour_difference
from shadecore.colour.convert import lab_from_srgb
from shadecore.colour.display import hex_from_lab
from shadecore.colour.topcoat import Lab
from shadecore.errors import SettingError, ShelfError
from shadecore.recipes.library import RecipeLibrary, recipe_library
from shadecore.undercoats.shelf import Shelf
from shadecore.undercoats.shelf_table import demo_shelf

POINTS: Final = 3
"""For the fewest coats; each coat more costs one, down to none."""
QUESTIONS: Final = 8
MOST_QUESTIONS: Final = 40
LARGEST_SEED: Final = 2**31 - 1
_CANDIDATES: Final = 192
_DEEPER: Final = 2.0
"""Power that turns levels of sRGB drawn evenly into deeper ones."""
_APART: Final = 14.0
"""Difference between two colours of a set, so that each can be called by a name of its
own. [CIEDE2000]"""
_LOOKED_AT: Final = 24
"""Colours that a place in the set is filled from; fewer than there are, so that sets
differ."""
_PLENTY: Final = 3
"""Times as many of a kind as a set takes: more leave it no better balanced."""
_LEVELS: Final = 255
_DULLEST, _BRIGHTEST = 0.02, 0.98
"""sRGB between which colours are drawn: all can be shown, few cannot be paint."""
_NEAR_A_RECIPE: Final = 1.5
"""Questions stay where the estimate rests on recipes like the colour. [CIEDE2000]"""
_MOST_COATS: Final = 8
_SPREAD: Final = 2
"""Coats between the best and the worst choice, so that the choice matters."""


@dataclass(frozen=True)
class ExerciseColour:
    """A colour, and what each undercoat would cost.

    Attributes
    ----------
    lab : tuple of float
        L*, a*, b* under the working condition.
    coats : tuple of int
        Coats over each undercoat; one more than the cap stands for "not within it".
    lightness_choice : int
        The undercoat closest in lightness.
    cap : int
        Coats counted at most.
    """

    lab: Lab
    coats: tuple[int, ...]
    lightness_choice: int
    cap: int

    @property
    def best(self) -> frozenset[int]:
        """Undercoats that take the fewest coats."""
        fewest = min(self.coats)
        return frozenset(i for i, coats in enumerate(self.coats) if coats == fewest)

    @property
    def lightness_works(self) -> bool:
        """Whether the one closest in lightness is among them."""
        return self.lightness_choice in self.best

    def coats_more(self, choice: int) -> int:
        """Coats that a choice costs more than the best.

        Parameters
        ----------
        choice : int
            Place of the undercoat.

        Returns
        -------
        int
            0 or more.
        """
        return self.coats[choice] - min(self.coats)

    def points(self, choice: int) -> int:
        """Points for a choice.

        Parameters
        ----------
        choice : int
            Place of the undercoat.

        Returns
        -------
        int
            0 to ``POINTS``.
        """
        return max(0, POINTS - self.coats_more(choice))


@dataclass(frozen=True)
class Exercise:
    """A set of questions over one shelf.

    Attributes
    ----------
    seed : int
        It was drawn from.
    undercoats : tuple of Undercoat
        The choices.
    questions : tuple of ExerciseColour
        As many where lightness matching works as where it fails, balanced so that no
        undercoat is the answer to most of them.
    """

    seed: int
    undercoats: Shelf
    questions: tuple[ExerciseColour, ...]


@dataclass(frozen=True)
class Score:
    """What the answers so far come to.

    Attributes
    ----------
    answered : int
        Questions answered.
    points, most : int
        Points won, and to be won, in them.
    extra : int
        Coats sprayed more than needed.
    extra_by_lightness : int
        Coats that matching by lightness would have sprayed more than needed in them.
    """

    answered: int
    points: int
    most: int
    extra: int
    extra_by_lightness: int


def draw_exercise(
    seed: int,
    undercoats: Shelf | None = None,
    size: int = QUESTIONS,
    settings: Settings | None = None,
    library: RecipeLibrary | None = None,
) -> Exercise:
    """Draw questions; the same seed, shelf and settings give the same ones.

    Parameters
    ----------
    seed : int
        0 to ``LARGEST_SEED``.
    undercoats : tuple of Undercoat, optional
        The choices; the invented shelf unless given.
    size : int
        Questions, an even number from 2 to ``MOST_QUESTIONS``; fewer where the shelf
        does not give so many of a kind.
    settings : Settings, optional
        Tolerance, film and cap.
    library : RecipeLibrary, optional
        Plausible recipes.

    Returns
    -------
    Exercise

    Raises
    ------
    SettingError
        If the seed or the size cannot be used.
    ShelfError
        If these undercoats give no question of one of the kinds.
    """
    if not 0 <= seed <= LARGEST_SEED:
        message = f"The number of the set must lie between 0 and {LARGEST_SEED}."
        raise SettingError(message)
    if size % 2 or not 2 <= size <= MOST_QUESTIONS:  # noqa: PLR2004 - one of each kind
        message = (
            f"An exercise has an even number of questions from 2 to {MOST_QUESTIONS}, "
            f"not {size}."
        )
        raise SettingError(message)
    settings = settings or Settings()
    undercoats = demo_shelf() if undercoats is None else undercoats
    random = np.random.default_rng(seed)
    lab = _candidates(random)
    # Counting takes long: only what may be taken, and half of it where that is plenty.
    nearest = (library or recipe_library()).near(lab).nearest
    lab = lab[nearest < _NEAR_A_RECIPE]
    for part in (2, 1):
        picks = pick_many(lab[: -(-len(lab) // part)], undercoats, settings, library)
        kinds = _kinds(picks)
        if min(map(len, kinds)) >= _PLENTY * size // 2:
            break
    coats = picks.counts.coats
    each = min(size // 2, *(len(kind) for kind in kinds))
    if not each:
        message = (
            "These sealers give no colours for which matching by lightness works "
            "and others for which it fails; put a white, a mid grey and a black one on "
            "the shelf."
        )
        raise ShelfError(message)
    chosen = random.permutation(_balanced(kinds, each, coats, lab, random))
    return Exercise(
        seed,
        undercoats,
        tuple(
            _question(lab[i], coats[i], int(picks.closest[i]), picks.counts.cap)
            for i in chosen
        ),
    )


def exercise_of_colours(
    seed: int,
    colours: Sequence[str],
    undercoats: Shelf | None = None,
    settings: Settings | None = None,
    library: RecipeLibrary | None = None,
) -> Exercise:
    """A set that was drawn before, by whichever version.

    Parameters
    ----------
    seed : int
        It was drawn from.
    colours : sequence of str
        As :func:`colours_of` gives them; at least one.
    undercoats : tuple of Undercoat, optional
        The choices; the invented shelf unless given.
    settings : Settings, optional
        Tolerance, film and cap.
    library : RecipeLibrary, optional
        Plausible recipes.

    Returns
    -------
    Exercise
        The same colours in the same order; coats are counted anew.

    Raises
    ------
    ShelfError
        If two undercoats share a name.
    """
    undercoats = demo_shelf() if undercoats is None else undercoats
    levels = [list(bytes.fromhex(each.removeprefix("#"))) for each in colours]
    lab = lab_from_srgb(np.array(levels) / _LEVELS)
    picks = pick_many(lab, undercoats, settings or Settings(), library)
    counts = picks.counts
    return Exercise(
        seed,
        undercoats,
        tuple(
            _question(lab[i], counts.coats[i], int(picks.closest[i]), counts.cap)
            for i in range(len(lab))
        ),
    )


def colours_of(exercise: Exercise) -> tuple[str, ...]:
    """Colours of a set, by which another version shows the same.

    Parameters
    ----------
    exercise : Exercise
        The set.

    Returns
    -------
    tuple of str
        Hex codes, such as ``#b22234``.
    """
    return tuple(hex_from_lab([each.lab for each in exercise.questions]))


def _candidates(random: np.random.Generator) -> NDArray[np.float64]:
    """Colours that a screen shows, the deep ones as often as the bright ones."""
    levels = random.uniform(0.0, 1.0, (_CANDIDATES, 3))
    levels[::2] **= _DEEPER
    shown = _DULLEST + (_BRIGHTEST - _DULLEST) * levels
    # Each is one of a screen's own, so that a link can name it.
    return lab_from_srgb(np.rint(shown * _LEVELS) / _LEVELS)


def _kinds(picks: Picks) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Colours for whose coats the choice matters: lightness works, or fails."""
    coats = picks.counts.coats
    useful = (coats.min(axis=1) <= _MOST_COATS) & (np.ptp(coats, axis=1) >= _SPREAD)
    row = np.arange(len(coats))
    works = coats[row, picks.closest] == coats.min(axis=1)
    return np.flatnonzero(useful & works), np.flatnonzero(useful & ~works)


def _balanced(
    kinds: Sequence[NDArray[np.intp]],
    each: int,
    coats: NDArray[np.intp],
    lab: NDArray[np.float64],
    random: np.random.Generator,
) -> NDArray[np.intp]:
    """As many colours of each kind, so that one answer to all of them wins little.

    One after the other the colour is taken that leaves the best constant answer the
    fewest points, out of those that look different from the ones before.
    """
    points = np.maximum(0, POINTS - (coats - coats.min(axis=1, keepdims=True)))
    left = [random.permutation(kind) for kind in kinds]
    total = np.zeros(coats.shape[1], dtype=np.int64)
    chosen: list[int] = []
    for step in range(2 * each):
        pool = left[step % 2]
        if chosen:
            pairs = colour_difference(lab[pool][:, None], lab[chosen][None])
            apart = pool[pairs.min(axis=1) >= _APART]
            pool = apart if apart.size else pool
        pool = pool[:_LOOKED_AT]
        best = int(pool[np.argmin((total + points[pool]).max(axis=1))])
        total += points[best]
        chosen.append(best)
        left[step % 2] = left[step % 2][left[step % 2] != best]
    return np.array(chosen)


def _question(
    lab: NDArray[np.float64], coats: NDArray[np.intp], closest: int, cap: int
) -> ExerciseColour:
    return ExerciseColour(
        (float(lab[0]), float(lab[1]), float(lab[2])),
        tuple(int(each) for each in coats),
        closest,
        cap,
    )


def score(exercise: Exercise, answers: Sequence[int]) -> Score:
    """Count what the answers so far come to.

    Parameters
    ----------
    exercise : Exercise
        The questions.
    answers : sequence of int
        Places of the undercoats chosen, in the order of the questions; no more than
        there are questions.

    Returns
    -------
    Score

    Raises
    ------
    SettingError
        If there are more answers than questions, or one names no undercoat.
    """
    if len(answers) > len(exercise.questions):
        message = (
            f"{len(exercise.questions)} questions cannot have {len(answers)} answers; "
            "leave the last out."
        )
        raise SettingError(message)
    if any(not 0 <= each < len(exercise.undercoats) for each in answers):
        message = (
            "An answer names no sealer; count them from 0 to "
            f"{len(exercise.undercoats) - 1}."
        )
        raise SettingError(message)
    asked = list(zip(exercise.questions, answers, strict=False))
    return Score(
        len(asked),
        sum(question.points(choice) for question, choice in asked),
        POINTS * len(asked),
        sum(question.coats_more(choice) for question, choice in asked),
        sum(question.coats_more(question.lightness_choice) for question, _ in asked),
    )
