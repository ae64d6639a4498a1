"""Effect colours in words: what is assumed, how they turn, mid-coats and candy."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from shadecore.colour.kinds import (
    CANDY,
    NOT_SAID,
    OVER_A_GROUND,
    THREE_STAGE,
    WITH_FLAKES,
)
from shadecore.effects.flop import SOLID_BELOW, STRONG_FROM, readings_flop_index
from shadecore.question.question import Question
from shadecore.telling.colours import angle_words
from shadecore.telling.counts import coats_words
from shadecore.telling.numbers import listed

if TYPE_CHECKING:
    from shadecore.effects.candy import CandyMatch
    from shadecore.effects.midcoat_model import MidcoatEstimate
    from shadecore.effects.midcoats import MidcoatMatch

_SEVERAL: Final = 3
_GROUND: Final = {
    THREE_STAGE: "What is counted here is the ground coat over its sealer. The "
    "mid-coats never hide: match them to the car with a let-down panel (command "
    "midcoats).",
    CANDY: "What is counted here is the ground coat over its sealer. A candy never "
    "hides its ground: every coat darkens it, so count its coats to the target colour "
    "(command candy).",
}
_SUSPECT: Final = {
    "ground": "the ground coat looks wrong: compare it with the car's own before any "
    "mid-coat",
    "pearl": "the mid-coat looks wrong: check its pearl and how it was stirred and "
    "sprayed",
}


def kind_words(question: Question) -> str:
    """What kind of colour was asked about, and what that rests on.

    Parameters
    ----------
    question : Question
        The question.

    Returns
    -------
    str
        Sentences.
    """
    if question.kind in OVER_A_GROUND:
        return f"{question.kind.capitalize()}. {_GROUND[question.kind]}"
    if not question.flakes:
        assumed = " is assumed, since nobody said otherwise" * (
            question.kind == NOT_SAID
        )
        return f"A solid colour{assumed}."
    kind = question.kind or listed(WITH_FLAKES, "or")
    said = (
        f"{kind.capitalize()}: nobody said which, so both are counted with."
        if question.kind == NOT_SAID
        else f"{kind.capitalize()}."
    )
    read = len(question.readings.angles)
    if read < _SEVERAL:
        said += (
            f" Known at {read} {'angle' if read == 1 else 'angles'} only: how it turns "
            "is guessed, and the best sealer may be missed by some tenths of a coat; "
            "readings at 15, 45 and 110 degrees would settle it."
        )
    return said


def last_angle_words(question: Question, last_angle: float) -> str:
    """At which angle the film hides last; empty for a solid colour.

    Parameters
    ----------
    question : Question
        The question.
    last_angle : float
        Aspecular. [degrees]

    Returns
    -------
    str
    """
    if not question.flakes:
        return ""
    return (
        f"It hides last at the {angle_words(last_angle)}: look there before you stop."
    )


def flop_words(question: Question) -> str:
    """The flop index with its meaning; empty where it is not known.

    Parameters
    ----------
    question : Question
        The question.

    Returns
    -------
    str
    """
    index = readings_flop_index(question.readings) if question.flakes else None
    if index is None:
        return ""
    meaning = "it darkens from face to flop as many metallics do"
    if index < SOLID_BELOW:
        meaning = "it looks the same from every side, as a solid colour does"
    elif index >= STRONG_FROM:
        meaning = "it darkens strongly from face to flop"
    return f"Flop index {index:.1f} (Alman 1987): {meaning}."


def midcoat_words(match: "MidcoatMatch", tolerance: float) -> str:
    """How many mid-coats match.

    Parameters
    ----------
    match : MidcoatMatch
        As found.
    tolerance : float
        What counts as a match. [CIEDE2000]

    Returns
    -------
    str
    """
    best = (
        f"Nearest to the car: {coats_words(match.coats)} of mid-coat, with a "
        f"difference of {match.difference:.1f} CIEDE2000 at the worst angle"
    )
    between = (
        f"{match.fraction:.1f} coats, between the strips, would leave {match.left:.1f}"
    )
    if match.fits:
        return f"{best}, within {tolerance:g}; {between}."
    if match.suspect is None:
        return (
            f"{best}, more than {tolerance:g}; {between}, so spray the last coat "
            "thinner or thicker and check on another panel."
        )
    return f"{best}; no number fits, and {_SUSPECT[match.suspect]}."


def rough_midcoat_words(found: "MidcoatEstimate") -> str:
    """How many mid-coats plausible pearls would need, without a panel.

    Parameters
    ----------
    found : MidcoatEstimate
        As found.

    Returns
    -------
    str
    """
    return (
        f"{coats_words(found.coats)} of mid-coat, roughly (90 %: {found.low} to "
        f"{found.high}): from plausible pearls over this ground, modelled and not "
        "measured. Spray a let-down panel of as many strips and read it: only that "
        f"settles the number. The nearest pearl is {found.difference:.1f} CIEDE2000 "
        "off at its worst angle."
    )


def turned_words(match: "MidcoatMatch | MidcoatEstimate") -> tuple[str, ...]:
    """What one mid-coat more or less does, and at which angle most.

    Parameters
    ----------
    match : MidcoatMatch
        As found.

    Returns
    -------
    tuple of str
        Sentences.
    """
    return tuple(
        f"One coat {word} changes {_most(step, match.angles)}."
        for word, step in (("more", match.step_more), ("less", match.step_less))
        if step is not None
    )


def candy_words(match: "CandyMatch", angles: Sequence[float]) -> str:
    """How many coats of a candy come to the target.

    Parameters
    ----------
    match : CandyMatch
        As found.
    angles : sequence of float
        Aspecular angles of the candy. [degrees]

    Returns
    -------
    str
    """
    return (
        f"Nearest to the target: {coats_words(match.coats)}, with a difference of "
        f"{match.difference:.1f} CIEDE2000 ({match.fraction:.1f} coats would leave "
        f"{match.left:.1f}). A candy never hides its ground: one coat more changes "
        f"{_most(match.per_coat, angles)}, and a tenth more film "
        f"{_most(match.per_tenth, angles)}, so spray every pass alike."
    )


def _most(step: Sequence[float], angles: Sequence[float]) -> str:
    size, angle = max(zip(step, angles, strict=True))
    return f"{size:.1f} CIEDE2000 at the {angle_words(angle)}"
