"""The answer for one colour as a document: what a terminal shows of a pick."""

from shadecore.card.hiding_power import HidingPower
from shadecore.coats.answer import Answer, Outlook
from shadecore.coats.loading import default_loading
from shadecore.pages.blocks import Block, Document, Text
from shadecore.pages.details import differences_table
from shadecore.question.answer import answer_as_usual
from shadecore.question.question import Question
from shadecore.telling.basis import BASIS, CAUTION
from shadecore.telling.counts import coats_words, plan_words, sure_words
from shadecore.telling.effect_words import flop_words, kind_words, last_angle_words
from shadecore.telling.flag_words import warning_words
from shadecore.telling.hiding_words import hiding_power_words, hiding_words, mix_words
from shadecore.telling.names import sealer_words
from shadecore.telling.photo_words import asked_lab_words
from shadecore.telling.reasons import why
from shadecore.telling.seen import (
    as_usual_words,
    left_out_words,
    loading_words,
    rests_on_words,
)
from shadecore.units import UNITS


def answer_page(
    question: Question, answer: Answer, power: HidingPower | None = None
) -> Document:
    """Fill in an answer.

    Parameters
    ----------
    question : Question
        What was asked.
    answer : Answer
        Its answer.
    power : HidingPower, optional
        What a test card says of the paint's hiding.

    Returns
    -------
    Document
    """
    topcoat, settings, best = answer.topcoat, answer.settings, answer.recommended
    units = UNITS[question.units]
    turning = (flop_words(question), last_angle_words(question, best.last_angle))
    card = [] if power is None else [Text(hiding_power_words(power, units), "Card")]
    usual = answer_as_usual(question)
    learned = [
        loading_words(question.loading, default_loading()),
        "" if usual is None else as_usual_words(usual),
    ]
    fewer = left_out_words(len(answer.rests_on), answer.left_out)
    mix = [] if answer.mix is None else [Text(mix_words(answer.mix, best), "Mix")]
    blocks: tuple[Block, ...] = (
        Text(
            f"{topcoat.entered}: {asked_lab_words(topcoat.lab, question.photo)}",
            "Topcoat",
        ),
        Text(kind_words(question), "Kind"),
        *(Text(each, "Angles") for each in turning if each),
        Text(_headline(best), "Sealer"),
        Text(plan_words(best.count), "Coats"),
        Text(_headline(answer.closest), "Closest L*"),
        Text(why(answer), "Why"),
        Text(hiding_words(answer, units), "Hiding"),
        *card,
        *(
            Text(rests_on_words(each, settings.coat_cap), "Seen")
            for each in answer.rests_on
        ),
        *([Text(fewer, "Seen")] if fewer else []),
        *([] if usual is None else [Text(" ".join(learned), "Learned")]),
        *(Text(warning_words(flag), "Caution") for flag in answer.flags),
        differences_table(answer, units),
        *mix,
        Text(
            f"tolerance {settings.tolerance:g} CIEDE2000; "
            f"{units.film.show(settings.film.dry_film_um)} dry film a coat; up to "
            f"{coats_words(settings.coat_cap)} counted",
            "Assumed",
        ),
        Text(BASIS[answer.basis], "Basis"),
        Text(CAUTION, "Safety"),
    )
    return Document(blocks=blocks)


def _headline(outlook: Outlook) -> str:
    return f"{sealer_words(outlook.undercoat)}: {sure_words(outlook.count)}"
