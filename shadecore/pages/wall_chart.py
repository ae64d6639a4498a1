"""The wall chart: a palette's colours down, the sealers and their coats across."""

from collections.abc import Sequence
from typing import Final

from shadecore.coats.answer import Picks
from shadecore.coats.settings import Settings
from shadecore.colour.colour_table import ColourList
from shadecore.colour.kinds import OVER_A_GROUND, WITH_FLAKES
from shadecore.formats.echo import brief
from shadecore.lesson.colours import shown
from shadecore.pages.blocks import Cell, Document, Section, Table, Text
from shadecore.pages.handout import sealer_cell
from shadecore.question.many_kinds import KindShown
from shadecore.telling.basis import BASIS, CAUTION, OUTSIDE_NOTE, PAPER_NOTE
from shadecore.telling.colours import angle_words, colour_word
from shadecore.telling.counts import SURE, number_words, range_words
from shadecore.telling.names import grey_words
from shadecore.telling.numbers import listed
from shadecore.undercoats.shelf import Shelf
from shadecore.units import UNITS, Units

MOST_SEALERS: Final = 8
"""Columns that stay legible across a sheet of paper."""
_HOW_TO_READ: Final = (
    "A thick frame and the word BEST mark the sealer to take; 'closest L*' "
    "marks the one closest in lightness. "
    f"Small: {SURE} of the likely paints lie between. "
    f"{OUTSIDE_NOTE} {PAPER_NOTE}"
)


def wall_chart(
    colours: ColourList,
    undercoats: Shelf,
    picks: Picks,
    settings: Settings,
    units: Units = UNITS["metric"],
    kinds: Sequence[KindShown] = (),
) -> Document:
    """Put a palette on the wall.

    Parameters
    ----------
    colours : ColourList
        The palette.
    undercoats : tuple of Undercoat
        The shelf the picks were made from.
    picks : Picks
        The answers.
    settings : Settings
        What they were worked out with.
    units : Units
        What films are shown in.
    kinds : sequence of KindShown
        Of each colour; all are solid unless given.

    Returns
    -------
    Document
        With the sealers from light to dark; of more than eight those recommended
        most often.
    """
    columns = _columns(undercoats, picks)
    left_out = len(undercoats) - len(columns)
    more = (
        f" Of {len(undercoats)} sealers the {len(columns)} recommended most often "
        "are shown; where another one is best, it is named beside the colour."
    )
    beyond = number_words(None, settings.coat_cap)
    table = Table(
        (
            Cell("Colour"),
            *(sealer_cell(undercoats[i].name, undercoats[i].lab, []) for i in columns),
        ),
        _rows(colours, undercoats, picks, columns, kinds),
        large=True,
    )
    return Document(
        "Coats to hide, colour by colour",
        f"{len(colours.codes)} colours. One coat is "
        f"{units.film.show(settings.film.dry_film_um)} dry; a difference of "
        f"{settings.tolerance:g} CIEDE2000 counts as hidden; '{beyond}' does not hide "
        f"within the coats counted.{more * bool(left_out)}",
        sections=(
            Section("Sealers across, colours down", (Text(_HOW_TO_READ), table)),
            Section("Measured and modelled", _basis(kinds)),
        ),
    )


def _basis(kinds: Sequence[KindShown]) -> tuple[Text, ...]:
    turned = any(each.last_angle is not None for each in kinds)
    named = ("colour", "angles") if turned else ("colour",)
    return tuple(Text(each) for each in (*(BASIS[name] for name in named), CAUTION))


def _kind(kinds: Sequence[KindShown], place: int) -> str:
    """Kind of a colour and the angle that hides last, before its own words."""
    if not kinds:
        return ""
    kind, last = kinds[place].kind, kinds[place].last_angle
    if kind in OVER_A_GROUND:
        return f"ground of a {kind}, "
    if last is None:
        return f"{kind}, " if kind else ""
    kind = kind or listed(WITH_FLAKES, "or")
    return f"{kind}, hides last at the {angle_words(last)}, "


def _columns(undercoats: Shelf, picks: Picks) -> list[int]:
    """Sealers to show, from light to dark."""
    recommended = picks.recommended.tolist()
    often = sorted(
        range(len(undercoats)), key=lambda each: (-recommended.count(each), each)
    )
    return sorted(often[:MOST_SEALERS], key=lambda each: -undercoats[each].lightness)


def _rows(
    colours: ColourList,
    undercoats: Shelf,
    picks: Picks,
    columns: list[int],
    kinds: Sequence[KindShown],
) -> tuple[tuple[Cell, ...], ...]:
    swatches = shown(colours.lab)
    return tuple(
        (
            Cell(
                brief(code),
                (swatch.hex,),
                f"{_kind(kinds, place)}{colour_word(swatch.lab)}, "
                f"{grey_words(swatch.lab[0])}"
                f"{'*' * swatch.outside}"
                f"{_best_elsewhere(place, undercoats, picks, columns)}",
            ),
            *(_cell(place, each, picks) for each in columns),
        )
        for place, (code, swatch) in enumerate(
            zip(colours.codes, swatches, strict=True)
        )
    )


def _best_elsewhere(
    place: int, undercoats: Shelf, picks: Picks, columns: list[int]
) -> str:
    """The recommended sealer where it has no column."""
    best = int(picks.recommended[place])
    if best in columns:
        return ""
    count = number_words(int(picks.counts.coats[place, best]), picks.counts.cap)
    return f" \N{MIDDLE DOT} BEST {brief(undercoats[best].name)}: {count}"


def _cell(place: int, undercoat: int, picks: Picks) -> Cell:
    counts = picks.counts
    best = bool(undercoat == picks.recommended[place])
    closest = bool(undercoat == picks.closest[place])
    low, high = (int(each[place, undercoat]) for each in (counts.low, counts.high))
    interval = range_words(low, high, counts.cap)
    words = ["BEST"] * best + [interval] + ["closest L*"] * closest
    return Cell(
        number_words(int(counts.coats[place, undercoat]), counts.cap),
        note=" \N{MIDDLE DOT} ".join(words),
        marked=best,
    )
