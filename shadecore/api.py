"""The library's verbs: they take what a person has and lead to the one answer."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from shadecore.coats.answer import Answer, Picks
from shadecore.colour.condition import WORKING, Condition
from shadecore.colour.convert import lab_from_lab
from shadecore.colour.spectrum import resample
from shadecore.colour.topcoat import Topcoat, spectrum_line
from shadecore.errors import ColourError, ShelfError
from shadecore.pages.answer_page import answer_page
from shadecore.pages.text_layout import document_text
from shadecore.question.answer import answer, answer_many, card_power
from shadecore.question.question import Question
from shadecore.telling.records import question_record
from shadecore.undercoats import shelf as shelves
from shadecore.undercoats.shelf import Finish, Undercoat

Colour = str | Topcoat | ArrayLike
"""A colour as a person has it: words for the colour's box, a topcoat, or L*, a*, b*."""


def ask(
    colour: Colour | Question,
    shelf: Iterable[Undercoat] | None = None,
    **known: Any,  # noqa: ANN401 - fields of different kinds
) -> Question:
    """Put a question.

    Parameters
    ----------
    colour : str, Topcoat, array of shape (3,), or Question
        The topcoat; with a question, what is given beside it replaces its own.
    shelf : iterable of Undercoat, optional
        What to choose from; five invented greys unless given.
    **known
        Any other field of :class:`Question`: ``tolerance``, ``film``, ``coat_cap``,
        ``condition``, ``card``, ``units`` and so on.

    Returns
    -------
    Question

    Raises
    ------
    ColourError
        If the colour is none of these.
    TypeError
        If a field is not known.
    """
    asked = colour if isinstance(colour, Question) else Question(_written(colour))
    if shelf is not None:
        known["shelf"] = tuple(shelf)
    return replace(asked, **known)


def pick(
    colour: Colour | Question,
    shelf: Iterable[Undercoat] | None = None,
    **known: Any,  # noqa: ANN401 - fields of different kinds
) -> Answer:
    """Pick the undercoat for one topcoat.

    Parameters
    ----------
    colour, shelf, **known
        As :func:`ask` takes them.

    Returns
    -------
    Answer

    Raises
    ------
    ShadecoreError
        If something cannot be used: one sentence says what, and what to do.

    Examples
    --------
    >>> pick("45 60 35").recommended.undercoat.name
    'White N 9'
    """
    return answer(ask(colour, shelf, **known))


def pick_many(
    lab: ArrayLike,
    shelf: Iterable[Undercoat] | None = None,
    *,
    progress: Callable[[float], None] | None = None,
    **known: Any,  # noqa: ANN401 - fields of different kinds
) -> Picks:
    """Pick undercoats for many topcoats at once, as arrays.

    Parameters
    ----------
    lab : array, shape (colours, 3)
        L*, a*, b* under the working condition (D65/10 degrees, 45/0).
    shelf : iterable of Undercoat, optional
        What to choose from; five invented greys unless given.
    progress : callable, optional
        Called with the share done, 0..1.
    **known
        As :func:`ask` takes them.

    Returns
    -------
    Picks

    Raises
    ------
    ShadecoreError
        If something cannot be used.
    """
    return answer_many(ask(Question(), shelf, **known), lab, progress)


def undercoat(  # noqa: PLR0913 - the last are given by name
    name: str,
    lab: ArrayLike | None = None,
    *,
    reflectance: ArrayLike | None = None,
    condition: Condition = WORKING,
    price: float | None = None,
    unit: str = "",
    finish: Finish = "gloss",
) -> Undercoat:
    """Describe an undercoat.

    Parameters
    ----------
    name : str
        What the shop calls it.
    lab : float or array of shape (3,), optional
        L* of a grey, or L*, a*, b*; of the dry, bare undercoat.
    reflectance : array of shape (31,) or (16,), optional
        In its place a spectrum from 400 to 700 nm by 10 or 20 nm, 0..1.
    condition : Condition
        How it was measured.
    price : float, optional
        Price of one unit.
    unit : str
        What the price is for.
    finish : str
        What was read: ``gloss``, ``matt`` or ``wet``.

    Returns
    -------
    Undercoat

    Raises
    ------
    ShadecoreError
        If it cannot be used.

    Examples
    --------
    >>> undercoat("my grey", 60).lab
    (60.0, 0.0, 0.0)
    """
    if (lab is None) == (reflectance is None):
        message = f"Give the sealer {name!r} either lab or reflectance."
        raise ShelfError(message)
    if reflectance is not None:
        values = np.asarray(reflectance, dtype=np.float64)
        nm = np.linspace(400.0, 700.0, values.size)
        return shelves.undercoat_from_reflectance(
            name,
            resample(nm, values, condition.specular),
            price=price,
            unit=unit,
            finish=finish,
        )
    given = np.asarray(lab, dtype=np.float64)
    own = np.array([float(given), 0.0, 0.0]) if given.ndim == 0 else given
    return shelves.undercoat(
        name, own, condition, price=price, unit=unit, finish=finish
    )


def text(asked: Colour | Question, units: str = "metric") -> str:
    """Answer in words, as the command line does.

    Parameters
    ----------
    asked : str, Topcoat, array of shape (3,), or Question
        As :func:`ask` takes it.
    units : str
        ``metric`` or ``us``.

    Returns
    -------
    str
    """
    question = ask(asked, units=units)
    page = answer_page(question, answer(question), card_power(question))
    return document_text(page)


def record(asked: Colour | Question) -> dict[str, Any]:
    """Answer as plain data, ready for JSON.

    Parameters
    ----------
    asked : str, Topcoat, array of shape (3,), or Question
        As :func:`ask` takes it.

    Returns
    -------
    dict
    """
    question = ask(asked)
    return question_record(question, answer(question), card_power(question))


def _written(colour: Colour) -> str:
    """A colour as the question keeps it: in words."""
    if isinstance(colour, str):
        return colour
    if isinstance(colour, Topcoat):
        if colour.reflectance is not None:
            return spectrum_line(colour)
        return " ".join(map(repr, colour.lab))
    try:
        lab = lab_from_lab(colour)
    except (TypeError, ValueError) as error:
        message = f"A colour is words, a topcoat or L*, a* and b*: {error}"
        raise ColourError(message) from error
    if lab.shape != (3,):
        message = "A colour has L*, a* and b*; for many colours there is pick_many."
        raise ColourError(message)
    return " ".join(repr(float(value)) for value in lab)
