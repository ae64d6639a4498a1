"""The lesson's sentences, in the words of a paint shop."""

from collections.abc import Sequence
from typing import Final

import numpy as np

from shadecore.colour.topcoat import Lab
from shadecore.film.drawdown import COMPLETE_HIDING
from shadecore.lesson.contrast_card import ContrastCard, Judge
from shadecore.lesson.guess import ExerciseColour, Score
from shadecore.lesson.panels import Lesson
from shadecore.lesson.rules import Ruled
from shadecore.telling.reasons import BANDS, told
from shadecore.telling.text import LAST_WORD
from shadecore.undercoats.shelf import Shelf

CLOSED_BELOW: Final = 0.10
"""Share of an undercoat's light below which a film is called closed; our own limit."""
SCREEN_NOTE: Final = "A screen is not a paint chip."
PAPER_NOTE: Final = "A printed or shown swatch is not a paint chip."
OUTSIDE_NOTE: Final = "* lies outside what a screen can show."
MODELLED: Final = (
    "Modelled, not measured: the film shown is the likely paint whose coats come "
    "nearest to the estimate; real paints of this colour differ, as the intervals say. "
    f"The lesson's colours and greys are invented. {LAST_WORD}"
)
EYE_NOTE: Final = (
    "That the eye just notices a difference of 1 edge to edge is a rule of thumb, "
    "common practice, no source: light, size and training move it."
)
_NEUTRAL_CHROMA: Final = 10.0
_LIGHT, _MIDDLE, _DARK = 87.0, 55.0, 25.0
_BROWN_BELOW: Final = 45.0
_BROWN_CHROMA: Final = 45.0
_HUES: Final = (
    (15.0, "pink"),
    (42.0, "red"),
    (78.0, "orange"),
    (105.0, "yellow"),
    (195.0, "green"),
    (312.0, "blue"),
    (345.0, "violet"),
    (360.0, "pink"),
)
"""Hue angles of CIELAB up to which a name is used, from memory. [degrees]"""
_PINK_ABOVE: Final = 60.0
_PINK_CHROMA: Final = 35.0
"""L* and C* between which a red is called pink, from memory."""


def colour_word(lab: Lab) -> str:
    """What anybody would call a colour, roughly.

    Parameters
    ----------
    lab : tuple of float
        L*, a*, b* under the working condition.

    Returns
    -------
    str
        A noun such as ``red`` or ``light grey``.

    Examples
    --------
    >>> colour_word((48.0, 62.0, 40.0)), colour_word((66.0, 0.0, -1.0))
    ('red', 'light grey')
    """
    lightness, a, b = lab
    if np.hypot(a, b) < _NEUTRAL_CHROMA:
        steps = ((_LIGHT, "white"), (_MIDDLE, "light grey"), (_DARK, "dark grey"))
        return next((word for above, word in steps if lightness > above), "black")
    hue = float(np.degrees(np.arctan2(b, a)) % 360.0)
    word = next(name for limit, name in _HUES if hue <= limit)
    pale = lightness >= _PINK_ABOVE and np.hypot(a, b) < _PINK_CHROMA
    if word in {"pink", "red"}:
        strong = word == "red" or lightness < _PINK_ABOVE
        return "pink" if pale or not strong else "red"
    brownish = lightness < _BROWN_BELOW and np.hypot(a, b) < _BROWN_CHROMA
    return "brown" if word in {"orange", "yellow"} and brownish else word


def coat_words(coats: int) -> str:
    """A number of coats with its noun.

    Parameters
    ----------
    coats : int
        0 or more.

    Returns
    -------
    str
        Such as ``1 coat`` or ``3 coats``.
    """
    return f"{coats} coat" if coats == 1 else f"{coats} coats"


def listed(names: Sequence[str]) -> str:
    """Names in a sentence.

    Parameters
    ----------
    names : sequence of str
        One or more.

    Returns
    -------
    str
        Such as ``blue, green and red``.
    """
    *first, last = names
    return f"{', '.join(first)} and {last}" if first else last


def film_words(lesson: Lesson, coats: int) -> str:
    """Where the film is closed after some coats, and what shows where it is not.

    Parameters
    ----------
    lesson : Lesson
        The lesson.
    coats : int
        0 to the cap.

    Returns
    -------
    str
        One or two sentences.
    """
    word = colour_word(lesson.topcoat.lab)
    if coats == 0:
        return f"No {word} yet: every undercoat shows as it is."
    spectrum = np.array(lesson.see_through[coats])
    through = {band.name: float(spectrum[band.columns].mean()) for band in BANDS}
    closed = [name for name, share in through.items() if share < CLOSED_BELOW]
    opened = [name for name in through if name not in closed]
    start = f"After {coat_words(coats)} this {word} is"
    if not opened:
        return f"{start} closed to all light: what lies under it no longer matters."
    shares = listed([f"{through[name]:.0%} of the {name}" for name in opened])
    shows = f"{shares} light still gets down to the undercoat and back out"
    if not closed:
        return f"{start} closed to no light yet: {shows}."
    return (
        f"{start} closed to {listed(closed)} light, but {shows}. So only the "
        f"undercoat's {listed(opened)} still shows."
    )


