"""The handout: one colour on one page, to take home from the lesson."""

from typing import Final

import numpy as np

from shadecore.colour.kinds import SOLID
from shadecore.film.drawdown import COMPLETE_HIDING
from shadecore.formats.echo import brief
from shadecore.lesson.colours import shown
from shadecore.lesson.contrast_card import ContrastCard, Judge
from shadecore.lesson.panels import Lesson, Strip
from shadecore.pages.blocks import Block, Cell, Document, Section, Table, Text
from shadecore.question.question import Question
from shadecore.telling.basis import (
    CAUTION,
    EYE_NOTE,
    MODELLED,
    OUTSIDE_NOTE,
    PAPER_NOTE,
)
from shadecore.telling.colours import colour_word
from shadecore.telling.counts import (
    SURE,
    coats_words,
    interval_words,
    number_of,
    sure_words,
)
from shadecore.telling.effect_words import kind_words, last_angle_words
from shadecore.telling.lesson_words import card_words, film_words, judge_words
from shadecore.telling.names import grey_words
from shadecore.telling.numbers import beside_limit
from shadecore.telling.photo_words import asked_lab_words
from shadecore.telling.reasons import BANDS, open_band, why
from shadecore.units import UNITS, Units, percent

COATS_SHOWN: Final = 6
_EXPLAINED_AFTER: Final = 2
_MOST_SEALERS: Final = 6
"""More would not fit on one page."""
_MOST_SEEN: Final = "counts most for the eye"
_HOW_TO_READ: Final = (
    "Under each colour the difference to the full colour (CIEDE2000); a thick frame "
    f"and the word say that it hides. {OUTSIDE_NOTE} {PAPER_NOTE}"
)


def handout(
    lesson: Lesson,
    card: ContrastCard,
    units: Units = UNITS["metric"],
    question: Question | None = None,
) -> Document:
    """Put a lesson on a page.

    Parameters
    ----------
    lesson : Lesson
        The lesson; of more than six undercoats the best six are shown.
    card : ContrastCard
        The same film on a contrast card.
    units : Units
        What films are shown in.
    question : Question, optional
        What the lesson answers, for the kind of its colour and the angle that hides
        last.

    Returns
    -------
    Document
        Of one page.
    """
    word = colour_word(lesson.topcoat.lab)
    best = lesson.answer.recommended
    photo = None if question is None else question.photo
    after = min(_EXPLAINED_AFTER, lesson.settings.coat_cap)
    who = " ".join(_judge_line(each, card) for each in card.judges)
    return Document(
        f"Which sealer under this {word}?",
        f"{asked_lab_words(lesson.topcoat.lab, photo)}, entered as "
        f"{lesson.topcoat.entered}. "
        f"Fewest coats: {brief(best.undercoat.name)}, {sure_words(best.count)}. One "
        f"coat is {units.film.show(lesson.settings.film.dry_film_um)} dry; a "
        f"difference of {lesson.settings.tolerance:g} (CIEDE2000) counts as hidden."
        f"{_kind(lesson, question)}",
        sections=(
            Section(
                "The same film over each sealer",
                (Text(_HOW_TO_READ), _film_table(lesson)),
            ),
            Section(
                "Why",
                _why_blocks(lesson, after),
            ),
            Section(
                "The same film on a black-and-white card",
                (Text(card_words(card, _explained(card))), _card_table(card)),
            ),
            Section("Who calls the card hidden", (Text(who), Text(EYE_NOTE))),
            Section("Measured and modelled", (Text(MODELLED), Text(CAUTION))),
        ),
        most_pages=1,
    )


def _kind(lesson: Lesson, question: Question | None) -> str:
    if question is None or question.kind == SOLID:
        return ""
    best = lesson.answer.recommended
    told = (kind_words(question), last_angle_words(question, best.last_angle))
    return "".join(f" {each}" for each in told if each)


def _why_blocks(lesson: Lesson, after: int) -> tuple[Block, ...]:
    """Why; what has flakes has no one spectrum to explain it by."""
    reason = Text(why(lesson.answer))
    if not lesson.reflectance:
        return (reason,)
    return Text(film_words(lesson, after)), reason, _band_table(lesson, after)


