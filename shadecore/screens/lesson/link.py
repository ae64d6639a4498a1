"""The trainer's pages in their links, beside the question."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from shadecore.coats.settings import DEFAULT_COAT_CAP
from shadecore.lesson.guess import LARGEST_SEED, MOST_QUESTIONS
from shadecore.question.question import Question

EXAMPLE_LESSON: Final = "48 62 40"
FIRST_COATS: Final = 2
FIRST_SEED: Final = 1
_COLOUR, _COATS = "lesson", "coats"
_GREYS, _LARGE = "lesson_greys", "large"
_SEED, _ANSWERS, _OWN_SHELF = "seed", "answers", "own_shelf"
_SET: Final = "set"
_BETWEEN: Final = "-"
_HEX: Final = re.compile("[0-9a-f]{6}")


@dataclass(frozen=True)
class LessonState:
    """What the trainer set on the lesson's and the print's page.

    Attributes
    ----------
    colour : str
        As typed; Lab under the working condition. Empty for the question's.
    coats : int
        Coats on the panels.
    greys : bool
        Whether the five invented greys stand in for a shelf of the painter's own.
    large : bool
        Whether nothing but the panels is shown, for a projector.
    """

    colour: str = EXAMPLE_LESSON
    coats: int = FIRST_COATS
    greys: bool = False
    large: bool = False


@dataclass(frozen=True)
class GuessState:
    """Where an exercise stands.

    Attributes
    ----------
    seed : int
        The set of colours.
    answers : str
        Places of the undercoats chosen so far, such as ``0-3-2``.
    own_shelf : bool
        Whether the choices are the question's shelf, and not the invented greys.
    colours : str
        The set's colours, so that every version shows the same; empty for those that
        this version draws.
    earlier : bool
        Whether a version that did not name the colours made the link.
    large : bool
        Whether nothing but the exercise is shown, for a projector.
    """

    seed: int = FIRST_SEED
    answers: str = ""
    own_shelf: bool = False
    colours: str = ""
    earlier: bool = False
    large: bool = False


def lesson_parameters(state: LessonState) -> dict[str, str | None]:
    """The lesson's parameters of a link.

    Parameters
    ----------
    state : LessonState
        The state.

    Returns
    -------
    dict of str to str or None
        None for what is as usual.
    """
    return {
        _COLOUR: None if state.colour == EXAMPLE_LESSON else state.colour,
        _COATS: None if state.coats == FIRST_COATS else str(state.coats),
        _GREYS: "True" if state.greys else None,
        _LARGE: "True" if state.large else None,
    }


def read_lesson(query: Mapping[str, str], question: Question) -> LessonState:
    """The lesson of a link.

    Parameters
    ----------
    query : mapping of str to str
        The parameters.
    question : Question
        Its colour comes along where the link has none for the lesson.

    Returns
    -------
    LessonState
    """
    # What has flakes is no colour of the lesson, which follows solid films.
    own = not question.flakes and question.colour not in {"", Question().colour}
    usual = question.colour if own else EXAMPLE_LESSON
    coats = _whole(query.get(_COATS, ""), DEFAULT_COAT_CAP)
    return LessonState(
        query.get(_COLOUR, usual),
        FIRST_COATS if coats is None else coats,
        query.get(_GREYS) == "True",
        query.get(_LARGE) == "True",
    )


def guess_parameters(state: GuessState) -> dict[str, str | None]:
    """The exercise's parameters of a link.

    Parameters
    ----------
    state : GuessState
        The state.

    Returns
    -------
    dict of str to str or None
        None for what is as usual.
    """
    return {
        _SEED: None if state.seed == FIRST_SEED else str(state.seed),
        _ANSWERS: state.answers or None,
        _OWN_SHELF: "True" if state.own_shelf else None,
        _SET: state.colours or None,
        _LARGE: "True" if state.large else None,
    }


def read_guess(query: Mapping[str, str]) -> GuessState:
    """The exercise of a link.

    Parameters
    ----------
    query : mapping of str to str
        The parameters.

    Returns
    -------
    GuessState
    """
    seed = _whole(query.get(_SEED, ""), LARGEST_SEED)
    colours = write_colours(read_colours(query.get(_SET, "")))
    told = (_SEED, _ANSWERS, _OWN_SHELF, _SET)
    earlier = not colours and any(name in query for name in told)
    return GuessState(
        FIRST_SEED if seed is None else seed,
        # Given to colours that nobody knows any more.
        "" if earlier else query.get(_ANSWERS, ""),
        query.get(_OWN_SHELF) == "True",
        colours,
        earlier,
        query.get(_LARGE) == "True",
    )


def read_colours(text: str) -> tuple[str, ...]:
    """Colours of a set in a link.

    Parameters
    ----------
    text : str
        As :func:`write_colours` writes it, or anything.

    Returns
    -------
    tuple of str
        Hex codes; empty where one of them is none, or they are too many.

    Examples
    --------
    >>> read_colours("b22234-1e90ff")
    ('#b22234', '#1e90ff')
    >>> read_colours("b22234-red")
    ()
    """
    words = text.split(_BETWEEN)
    if len(words) > MOST_QUESTIONS or not all(map(_HEX.fullmatch, words)):
        return ()
    return tuple(f"#{word}" for word in words)


def write_colours(colours: tuple[str, ...]) -> str:
    """Colours of a set for a link.

    Parameters
    ----------
    colours : tuple of str
        Hex codes.

    Returns
    -------
    str
    """
    return _BETWEEN.join(each.removeprefix("#") for each in colours)


def read_answers(text: str, questions: int, choices: int) -> tuple[int, ...]:
    """Answers of a link; the first that cannot be meant ends them.

    Parameters
    ----------
    text : str
        As :func:`write_answers` writes it, or anything.
    questions, choices : int
        Colours in the set, and undercoats to choose from.

    Returns
    -------
    tuple of int

    Examples
    --------
    >>> read_answers("0-3-9-1", 8, 5)
    (0, 3)
    """
    answers: list[int] = []
    for word in text.split(_BETWEEN)[:questions]:
        if word not in map(str, range(choices)):
            break
        answers.append(int(word))
    return tuple(answers)


def write_answers(answers: tuple[int, ...]) -> str:
    """Answers for a link.

    Parameters
    ----------
    answers : tuple of int
        Places of the undercoats chosen.

    Returns
    -------
    str
    """
    return _BETWEEN.join(map(str, answers))


def _whole(text: str, most: int) -> int | None:
    """A whole number from 0; None where the text is none, or one beyond the most."""
    if not (text.isascii() and text.isdecimal() and len(text) <= len(str(most))):
        return None
    number = int(text)
    return number if number <= most else None
