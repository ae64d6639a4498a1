"""Pictures of an answer as HTML: swatches, the count, the film coat by coat."""

from html import escape

from shadecore.coats.answer import Answer, Outlook
from shadecore.colour.display import hex_from_lab, srgb_from_lab
from shadecore.pages.tables import Table
from shadecore.telling.reasons import count_in_brief, interval_in_words, lab_in_words
from shadecore.undercoats.shelf import munsell_value
from shadecore.units import Units

_NINE_IN_TEN, _BY_THEN = "9 times in 10", "Chance by then"
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
    number = count_in_brief(best.coats, best.count.cap)
    unit = "coat" if best.coats == 1 else "coats"
    return (
        '<div class="sc-hero">'
        f"{_figure(topcoat, 'Topcoat', lab_in_words(answer.topcoat.lab))}"
        f"{_figure(undercoat, 'Spray it over', _name(best))}"
        '<div class="sc-count" data-pick="coats">'
        f"<b>{number}</b>{unit} to hide"
        f'<div class="sc-small">9 times in 10: {interval_in_words(best)}</div></div>'
        "</div>"
    )


def _figure(colour: str, title: str, text: str) -> str:
    return (
        f'<figure><div class="sc-patch" role="img" aria-label="{escape(title)}: '
        f'{escape(text)}" style="background:{colour}"></div>'
        f"<figcaption><strong>{escape(title)}</strong><br>{escape(text)}"
        "</figcaption></figure>"
    )


def _name(outlook: Outlook) -> str:
    undercoat = outlook.undercoat
    value = munsell_value(undercoat.lightness)
    return f"{undercoat.name} (L* {undercoat.lightness:.1f}, N {value:.1f})"


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
    kinds = [
        ' class="num"' if i in table.numbers else "" for i in range(len(table.headings))
    ]
    heads = "".join(
        f'<th scope="col"{kind}>{escape(cell)}</th>'
        for cell, kind in zip(table.headings, kinds, strict=True)
    )
    rows = "".join(
        f'<tr><th scope="row">{escape(first)}</th>'
        + "".join(
            f'<td{kind} data-label="{escape(head)}">{escape(cell)}</td>'
            for cell, kind, head in zip(
                rest, kinds[1:], table.headings[1:], strict=True
            )
        )
        + "</tr>"
        for first, *rest in table.rows
    )
    return (
        '<div class="sc-scroll sc-cards" tabindex="0" role="region" aria-label="Table">'
        f'<table class="sc-table"><thead><tr>{heads}</tr></thead>'
        f'<tbody>{rows}</tbody></table></div><p class="sc-small">'
        f"{escape(table.note)}</p>"
    )


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
    rows = "".join(_table_row(each, answer, units) for each in answer.lines)
    heads = "".join(
        f'<th scope="col"{kind}>{title}</th>'
        for title, kind in (
            ("Undercoat", ""),
            ("L*", ' class="num"'),
            ("Coats", ' class="num"'),
            (_NINE_IN_TEN, ' class="brief"'),
            (_BY_THEN, ' class="num"'),
            (f"Paint, {units.paint_name}", ' class="num"'),
        )
    )
    return (
        '<div class="sc-scroll sc-cards" tabindex="0" role="region" '
        'aria-label="Undercoats">'
        f'<table class="sc-table"><thead><tr>{heads}</tr></thead>'
        f"<tbody>{rows}</tbody></table></div>"
    )


def _table_row(outlook: Outlook, answer: Answer, units: Units) -> str:
    marks = []
    if outlook == answer.recommended:
        marks.append("recommended")
    if outlook == answer.closest:
        marks.append("closest in lightness")
    marks += [flag.headline.lower() for flag in outlook.flags if not flag.of_colour]
    cap = outlook.count.cap
    coats = f"over {cap}" if outlook.coats is None else str(outlook.coats)
    count = outlook.count
    chance = "" if count.coats is None else f"{count.chance[count.coats - 1]:.0%}"
    paint = f"Paint, {units.paint_name}"
    return (
        f'<tr><th scope="row">{escape(outlook.undercoat.name)}'
        f'<div class="sc-small sc-marks">{escape("; ".join(marks))}</div></th>'
        f'<td class="num" data-label="L*">{outlook.undercoat.lightness:.1f}</td>'
        f'<td class="num brief" data-label="Coats">{coats}</td>'
        f'<td class="brief" data-label="{_NINE_IN_TEN}">'
        f"{interval_in_words(outlook)}</td>"
        f'<td class="num" data-label="{_BY_THEN}">{chance}</td>'
        f'<td class="num" data-label="{paint}">'
        f"{units.paint_number(outlook.paint_ml_per_m2)}</td></tr>"
    )