def _explained(card: ContrastCard) -> int:
    """Coats of the card that its sentence speaks of."""
    return min(_EXPLAINED_AFTER, len(card.contrast_ratio) - 1)


def _film_table(lesson: Lesson) -> Table:
    coats = range(1, min(COATS_SHOWN, lesson.settings.coat_cap) + 1)
    panels = lesson.panels
    if len(panels) > _MOST_SEALERS:
        ranks = {
            each.undercoat.name: i for i, each in enumerate(lesson.answer.outlooks)
        }
        panels = tuple(sorted(panels, key=lambda each: ranks[each.undercoat.name]))
    return Table(
        (
            Cell("Sealer"),
            Cell("Coats", note=f"likely, {SURE}"),
            *(Cell(f"Coat {n}") for n in coats),
            Cell("Full"),
        ),
        tuple(_film_row(each, lesson, coats) for each in panels[:_MOST_SEALERS]),
    )


def _film_row(panel: Strip, lesson: Lesson, coats: range) -> tuple[Cell, ...]:
    marks = []
    if panel.undercoat == lesson.answer.recommended.undercoat:
        marks.append("fewest coats")
    if panel.undercoat == lesson.answer.closest.undercoat:
        marks.append("closest in lightness")
    return (
        sealer_cell(panel.undercoat.name, panel.undercoat.lab, marks),
        Cell(
            number_of(panel.estimate.count), note=interval_words(panel.estimate.count)
        ),
        *(
            Cell(
                f"{beside_limit(panel.difference[n], lesson.settings.tolerance, 1)}"
                f"{'*' * panel.film[n].outside}",
                (panel.film[n].hex,),
                "hides" if panel.hides(n) else "",
                panel.hides(n),
            )
            for n in coats
        ),
        Cell("", (lesson.full.hex,), "*" * lesson.full.outside),
    )


def sealer_cell(name: str, lab: tuple[float, float, float], marks: list[str]) -> Cell:
    """A sealer with its grey, L* and N.

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
    return Cell(brief(name), (own.hex,), "; ".join([grey_words(lab[0]), *marks]))


def _band_table(lesson: Lesson, after: int) -> Table:
    """Which light the film lets through, and what of it the sealers reflect."""
    best, closest = lesson.answer.recommended, lesson.answer.closest
    sealers = dict.fromkeys((best.undercoat, closest.undercoat))
    spectra = {
        f"Film lets through after {coats_words(after)}": lesson.see_through[after],
        "Finished colour reflects": lesson.reflectance,
        **{f"{brief(each.name)} reflects": each.reflectance for each in sealers},
    }
    most_open = open_band(lesson.answer)
    return Table(
        (Cell("Share of the light"), *(Cell(f"{band.name} light") for band in BANDS)),
        tuple(
            (
                Cell(name),
                *(
                    Cell(
                        percent(float(np.mean(np.array(values)[band.columns]))),
                        note=_MOST_SEEN if not place and band == most_open else "",
                        marked=band == most_open,
                    )
                    for band in BANDS
                ),
            )
            for place, (name, values) in enumerate(spectra.items())
        ),
    )


def _card_table(card: ContrastCard) -> Table:
    coats = range(min(COATS_SHOWN, len(card.contrast_ratio) - 1) + 1)
    return Table(
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
                Cell("Contrast ratio", note=f"likely, {SURE}"),
                *(
                    Cell(
                        beside_limit(card.contrast_ratio[n], COMPLETE_HIDING, 2),
                        note=f"{card.low[n]:.2f} to {card.high[n]:.2f}" if n else "",
                        marked=card.hidden_from is not None and n >= card.hidden_from,
                    )
                    for n in coats
                ),
            ),
        ),
    )


def _judge_line(judge: Judge, card: ContrastCard) -> str:
    cap = len(card.contrast_ratio) - 1
    return (
        f"{judge.name} ({judge.rule}, up to {judge.limit:g}): "
        f"{judge_words(judge, cap)}."
    )
