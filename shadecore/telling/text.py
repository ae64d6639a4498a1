"""An answer as text for a terminal."""

import textwrap

from shadecore.coats.answer import Answer, Outlook
from shadecore.film.drawdown import COMPLETE_HIDING
from shadecore.pages.tables import WIDTH
from shadecore.telling.reasons import (
    coats_in_words,
    interval_in_brief,
    interval_in_words,
    lab_in_words,
    why,
)
from shadecore.units import UNITS, Units

_LABEL_WIDTH = 12
_COATS_SHOWN = 5
_NAME_WIDTH = 22

LAST_WORD = "The product's data sheet and a sprayed-out test card have the last word."
BASIS = {
    "colour": "Estimated from the colour alone by plausible recipes (modelled, not "
    f"measured). {LAST_WORD}",
    "spectrum": "Absorption over scattering is measured by the spectrum; scattering "
    f"is estimated by plausible recipes (modelled). {LAST_WORD}",
    "photo": "The colour is read off a photo, with its doubt; the paint is estimated "
    f"from it by plausible recipes (modelled, not measured). {LAST_WORD}",
    "test card": "Absorption and scattering are fitted to the test card; other films "
    "and undercoats are modelled from them. The product's data sheet has the last "
    "word.",
}
"""What an answer rests on, by ``Answer.basis``."""
CAUTION = (
    "Spray only with the protection the data sheets and local rules ask for: "
    "hardeners contain isocyanates, so supplied air; ventilate, keep sparks and "
    "flames away, ground the gun."
)


def answer_text(answer: Answer, units: Units = UNITS["metric"]) -> str:
    """Write an answer out.

    Parameters
    ----------
    answer : Answer
        The answer.
    units : Units
        What films and amounts are shown in.

    Returns
    -------
    str
        Lines of at most 79 characters.
    """
    topcoat, settings, hiding = answer.topcoat, answer.settings, answer.hiding
    blocks = [
        block(
            "Topcoat",
            f"{topcoat.entered}: {lab_in_words(topcoat.lab)}",
        ),
        block("Undercoat", _headline(answer.recommended)),
        block("Closest L*", _headline(answer.closest)),
        block("Why", why(answer)),
        block(
            "Hiding",
            f"{hiding.rating}: contrast ratio {hiding.contrast_ratio:.2f} (90 %: "
            f"{hiding.low:.2f} to {hiding.high:.2f}) at {units.film(hiding.film_um)} "
            f"dry; {COMPLETE_HIDING} counts as complete",
        ),
        *(block("Caution", f"{flag.headline}. {flag.advice}") for flag in answer.flags),
        "",
        *_table(answer, units),
        "",
        block(
            "Assumed",
            f"tolerance {settings.tolerance:g} CIEDE2000; "
            f"{units.film(settings.film.dry_film_um)} dry film a coat; up to "
            f"{settings.coat_cap} coats counted",
        ),
        block("Basis", BASIS[answer.basis]),
        block("Safety", CAUTION),
    ]
    return "\n".join(blocks) + "\n"


def _headline(outlook: Outlook) -> str:
    undercoat = outlook.undercoat
    return (
        f"{undercoat.name} (L* {undercoat.lightness:.1f}): {coats_in_words(outlook)} "
        f"(90 %: {interval_in_words(outlook)})"
    )


def block(label: str, text: str) -> str:
    """A label with its text beside it, broken to the terminal's width.

    Parameters
    ----------
    label : str
        Short.
    text : str
        As long as it needs to be.

    Returns
    -------
    str
    """
    return textwrap.fill(
        text,
        WIDTH,
        initial_indent=label.ljust(_LABEL_WIDTH),
        subsequent_indent=" " * _LABEL_WIDTH,
    )


def _table(answer: Answer, units: Units) -> list[str]:
    coats = min(_COATS_SHOWN, answer.settings.coat_cap)
    numbers = "".join(f"{n:>5}" for n in range(1, coats + 1))
    title = f"{'':{_NAME_WIDTH}}                     difference left after coat"
    heading = f"{'':{_NAME_WIDTH}}   L*  coats    90 % {numbers}  {units.paint_name}"
    rows = [_row(each, coats, units) for each in answer.lines]
    mixed = [
        block("Blend", f"{each.undercoat.name} (L* {each.undercoat.lightness:.1f})")
        for each in answer.lines
        if each.undercoat.parts
    ]
    return [title, heading, *rows, *(["", *mixed] if mixed else [])]


def _row(outlook: Outlook, coats: int, units: Units) -> str:
    name = "blend, see below" if outlook.undercoat.parts else outlook.undercoat.name
    if len(name) > _NAME_WIDTH:
        name = f"{name[: _NAME_WIDTH - 1]}…"
    count = "-" if outlook.coats is None else str(outlook.coats)
    left = "".join(f"{value:5.1f}" for value in outlook.difference[:coats])
    amount = units.paint_number(outlook.paint_ml_per_m2)
    return (
        f"{name:<{_NAME_WIDTH}} {outlook.undercoat.lightness:4.0f}  {count:>5} "
        f"{interval_in_brief(outlook):>7} {left}  {amount:>5}"
    )
