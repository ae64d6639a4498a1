"""The handout: one colour on one page, to take home from the lesson."""

from typing import Final

import numpy as np

from shadecore.film.drawdown import COMPLETE_HIDING
from shadecore.lesson.colours import shown
from shadecore.lesson.contrast_card import ContrastCard, Judge
from shadecore.lesson.panels import Lesson, Strip
from shadecore.pages.poster import Cell, Grid, Poster
from shadecore.pages.sheet import Section
from shadecore.telling.lesson_words import (
    EYE_NOTE,
    MODELLED,
    OUTSIDE_NOTE,
    PAPER_NOTE,
    card_words,
    coat_words,
    colour_word,
    film_words,
    judge_words,
)
from shadecore.telling.names import brief
from shadecore.telling.reasons import (
    BANDS,
    coats_in_words,
    count_in_brief,
    interval_in_words,
    lab_in_words,
    open_band,
    told,
    why,
)
from shadecore.telling.text import CAUTION
from shadecore.undercoats.shelf import munsell_value
from shadecore.units import UNITS, Units

COATS_SHOWN: Final = 6
_EXPLAINED_AFTER: Final = 2
_MOST_UNDERCOATS: Final = 6
"""More would not fit on one page."""
_HOW_TO_READ: Final = (
    "Under each colour the difference to the full colour (CIEDE2000); a thick frame "
    f"and the word say that it hides. {OUTSIDE_NOTE} {PAPER_NOTE}"
)


def handout(
    lesson: Lesson, card: ContrastCard, units: Units = UNITS["metric"]
) -> Poster:
    """Put a lesson on a page.

    Parameters
    ----------
    lesson : Lesson
        The lesson; of more than six undercoats the best six are shown.
    card : ContrastCard
        The same film on a contrast card.
    units : Units
        What films are shown in.

    Returns
    -------
    Poster
    """
    word = colour_word(lesson.topcoat.lab)
    best = lesson.answer.recommended
    after = min(_EXPLAINED_AFTER, lesson.settings.coat_cap)
    return Poster(
        f"Which undercoat under this {word}?",
        f"{lab_in_words(lesson.topcoat.lab)}, entered as {lesson.topcoat.entered}. "
        f"Fewest coats: {best.undercoat.name}, {coats_in_words(best)} (9 times in 10: "
        f"{interval_in_words(best)}). One coat is "
        f"{units.film(lesson.settings.film.dry_film_um)} dry; a difference of "
        f"{lesson.settings.tolerance:g} CIEDE2000 counts as hidden.",
        (_film_grid(lesson), _band_grid(lesson, after), _card_grid(card)),
        (
            Section(
                "Who calls the card hidden",
                lines=(
                    " ".join(_judge_line(each, card) for each in card.judges),
                    EYE_NOTE,
                ),
            ),
            Section("Measured and modelled", lines=(MODELLED, CAUTION)),
        ),
    )


def _film_grid(lesson: Lesson) -> Grid:
    coats = range(1, min(COATS_SHOWN, lesson.settings.coat_cap) + 1)
    panels = lesson.panels
    if len(panels) > _MOST_UNDERCOATS:
        ranks = {
            each.undercoat.name: i for i, each in enumerate(lesson.answer.outlooks)
        }
        panels = tuple(sorted(panels, key=lambda each: ranks[each.undercoat.name]))
    return Grid(
        "The same film over each undercoat",
        (
            Cell("Undercoat"),
            Cell("Coats", note="9 times in 10"),
            *(Cell(f"Coat {n}") for n in coats),
            Cell("Full"),
        ),
        tuple(_film_row(each, lesson, coats) for each in panels[:_MOST_UNDERCOATS]),
        (_HOW_TO_READ,),
    )


def _film_row(panel: Strip, lesson: Lesson, coats: range) -> tuple[Cell, ...]:
    marks = []
    if panel.undercoat == lesson.answer.recommended.undercoat:
        marks.append("fewest coats")
    if panel.undercoat == lesson.answer.closest.undercoat:
        marks.append("closest in lightness")
    return (
        undercoat_cell(panel.undercoat.name, panel.undercoat.lab, marks),
        Cell(
            count_in_brief(panel.estimate.coats, panel.estimate.count.cap),
            note=interval_in_words(panel.estimate),
        ),
        *(
            Cell(
                f"{told(panel.difference[n], lesson.settings.tolerance, 1)}"
                f"{'*' * panel.film[n].outside}",
                (panel.film[n].hex,),
                "hides" if panel.hides(n) else "",
                panel.hides(n),
            )
            for n in coats
        ),
        Cell("", (lesson.full.hex,), "*" * lesson.full.outside),
    )


def undercoat_cell(
    name: str, lab: tuple[float, float, float], marks: list[str]
) -> Cell:
    """An undercoat with its grey, L* and N.

    Parameters
    ----------
    name : str
        What the shop calls it.
    lab : tuple of float
        Its colour.
    marks : list of str
        What it is among the others.

    Returns
    -------
    Cell
    """
    (own,) = shown([lab])
    measured = f"L* {lab[0]:.1f}, N {munsell_value(lab[0]):.1f}"
    return Cell(brief(name), (own.hex,), "; ".join([measured, *marks]))


def _band_grid(lesson: Lesson, after: int) -> Grid:
    """Where the film is see-through, and what the undercoats throw back there."""
    best, closest = lesson.answer.recommended, lesson.answer.closest
    undercoats = dict.fromkeys((best.undercoat, closest.undercoat))
    spectra = {
        f"Film lets through after {coat_words(after)}": lesson.see_through[after],
        "Finished colour throws back": lesson.reflectance,
        **{f"{brief(each.name)} throws back": each.reflectance for each in undercoats},
    }
    most_open = open_band(lesson.answer)
    return Grid(
        "Why",
        (Cell("Share of the light"), *(Cell(f"{band.name} light") for band in BANDS)),
        tuple(
            (
                Cell(name),
                *(
                    Cell(
                        f"{np.mean(np.array(values)[band.columns]):.0%}",
                        note=""
                        if place or band != most_open
                        else "counts most for the eye",
                        marked=band == most_open,
                    )
                    for band in BANDS
                ),
            )
            for place, (name, values) in enumerate(spectra.items())
        ),
        (film_words(lesson, after), why(lesson.answer)),
    )


def _card_grid(card: ContrastCard) -> Grid:
    cap = len(card.contrast_ratio) - 1
    coats = range(min(COATS_SHOWN, cap) + 1)
    return Grid(
        "The same film on a black-and-white card",
        (Cell("Coats"), *(Cell(f"{n}" if n else "bare") for n in coats)),
        (
            (
                Cell("Over black | white"),
                *(
                    Cell("", (card.over_black[n].hex, card.over_white[n].hex))
                    for n in coats
                ),
            ),
            (
                Cell("Contrast ratio", note="9 times in 10"),
                *(
                    Cell(
                        told(card.contrast_ratio[n], COMPLETE_HIDING, 2),
                        note=f"{card.low[n]:.2f} to {card.high[n]:.2f}" if n else "",
                        marked=card.hidden_from is not None and n >= card.hidden_from,
                    )
                    for n in coats
                ),
            ),
        ),
        (card_words(card, min(_EXPLAINED_AFTER, cap)),),
    )


def _judge_line(judge: Judge, card: ContrastCard) -> str:
    cap = len(card.contrast_ratio) - 1
    return (
        f"{judge.name} ({judge.rule}, up to {judge.limit:g}): "
        f"{judge_words(judge, cap)}."
    )
