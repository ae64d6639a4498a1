"""Pictures of an answer as HTML: the pick large, and a strip of films coat by coat."""

from collections.abc import Sequence
from functools import lru_cache
from html import escape
from typing import Final

import numpy as np

from shadecore.coats.answer import Answer, Outlook
from shadecore.colour.display import hex_from_lab, hex_from_srgb, srgb_from_lab
from shadecore.formats.echo import brief
from shadecore.pages.blocks import Table
from shadecore.pages.html_layout import block_html
from shadecore.question.question import PhotoDoubt
from shadecore.telling.basis import LEFT_NOTE, OUTSIDE_NOTE, SCREEN_NOTE
from shadecore.telling.colours import lab_words
from shadecore.telling.counts import (
    RANGE,
    RANGE_NOTE,
    SURE,
    enough_words,
    interval_words,
    narrow_interval,
    narrow_number,
    number_of,
    plan_words,
)
from shadecore.telling.flag_words import warning_of
from shadecore.telling.hiding_words import mix_saves_words
from shadecore.telling.names import grey_words, mix_in_brief, sealer_words
from shadecore.telling.photo_words import asked_lab_words
from shadecore.units import UNITS, Units

STRIP_COATS: Final = 8
"""Coats that fit beside each other on a desk's screen."""
ROWS: Final = 10
"""Sealers that fit one screen; the best ones of a larger shelf are shown."""
PHONE_ROWS: Final = 7
"""Sealers that fit a phone's screen above its bar."""
_REMEMBERED: Final = 64
_OUTSIDE: Final = "*"


def hero_html(
    answer: Answer,
    over: Outlook,
    planned: int | None = None,
    doubt: PhotoDoubt | None = None,
) -> str:
    """Topcoat, undercoat and coats, to be read from across the bench.

    Parameters
    ----------
    answer : Answer
        The answer.
    over : Outlook
        Of the undercoat that is sprayed over.
    planned : int, optional
        Coats that a job is planned with; those to hide unless given.
    doubt : PhotoDoubt, optional
        Of the topcoat's colour where it was read off a photo.

    Returns
    -------
    str
    """
    topcoat, undercoat = hex_from_lab([answer.topcoat.lab, over.undercoat.lab])
    number, to_hide = number_of(over.count), ""
    if planned is not None and planned != over.coats:
        number, to_hide = f"{planned}", f"To hide: {number}. "
    unit = "coat" if number == "1" else "coats"
    what = "planned" if to_hide else "to hide"
    return (
        '<div class="sc-hero">'
        f"{_figure(topcoat, 'Topcoat', asked_lab_words(answer.topcoat.lab, doubt))}"
        f"{_figure(undercoat, 'Spray it over', sealer_words(over.undercoat))}"
        '<div class="sc-count" data-pick="coats">'
        f"<b>{number}</b>{unit} {what}"
        f'<div class="sc-small">{to_hide}{RANGE} ({SURE}): '
        f"{interval_words(over.count)}</div>"
        "</div>"
        "</div>"
    )


def _figure(colour: str, title: str, text: str) -> str:
    return (
        f'<figure><div class="sc-patch" role="img" aria-label="{escape(title)}: '
        f'{escape(text)}" style="background:{colour}"></div>'
        f"<figcaption><strong>{escape(title)}</strong><br>{escape(text)}"
        "</figcaption></figure>"
    )


