"""Pictures of an answer as HTML: swatches, the count, the film coat by coat."""

from html import escape

from shadecore.coats.answer import Answer, Outlook
from shadecore.colour.display import hex_from_lab, srgb_from_lab
from shadecore.pages.blocks import Table
from shadecore.pages.details import sealers_table
from shadecore.pages.html_layout import block_html
from shadecore.telling.colours import lab_words
from shadecore.telling.counts import SURE, interval_words, number_of
from shadecore.telling.names import sealer_words
from shadecore.units import Units

STRIP_COATS = 8
"""Coats that fit beside each other on a desk's screen."""


def hero_html(answer: Answer) -> str:
    """Topcoat, recommended undercoat and coats, to be read from across the bench.

    Parameters
    ----------
    answer : Answer
        The answer.

    Returns
    -------
    str
    """
    best = answer.recommended
    topcoat, undercoat = hex_from_lab([answer.topcoat.lab, best.undercoat.lab])
    number = number_of(best.count)
    unit = "coat" if best.coats == 1 else "coats"
    return (
        '<div class="sc-hero">'
        f"{_figure(topcoat, 'Topcoat', lab_words(answer.topcoat.lab))}"
        f"{_figure(undercoat, 'Spray it over', sealer_words(best.undercoat))}"
        '<div class="sc-count" data-pick="coats">'
        f"<b>{number}</b>{unit} to hide"
        f'<div class="sc-small">{SURE}: {interval_words(best.count)}</div></div>'
        "</div>"
    )


def _figure(colour: str, title: str, text: str) -> str:
    return (
        f'<figure><div class="sc-patch" role="img" aria-label="{escape(title)}: '
        f'{escape(text)}" style="background:{colour}"></div>'
        f"<figcaption><strong>{escape(title)}</strong><br>{escape(text)}"
        "</figcaption></figure>"
    )


def beside_html(answer: Answer) -> str:
    """The film coat by coat over the best undercoat, and over the lightness match.

    Parameters
    ----------
    answer : Answer
        The answer.

    Returns
    -------
    str
    """
    return _strip_table((answer.recommended, answer.closest), answer)


def strip_html(answer: Answer) -> str:
    """The film coat by coat over each undercoat, with the difference left under it.

    Parameters
    ----------
    answer : Answer
        The answer.

    Returns
    -------
    str
    """
    return (
        '<p class="sc-small">Colour after each coat, and under it the difference to '
        "the full colour (CIEDE2000). A double frame marks the coats that hide; * lies "
        "outside what a screen can show. A screen is not a paint chip.</p>"
        f"{_strip_table(answer.lines, answer)}"
    )


def _strip_table(outlooks: tuple[Outlook, ...], answer: Answer) -> str:
    shown = min(STRIP_COATS, answer.settings.coat_cap)
    heads = "".join(f'<th scope="col">{n}</th>' for n in range(1, shown + 1))
    rows = "".join(_strip_row(each, answer, shown) for each in outlooks)
    return (
        '<div class="sc-scroll" tabindex="0" role="region" '
        'aria-label="Film coat by coat"><table class="sc-table sc-strip">'
        f'<thead><tr><th scope="col">Undercoat</th><th scope="col">bare</th>{heads}'
        f"</tr></thead><tbody>{rows}</tbody></table></div>"
    )


def _strip_row(outlook: Outlook, answer: Answer, shown: int) -> str:
    lab = [outlook.undercoat.lab, *outlook.lab[:shown]]
    colours = hex_from_lab(lab)
    _, outside = srgb_from_lab(lab)
    cells = [_cell(colours[0], "", hides=False)]
    for coat in range(1, shown + 1):
        left = outlook.difference[coat - 1]
        star = "*" if outside[coat] else ""
        hides = outlook.coats is not None and coat >= outlook.coats
        cells.append(_cell(colours[coat], f"{left:.1f}{star}", hides=hides))
    note = " (recommended)" if outlook == answer.recommended else ""
    return (
        f'<tr><th scope="row">{escape(outlook.undercoat.name)}{note}</th>'
        f"{''.join(cells)}</tr>"
    )


def _cell(colour: str, text: str, *, hides: bool) -> str:
    kind = ' class="hides"' if hides else ""
    return f'<td{kind}><i style="background:{colour}"></i>{text}</td>'


def details_html(table: Table) -> str:
    """Any table of a report; on a phone each row becomes a card.

    Parameters
    ----------
    table : Table
        The table.

    Returns
    -------
    str
    """
    return block_html(table)


def table_html(answer: Answer, units: Units) -> str:
    """Coats, interval, chance and paint for each undercoat.

    Parameters
    ----------
    answer : Answer
        The answer.
    units : Units
        What amounts are shown in.

    Returns
    -------
    str
    """
    return block_html(sealers_table(answer, units))
