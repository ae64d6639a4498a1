"""Whether two questions ask the same of a colour."""

from dataclasses import replace

from shadecore.coats.loading import default_loading
from shadecore.question.question import Question


def same_colour(one: Question, other: Question) -> bool:
    """Whether two questions ask about the same topcoat.

    Parameters
    ----------
    one, other : Question
        The questions.

    Returns
    -------
    bool
    """
    return (one.colour, one.angles, one.condition) == (
        other.colour,
        other.angles,
        other.condition,
    )


def same_settings(one: Question, other: Question) -> bool:
    """Whether two questions ask the same of a colour.

    The shelf is the shop's, records and test cards stand by themselves, and what was
    learned follows from them: none of these is a setting of the colour.

    Parameters
    ----------
    one, other : Question
        The questions.

    Returns
    -------
    bool
    """
    return _own(one) == _own(other)


def _own(question: Question) -> Question:
    usual = Question()
    return replace(
        question,
        shelf=usual.shelf,
        areas=(),
        card=None,
        seen=(),
        loading=default_loading(),
        units=usual.units,
    )
