"""The state of the trainer's pages as a link."""

from dataclasses import dataclass
from typing import Final

from shadecore.coats.settings import DEFAULT_COAT_CAP, DEFAULT_TOLERANCE
from shadecore.film.build import DEFAULT_DRY_FILM_UM
from shadecore.lesson.guess import LARGEST_SEED
from shadecore.question.link import RANGES

EXAMPLE_LESSON: Final = "48 62 40"
FIRST_COATS: Final = 2
FIRST_SEED: Final = 1
LESSON_RANGES: Final = {
    **RANGES,
    "coats": (0, DEFAULT_COAT_CAP),
    "seed": (0, LARGEST_SEED),
}
"""Between what the numbers may lie."""
_BETWEEN: Final = "-"


@dataclass(frozen=True)
class LessonState:
    """What the trainer set on the lesson's and the handout's page.

    Attributes
    ----------
    colour : str
        As typed; Lab under the working condition.
    coats : int
        Coats on the panels.
    tolerance : float
        [CIEDE2000]
    film_um : float
        Dry film of one coat. [um]
    units : str
        ``metric`` or ``us``.
    """

    colour: str = EXAMPLE_LESSON
    coats: int = FIRST_COATS
    tolerance: float = DEFAULT_TOLERANCE
    film_um: float = DEFAULT_DRY_FILM_UM
    units: str = "metric"


@dataclass(frozen=True)
class GuessState:
    """Where an exercise stands.

    Attributes
    ----------
    seed : int
        The set of questions.
    answers : str
        Places of the undercoats chosen so far, such as ``0-3-2``.
    shelf : str
        The choices as CSV; empty for the lesson's greys.
    """

    seed: int = FIRST_SEED
    answers: str = ""
    shelf: str = ""


def read_answers(text: str, questions: int, choices: int) -> tuple[int, ...]:
    """Answers of a link; the first that cannot be meant ends them.

    Parameters
    ----------
    text : str
        As :func:`write_answers` writes it, or anything.
    questions, choices : int
        Questions in the set, and undercoats to choose from.

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
