"""Rows of a chart: one for each colour, or for each colour and undercoat."""

from collections.abc import Callable, Iterator, Mapping
from typing import Final

from shadecore.coats.answer import Answer, Outlook, Picks
from shadecore.coats.flags import raise_flags
from shadecore.coats.hiding import rating
from shadecore.coats.seen import Seen
from shadecore.coats.settings import Settings
from shadecore.colour.colour_file import KindsOfColours, chosen, part_of
from shadecore.colour.colour_table import ColourList
from shadecore.question.many_kinds import replies_of_kinds
from shadecore.question.question import Question
from shadecore.undercoats.shelf import Shelf

CHART_COLUMNS: Final = (
    "code",
    "undercoat",
    "coats",
    "coats_low",
    "coats_high",
    "closest_in_lightness",
    "closest_coats",
    "hiding",
    "flags",
    "chance_of_hiding_poorly",
    "last_angle",
)
FLAG_SEPARATOR: Final = ";"
COLOURS_AT_ONCE: Final = 40_000
"""Colours answered together: 150 MB; a coloured undercoat is solved anew for each such
part, so that parts much smaller would take much longer."""


def chart_rows(
    colours: ColourList,
    undercoats: Shelf,
    picks: Picks,
    settings: Settings,
    *,
    every_undercoat: bool = False,
) -> list[dict[str, str]]:
    """Rows of a chart.

    Parameters
    ----------
    colours : ColourList
        The colours.
    undercoats : tuple of Undercoat
        What was chosen from.
    picks : Picks
        The answers.
    settings : Settings
        What they were worked out with.
    every_undercoat : bool
        One row for each colour and undercoat, best first, instead of one for each
        colour.

    Returns
    -------
    list of dict
        Texts by ``CHART_COLUMNS``; a count that lies beyond the cap is empty.
    """
    ranks = len(undercoats) if every_undercoat else 1
    hiding = rating(picks.contrast_ratio)
    counts = picks.counts
    flags = [
        raise_flags(
            counts, picks.order[:, each], colours.lab[:, 0], picks.nearest, settings
        )
        for each in range(ranks)
    ]
    rows = []
    for place, code in enumerate(colours.codes):
        closest = picks.closest[place]
        for each in range(ranks):
            chosen = picks.order[place, each]
            rows.append(
                {
                    "code": code,
                    "undercoat": undercoats[chosen].name,
                    "coats": _count(counts.coats[place, chosen], counts.cap),
                    "coats_low": _count(counts.low[place, chosen], counts.cap),
                    "coats_high": _count(counts.high[place, chosen], counts.cap),
                    "closest_in_lightness": undercoats[closest].name,
                    "closest_coats": _count(counts.coats[place, closest], counts.cap),
                    "hiding": str(hiding[place]),
                    "flags": FLAG_SEPARATOR.join(f.code for f in flags[each][place]),
                    "chance_of_hiding_poorly": f"{picks.poor_chance[place]:.2f}",
                    "last_angle": "",
                }
            )
    return rows


def _count(coats: int, cap: int) -> str:
    return str(coats) if coats <= cap else ""


def chart_of_kinds(
    question: Question,
    every: KindsOfColours,
    seen: Mapping[int, tuple[Seen, ...]],
    *,
    every_undercoat: bool = False,
    progress: Callable[[float], None] | None = None,
) -> Iterator[dict[str, str]]:
    """Rows of a chart of colours of any kind, in the order of their file.

    A long list is answered in parts, so that memory does not grow with it.

    Parameters
    ----------
    question : Question
        Shelf, tolerance, film and limits.
    every : KindsOfColours
        The colours.
    seen : mapping of int to tuple of Seen
        What the shop has seen of some of them, by their row.
    every_undercoat : bool
        One row for each colour and undercoat, best first.
    progress : callable, optional
        Called with the share of the solid colours that is done, 0..1.

    Yields
    ------
    dict
        Texts by ``CHART_COLUMNS``.

    Raises
    ------
    ShadecoreError
        If a colour, the shelf or a setting cannot be used.
    """
    count = len(every.kinds)
    for first in range(0, count, COLOURS_AT_ONCE):
        rows = slice(first, min(first + COLOURS_AT_ONCE, count))

        def move(share: float, rows: slice = rows) -> None:
            if progress is not None:
                progress((rows.start + share * (rows.stop - rows.start)) / count)

        records = {
            row - rows.start: told
            for row, told in seen.items()
            if rows.start <= row < rows.stop
        }
        yield from _part_of_chart(
            question, part_of(every, rows), records, move, every_undercoat
        )


def _part_of_chart(
    question: Question,
    every: KindsOfColours,
    seen: Mapping[int, tuple[Seen, ...]],
    progress: Callable[[float], None],
    every_undercoat: bool,  # noqa: FBT001 - as above
) -> Iterator[dict[str, str]]:
    turned, solid, picks = replies_of_kinds(question, every, seen, progress)
    found: dict[int, list[dict[str, str]]] = {}
    if picks is not None:
        rows = chart_rows(
            chosen(every, solid),
            question.shelf,
            picks,
            question.settings,
            every_undercoat=every_undercoat,
        )
        each = len(rows) // len(solid)
        found = {row: rows[each * at : each * (at + 1)] for at, row in enumerate(solid)}
    for row, reply in turned.items():
        shown = reply.outlooks if every_undercoat else (reply.recommended,)
        code = every.colours.codes[row]
        found[row] = [_turned_row(code, outlook, reply) for outlook in shown]
    for row in sorted(found):
        yield from found[row]


def _turned_row(code: str, outlook: Outlook, reply: Answer) -> dict[str, str]:
    count, cap = outlook.count, outlook.count.cap
    closest = reply.closest
    return {
        "code": code,
        "undercoat": outlook.undercoat.name,
        "coats": _count(_whole(count.coats, cap), cap),
        "coats_low": _count(_whole(count.low, cap), cap),
        "coats_high": _count(_whole(count.high, cap), cap),
        "closest_in_lightness": closest.undercoat.name,
        "closest_coats": _count(_whole(closest.coats, cap), cap),
        "hiding": reply.hiding.rating,
        "flags": FLAG_SEPARATOR.join(flag.code for flag in outlook.flags),
        "chance_of_hiding_poorly": f"{reply.poor_chance:.2f}",
        "last_angle": f"{outlook.last_angle:g}",
    }


def _whole(coats: int | None, cap: int) -> int:
    return cap + 1 if coats is None else coats