@lru_cache(maxsize=_REMEMBERED)
def pick_html(answer: Answer) -> str:
    """The pick with its chances, and what to mind, in one glance.

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
    unit = "coat" if best.coats == 1 else "coats"
    sealer = sealer_words(best.undercoat)
    name, grey = (
        escape(brief(best.undercoat.name)),
        grey_words(best.undercoat.lightness),
    )
    patches = _patch(topcoat, "Topcoat", lab_words(answer.topcoat.lab))
    patches += _patch(undercoat, "Spray it over", sealer)
    return (
        f'<div class="sc-pick"><div class="sc-pair">{patches}</div>'
        f'<div class="sc-count" data-pick="coats"><b>{number_of(best.count)}</b>'
        f"<span>{unit} to hide</span></div>"
        f'<div class="sc-said"><strong>Spray it over {name}'
        f'<span class="sc-wide"> ({escape(grey)})</span></strong>'
        f"<span>{escape(plan_words(best.count))}</span>"
        f'<span class="sc-small">Enough: {escape(enough_words(best.count))}.</span>'
        f"{_mix_saves(answer)}</div></div>{_warned_html(answer)}"
    )


def _warned_html(answer: Answer) -> str:
    """What to mind; on a phone in a line or two that open."""
    warned = [warning_of(each) for each in answer.flags]
    if not warned:
        return ""
    lines = [
        f'<p class="sc-warned" role="note"><b>{escape(each.headline)}.</b> '
        f"{escape(each.advice)}</p>"
        for each in warned
    ]
    brief_lines = " ".join(f"{escape(each.headline)}." for each in warned)
    return (
        f'<div class="sc-wide">{"".join(lines)}</div>'
        f'<details class="sc-narrow sc-warned"><summary>{brief_lines}</summary>'
        f"{''.join(lines)}</details>"
    )


def _mix_saves(answer: Answer) -> str:
    """A line on the mix of two sealers where it takes fewer coats than the pick."""
    if answer.mix is None:
        return ""
    return f"<span>{escape(mix_saves_words(answer.mix, answer.recommended))}</span>"


def _patch(colour: str, title: str, text: str) -> str:
    said = f"{escape(title)}: {escape(text)}"
    return f'<i role="img" aria-label="{said}" style="background:{colour}"></i>'


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
    outlooks = (answer.recommended, answer.closest)
    heads = "".join(f'<th scope="col">{n}</th>' for n in _coats(answer))
    rows = "".join(_beside_row(each, answer) for each in outlooks)
    return (
        '<div class="sc-scroll" tabindex="0" role="region" '
        'aria-label="Film coat by coat"><table class="sc-table sc-strip">'
        f'<thead><tr><th scope="col">Sealer</th><th scope="col">bare</th>{heads}'
        f"</tr></thead><tbody>{rows}</tbody></table></div>"
        f'<p class="sc-small">{LEFT_NOTE}</p>'
    )


def _beside_row(outlook: Outlook, answer: Answer) -> str:
    ((colours, _),) = _colours((outlook,), answer)
    cells = [f'<td><i style="background:{colours[0]}"></i></td>']
    for coat in _coats(answer):
        hides = ' class="hides"' * _hides(outlook, coat)
        cells.append(
            f'<td{hides}><i style="background:{colours[coat]}"></i>'
            f"{outlook.difference[coat - 1]:.1f}</td>"
        )
    note = " (recommended)" if outlook == answer.recommended else ""
    return (
        f'<tr><th scope="row">{escape(outlook.undercoat.name)}{note}</th>'
        f"{''.join(cells)}</tr>"
    )


@lru_cache(maxsize=_REMEMBERED)
def strip_html(answer: Answer, system: str) -> str:
    """Each sealer in a row: its film coat by coat, its count, range and paint.

    Parameters
    ----------
    answer : Answer
        The answer.
    system : str
        Units that paint is shown in, ``metric`` or ``us``.

    Returns
    -------
    str
        The best of a shelf that is larger than a screen.
    """
    units = UNITS[system]
    heads = "".join(f'<th scope="col">{n}</th>' for n in _coats(answer))
    lines = shown_lines(answer)
    colours = _colours(lines, answer)
    narrow = shown_lines(answer, PHONE_ROWS)
    rows = [
        _row(each, seen, answer, units, narrow=each in narrow)
        for each, seen in zip(lines, colours, strict=True)
    ]
    outside = any(any(out) for _, out in colours)
    return (
        '<div class="sc-scroll" tabindex="0" role="region" '
        'aria-label="Film coat by coat, with count, range and paint">'
        '<table class="sc-table sc-films"><thead><tr><th scope="col">Sealer</th>'
        f'<th scope="col">bare</th>{heads}<th scope="col" class="end count">Coats</th>'
        f'<th scope="col" class="end">{RANGE}<span class="sc-unit">'
        f"{escape(units.paint.unit)}</span></th>"
        f'<th scope="col" class="end sc-wide">{escape(units.paint.unit)}</th></tr>'
        f"</thead><tbody>{''.join(rows)}</tbody></table></div>"
        f'<p class="sc-small">{_note(answer, outside=outside)}</p>'
    )


def shown_lines(answer: Answer, rows: int = ROWS) -> tuple[Outlook, ...]:
    """What of an answer fits one screen, best first.

    Parameters
    ----------
    answer : Answer
        The answer.
    rows : int
        Sealers that fit, 3 or more.

    Returns
    -------
    tuple of Outlook
        With the one closest in lightness and the mix, where there is one.
    """
    if len(answer.lines) <= rows:
        return answer.lines
    kept = [answer.closest] + [answer.mix] * (answer.mix is not None)
    best = [each for each in answer.outlooks if each not in kept][: rows - len(kept)]
    return tuple(each for each in answer.lines if each in best or each in kept)


def _row(
    outlook: Outlook,
    seen: tuple[list[str], list[bool]],
    answer: Answer,
    units: Units,
    *,
    narrow: bool,
) -> str:
    """A row of the strip; ``sc-wide`` where no phone has room for it."""
    colours, outside = seen
    cells = [f'<td><i style="background:{colours[0]}"></i></td>']
    for coat in _coats(answer):
        hides = _hides(outlook, coat)
        star = f"<s>{_OUTSIDE}</s>" * outside[coat]
        inside = '<span class="sc-unseen">hides</span>' * hides
        kind = ' class="hides"' * hides
        cells.append(
            f'<td{kind}><i style="background:{colours[coat]}">{star}</i>{inside}</td>'
        )
    paint = units.paint.bare(outlook.paint_ml_per_m2)
    kinds = ["best"] * (outlook == answer.recommended) + ["sc-wide"] * (not narrow)
    best = f' class="{" ".join(kinds)}"' if kinds else ""
    return (
        f'<tr{best}><th scope="row">{_name(outlook, answer)}</th>{"".join(cells)}'
        f'<td class="end count">{escape(narrow_number(outlook.count))}</td>'
        f'<td class="end"><span class="sc-wide">{interval_words(outlook.count)}</span>'
        f'<span class="sc-narrow">{escape(narrow_interval(outlook.count))}</span>'
        f'<span class="sc-unit">{paint}</span></td>'
        f'<td class="end sc-wide">{paint}</td></tr>'
    )


def _name(outlook: Outlook, answer: Answer) -> str:
    """Name of a row; what a phone has no room for is of the class ``sc-wide``."""
    undercoat = outlook.undercoat
    if undercoat.parts:
        name, small = map(escape, mix_in_brief(undercoat))
    else:
        name = escape(brief(undercoat.name))
        lightness, value = escape(grey_words(undercoat.lightness)).split(", ")
        small = f'{lightness}<span class="sc-wide">, {value}</span>'
    if outlook == answer.recommended:
        small += '<span class="sc-unseen">, fewest coats</span>'
    if outlook == answer.closest:
        small += ', closest<span class="sc-wide"> in lightness</span>'
    return f"<b>{name}</b><small>{small}</small>"


def _note(answer: Answer, *, outside: bool) -> str:
    more = _more_rows(answer, ROWS, "sc-wide") + _more_rows(
        answer, PHONE_ROWS, "sc-narrow"
    )
    turned = " Left half: face, right half: flop." if _turns(answer) else ""
    star = f" {OUTSIDE_NOTE}" if outside else ""
    said = f"Framed: hidden.{turned} {RANGE_NOTE}{star}"
    return f"{escape(said)}{more} {escape(SCREEN_NOTE)}"


def _more_rows(answer: Answer, rows: int, kind: str) -> str:
    """A sentence on the sealers that a strip of some rows leaves out."""
    left = len(answer.lines) - len(shown_lines(answer, rows))
    if not left:
        return ""
    said = f"The shelf's other {left} stand under Why."
    return f'<span class="{kind}"> {escape(said)}</span>'


def _coats(answer: Answer) -> range:
    return range(1, min(STRIP_COATS, answer.settings.coat_cap) + 1)


def _turns(answer: Answer) -> bool:
    """Whether the film shown is looked at from several angles."""
    return len(answer.paints.angles) > 1


def _hides(outlook: Outlook, coat: int) -> bool:
    return outlook.coats is not None and coat >= outlook.coats


def _colours(
    outlooks: Sequence[Outlook], answer: Answer
) -> list[tuple[list[str], list[bool]]]:
    """Bare sealer and films of each row as CSS, and which no screen can show.

    All at once: turning colours into those of a screen takes as long for a hundred as
    for one.
    """
    coats = len(_coats(answer))
    lab = np.array([[each.undercoat.lab, *each.lab[:coats]] for each in outlooks])
    srgb, outside = srgb_from_lab(lab)
    seen = hex_from_srgb(srgb)
    wide = coats + 1
    rows = [
        (seen[start : start + wide], [bool(each) for each in out])
        for start, out in zip(range(0, len(seen), wide), outside, strict=True)
    ]
    if not _turns(answer):
        return rows
    turned = [each for each in outlooks if each in answer.outlooks]
    return [
        (_halves(bare, each, answer), [False] * wide) if each in turned else (bare, out)
        for (bare, out), each in zip(rows, outlooks, strict=True)
    ]


def _halves(seen: list[str], outlook: Outlook, answer: Answer) -> list[str]:
    """Films at the face and at the flop beside each other, as CSS."""
    films = answer.film.lab[answer.outlooks.index(outlook), : len(seen) - 1]
    face, flop = hex_from_lab(films[:, 0]), hex_from_lab(films[:, -1])
    both = [
        f"linear-gradient(90deg,{one} 50%,{other} 50%)"
        for one, other in zip(face, flop, strict=True)
    ]
    return [seen[0], *both]


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
