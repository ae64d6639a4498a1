"""The exercise's sentences, in the words of a paint shop."""

from functools import lru_cache
from typing import Final

from shadecore.lesson.guess import Exercise, ExerciseColour, Score
from shadecore.telling.basis import OUTSIDE_NOTE, SCREEN_NOTE
from shadecore.telling.colours import words_apart
from shadecore.telling.counts import coats_words, place_words
from shadecore.telling.numbers import listed
from shadecore.undercoats.shelf import Shelf

_KEPT: Final = 64

GUESS_NOTE: Final = (
    "Coats are modelled from the colour alone, 10 µm dry a coat; hidden means as close "
    "to the full colour as is usual on a whole car. Matching by lightness works for "
    "half of the colours and fails for the other half. "
    f"{SCREEN_NOTE} {OUTSIDE_NOTE}"
)
"""Stands under the exercise."""
EARLIER_SET: Final = (
    "An earlier version made this link, and its set may have had other colours: "
    "answers given to those are left out."
)


@lru_cache(maxsize=_KEPT)
def names_of(exercise: Exercise) -> tuple[str, ...]:
    """What the colours of an exercise are called, each by a name of its own.

    Parameters
    ----------
    exercise : Exercise
        The exercise.

    Returns
    -------
    tuple of str
    """
    return words_apart([each.lab for each in exercise.questions])


def question_words(exercise: Exercise, place: int) -> str:
    """Which colour is asked about, alone and in class.

    Parameters
    ----------
    exercise : Exercise
        The exercise.
    place : int
        The colour, counted from 0.

    Returns
    -------
    str
    """
    return (
        f"{_colour_of(exercise, place)}, {names_of(exercise)[place]}: over which "
        "sealer does it hide in the fewest coats?"
    )


def answered_words(exercise: Exercise, place: int, choice: int) -> str:
    """How many points an answer brought.

    Parameters
    ----------
    exercise : Exercise
        The exercise.
    place : int
        The colour, counted from 0.
    choice : int
        The answer.

    Returns
    -------
    str
        Such as ``Colour 2 of 8: 1 point``.
    """
    points = exercise.questions[place].points(choice)
    noun = "point" if points == 1 else "points"
    return f"{_colour_of(exercise, place)}: {points} {noun}"


def _colour_of(exercise: Exercise, place: int) -> str:
    return f"Colour {place_words(place + 1, len(exercise.questions))}"


def go_on_words(exercise: Exercise, place: int) -> str:
    """Label of the button that leads on from a colour, alone and in class.

    Parameters
    ----------
    exercise : Exercise
        The exercise.
    place : int
        The colour, counted from 0.

    Returns
    -------
    str
    """
    last = place + 1 == len(exercise.questions)
    return "See the result" if last else "Next colour"


def set_words(seed: int) -> str:
    """Which set of colours is asked, and what its link holds.

    Parameters
    ----------
    seed : int
        The set's number.

    Returns
    -------
    str
    """
    return (
        f"Set {seed}. The link in the address bar opens the same set with the answers "
        "given; start again before you share it without them."
    )


def points_words(score: Score) -> str:
    """What a score says.

    Parameters
    ----------
    score : Score
        The score so far.

    Returns
    -------
    str
    """
    if not score.answered:
        return "No points yet."
    return (
        f"{score.points} of {score.most} points: {coats_words(score.extra)} too many; "
        f"matching by lightness would have sprayed {score.extra_by_lightness} too many."
    )


def reveal_words(question: ExerciseColour, undercoats: Shelf, choice: int) -> str:
    """What an answer cost and what the colour teaches.

    Parameters
    ----------
    question : ExerciseColour
        The question.
    undercoats : tuple of Undercoat
        The choices.
    choice : int
        The one taken.

    Returns
    -------
    str
    """
    more = question.coats_more(choice)
    if more:
        fewest = listed([undercoats[place].name for place in sorted(question.best)])
        first = f"{coats_words(more)} too many: {fewest} would have been best."
    else:
        first = "Right: no coat too many."
    closest = undercoats[question.lightness_choice].name
    if question.lightness_works:
        return f"{first} Here lightness tells: {closest} is closest, and best."
    lost = coats_words(question.coats_more(question.lightness_choice))
    return (
        f"{first} Here lightness misleads: {closest} is closest and costs {lost} more."
    )
