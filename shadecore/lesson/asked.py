"""The lesson of a question: its colour over the lesson's greys or its own shelf."""

from dataclasses import replace

from shadecore.lesson.contrast_card import ContrastCard, contrast_card
from shadecore.lesson.panels import Lesson
from shadecore.lesson.panels import lesson_of as lesson_of_answer
from shadecore.question.answer import answer
from shadecore.question.question import Mixing, Question
from shadecore.undercoats.shelf import Shelf
from shadecore.undercoats.shelf_table import demo_shelf


def lesson_of(question: Question, undercoats: Shelf | None = None) -> Lesson:
    """Follow the film of a question over undercoats.

    Parameters
    ----------
    question : Question
        Colour, card, tolerance, film and cap.
    undercoats : tuple of Undercoat, optional
        What to compare; the invented shelf unless given.

    Returns
    -------
    Lesson

    Raises
    ------
    ShadecoreError
        If the question cannot be answered.
    """
    shelf = demo_shelf() if undercoats is None else undercoats
    asked = replace(question, shelf=shelf, mixing=Mixing(allowed=False))
    return lesson_of_answer(answer(asked), shelf)


def contrast_card_of(shown: Lesson) -> ContrastCard:
    """Spray the film of a lesson on a black-and-white card.

    Parameters
    ----------
    shown : Lesson
        The lesson.

    Returns
    -------
    ContrastCard
    """
    return contrast_card(shown.answer)
