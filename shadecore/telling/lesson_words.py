"""The lesson's sentences, in the words of a paint shop."""

from collections.abc import Sequence
from typing import Final

import numpy as np

from shadecore.coats.answer import Count
from shadecore.film.drawdown import COMPLETE_HIDING
from shadecore.lesson.contrast_card import ContrastCard, Judge
from shadecore.lesson.panels import Lesson
from shadecore.lesson.rules import Ruled
from shadecore.telling.colours import colour_word
from shadecore.telling.counts import (
    SURE,
    coats_words,
    interval_words,
    number_words,
    range_words,
)
from shadecore.telling.hiding_words import COMPLETE
from shadecore.telling.numbers import beside_limit, listed
from shadecore.telling.reasons import BANDS
from shadecore.units import percent

OPAQUE_BELOW: Final = 0.10
"""Share of a sealer's light below which hardly any is said to come through; our own
limit."""

SOLIDS_ONLY: Final = (
    "Your colour has flakes and turns with the angle; solid colours are shown here. "
    "Why a metallic is different stands at the end of the lesson."
)


def legend_words(tolerance: float) -> str:
    """How the panels are read.

    Parameters
    ----------
    tolerance : float
        Difference that counts as hidden. [CIEDE2000]

    Returns
    -------
    str
    """
    return (
        "Large number: how different it still is from the full colour; up to "
        f"{tolerance:g} counts as hidden. The stripe across each panel is the full "
        "colour: where the film hides, it disappears."
    )


def likely_words(count: Count) -> str:
    """The interval of a count, for those who learn what it is.

    Parameters
    ----------
    count : Count
        The count.

    Returns
    -------
    str
        Such as ``likely 2 to 4 coats``.
    """
    return f"likely {interval_words(count)} coats"


def key_words(tolerance: float) -> str:
    """The same in one line, for a projector.

    Parameters
    ----------
    tolerance : float
        Difference that counts as hidden. [CIEDE2000]

    Returns
    -------
    str
    """
    return (
        f"Number: difference left; up to {tolerance:g} counts as hidden. Stripe: the "
        "full colour."
    )


def film_words(lesson: Lesson, coats: int) -> str:
    """Which light the film lets through after some coats, and what shows by it.

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
        return f"No {word} yet: every sealer shows as it is."
    spectrum = np.array(lesson.see_through[coats])
    through = {band.name: float(spectrum[band.columns].mean()) for band in BANDS}
    closed = [name for name, share in through.items() if share < OPAQUE_BELOW]
    opened = [name for name in through if name not in closed]
    start = f"After {coats_words(coats)} this {word}"
    if not opened:
        return (
            f"{start} lets hardly any light through: what lies under it no longer "
            "matters."
        )
    shares = listed([f"{percent(through[name])} of the {name}" for name in opened])
    shows = f"{shares} light gets down to the sealer and back out"
    if not closed:
        return f"{start} still lets light of every colour through: {shows}."
    return (
        f"{start} lets hardly any {listed(closed, 'or')} light through, but {shows}. "
        f"So only the sealer's {listed(opened)} still shows."
    )


def hides_words(lesson: Lesson, coats: int) -> str:
    """Over which sealers the film hides after some coats.

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
    if not coats:
        return "Before the first coat nothing is hidden."
    start = f"After {coats_words(coats)} the film"
    hidden = [each.undercoat.name for each in lesson.panels if each.hides(coats)]
    if not hidden:
        return f"{start} hides over none of them yet."
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
        return (
            "The bare card: its black half reflects nothing, so the contrast ratio is "
            "0."
        )
    reached = (
        f"stays above it from {coats_words(card.hidden_from)} on"
        if card.hidden_from is not None
        else f"does not reach it within {coats_words(cap)}"
    )
    return (
        f"After {coats_words(coats)} the contrast ratio is "
        f"{beside_limit(card.contrast_ratio[coats], COMPLETE_HIDING, 2)} ({SURE}: "
        f"{card.low[coats]:.2f} to {card.high[coats]:.2f}). {COMPLETE}; this film "
        f"{reached}."
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
        Such as ``from coat 3 on (90 %: 2 to 4)``.
    """
    start = f"not within {coats_words(cap)}"
    if judge.hidden_from is not None:
        start = f"from coat {judge.hidden_from} on"
    return f"{start} ({SURE}: {range_words(judge.low, judge.high, cap)})"


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
    closest, best = (
        number_words(each, row.cap) for each in (row.closest_coats, row.best_coats)
    )
    return f"{row.name} {closest} coats instead of {best}"