def hides_words(lesson: Lesson, coats: int) -> str:
    """Over which undercoats the film hides after some coats.

    Parameters
    ----------
    lesson : Lesson
        The lesson.
    coats : int
        0 to the cap.

    Returns
    -------
    str
        One sentence.
    """
    start = f"After {coat_words(coats)} the film" if coats else "Bare, nothing"
    hidden = [each.undercoat.name for each in lesson.panels if each.hides(coats)]
    if not hidden:
        return f"{start} hides over none of them yet." if coats else f"{start} hides."
    if len(hidden) == len(lesson.panels):
        return f"{start} hides over all of them."
    return f"{start} hides over {listed(hidden)}, not yet over the others."


def card_words(card: ContrastCard, coats: int) -> str:
    """The card's contrast ratio against the line.

    Parameters
    ----------
    card : ContrastCard
        The card.
    coats : int
        0 to the cap.

    Returns
    -------
    str
    """
    cap = len(card.contrast_ratio) - 1
    if coats == 0:
        return "The bare card: black throws nothing back, the contrast ratio is 0."
    reached = (
        f"stays above it from {coat_words(card.hidden_from)} on"
        if card.hidden_from is not None
        else f"does not reach it within {coat_words(cap)}"
    )
    return (
        f"After {coat_words(coats)} the contrast ratio is "
        f"{told(card.contrast_ratio[coats], COMPLETE_HIDING, 2)} (9 times in 10: "
        f"{card.low[coats]:.2f} to {card.high[coats]:.2f}). {COMPLETE_HIDING} counts "
        f"as complete hiding (ISO 6504-3, ASTM D2805); this film {reached}."
    )


def judge_words(judge: Judge, cap: int) -> str:
    """From which coat a judge calls the card hidden, with the interval.

    Parameters
    ----------
    judge : Judge
        The judge.
    cap : int
        Coats counted at most.

    Returns
    -------
    str
        Such as ``from coat 3 (9 times in 10: 2 to 4)``.
    """
    own, low, high = (
        f"over {cap}" if each is None else str(each)
        for each in (judge.hidden_from, judge.low, judge.high)
    )
    start = f"not within {cap} coats" if judge.hidden_from is None else f"coat {own}"
    return f"{start} (9 times in 10: {low if low == high else f'{low} to {high}'})"


def card_moral(card: ContrastCard) -> str:
    """What the judges teach.

    Parameters
    ----------
    card : ContrastCard
        The card.

    Returns
    -------
    str
    """
    cap = len(card.contrast_ratio)
    spectral, lightness, _ = (
        cap if each.hidden_from is None else each.hidden_from for each in card.judges
    )
    if lightness < spectral:
        return (
            "Lightness alone is satisfied too soon here: the halves are as light as "
            "each other and still differ in hue."
        )
    return (
        "Here lightness tells nearly the whole story: the halves differ in little else."
    )


def rules_words(rows: Sequence[Ruled]) -> str:
    """Where matching by lightness works and where it fails.

    Parameters
    ----------
    rows : sequence of Ruled
        Colours with what both rules cost.

    Returns
    -------
    str
    """
    works = [each.name for each in rows if each.lightness_works]
    fails = [each.name for each in rows if not each.lightness_works]
    if not fails:
        return f"Matching by lightness works for {listed(works)}."
    cost = listed([_cost(each) for each in rows if not each.lightness_works])
    start = f"works for {listed(works)}; it " if works else ""
    return f"Matching by lightness {start}fails for {listed(fails)}: {cost}."


def _cost(row: Ruled) -> str:
    over = f"over {row.cap}" if row.closest_coats > row.cap else f"{row.closest_coats}"
    return f"{row.name} {over} coats instead of {row.best_coats}"


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
        f"{score.points} of {score.most} points: {coat_words(score.extra)} too many; "
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
        first = f"{coat_words(more)} too many: {fewest} would have been best."
    else:
        first = "Right: no coat too many."
    closest = undercoats[question.lightness_choice].name
    if question.lightness_works:
        return f"{first} Here lightness tells: {closest} is closest, and best."
    lost = coat_words(question.coats_more(question.lightness_choice))
    return (
        f"{first} Here lightness misleads: {closest} is closest and costs {lost} more."
    )
