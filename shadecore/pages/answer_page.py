"""The answer for one colour as a document: what a terminal shows of a pick."""

from shadecore.card.hiding_power import HidingPower
from shadecore.coats.answer import Answer, Outlook
from shadecore.pages.blocks import Block, Document, Text
from shadecore.pages.details import differences_table
from shadecore.telling.basis import BASIS, CAUTION
from shadecore.telling.colours import lab_words
from shadecore.telling.counts import coats_words, plan_words, sure_words
from shadecore.telling.flag_words import warning_words
from shadecore.telling.hiding_words import hiding_power_words, hiding_words, mix_words
from shadecore.telling.names import MIX, sealer_words
from shadecore.telling.reasons import why
from shadecore.units import UNITS, Units


def answer_page(
    answer: Answer, units: Units = UNITS["metric"], power: HidingPower | None = None
) -> Document:
    """Fill in an answer.

    Parameters
    ----------
    answer : Answer
        The answer.
    units : Units
        What films and amounts are shown in.
    power : HidingPower, optional
        What a test card says of the paint's hiding.

    Returns
    -------
    Document
    """
    topcoat, settings, best = answer.topcoat, answer.settings, answer.recommended
    card = [] if power is None else [Text(hiding_power_words(power, units), "Card")]
    mixes = (
        Text(f"{MIX}: {mix_words(each, best)}", "Mix")
        for each in answer.outlooks
        if each.undercoat.parts
    )
    blocks: tuple[Block, ...] = (
        Text(f"{topcoat.entered}: {lab_words(topcoat.lab)}", "Topcoat"),
        Text(_headline(best), "Sealer"),
        Text(plan_words(best.count), "Coats"),
        Text(_headline(answer.closest), "Closest L*"),
        Text(why(answer), "Why"),
        Text(hiding_words(answer, units), "Hiding"),
        *card,
        *(Text(warning_words(flag), "Caution") for flag in answer.flags),
        differences_table(answer, units),
        *mixes,
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
