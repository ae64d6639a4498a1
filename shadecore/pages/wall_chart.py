"""The wall chart: a palette's colours down, the undercoats and their coats across."""

from typing import Final

from shadecore.coats.answer import Picks
from shadecore.coats.settings import Settings
from shadecore.colour.colour_table import ColourList
from shadecore.lesson.colours import shown
from shadecore.pages.handout import undercoat_cell
from shadecore.pages.poster import Cell, Grid, Poster
from shadecore.pages.sheet import Section
from shadecore.telling.lesson_words import OUTSIDE_NOTE, PAPER_NOTE, colour_word
from shadecore.telling.names import brief
from shadecore.telling.reasons import count_in_brief
from shadecore.telling.text import BASIS, CAUTION
from shadecore.undercoats.shelf import Shelf, munsell_value
from shadecore.units import UNITS, Units

MOST_UNDERCOATS: Final = 8
"""Columns that stay legible across a sheet of paper."""
_HOW_TO_READ: Final = (
    "A thick frame and the word BEST mark the undercoat to take; 'closest L*' "
    "marks the one closest in lightness. Small: 9 times in 10. "
    f"{OUTSIDE_NOTE} {PAPER_NOTE}"
)


def wall_chart(
    colours: ColourList,
    undercoats: Shelf,
    picks: Picks,
    settings: Settings,
    units: Units = UNITS["metric"],
) -> Poster:
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

    Returns
    -------
    Poster
        With the undercoats from light to dark; of more than eight those recommended
        most often.
    """
    columns = _columns(undercoats, picks)
    left_out = len(undercoats) - len(columns)
    more = (
        f" Of {len(undercoats)} undercoats the {len(columns)} recommended most often "
        "are shown; where another one is best, it is named beside the colour."
    )
    return Poster(
        "Coats to hide, colour by colour",
        f"{len(colours.codes)} colours. One coat is "
        f"{units.film(settings.film.dry_film_um)} dry; a difference of "
        f"{settings.tolerance:g} CIEDE2000 counts as hidden; >{settings.coat_cap} does "
        f"not hide within the coats counted.{more * bool(left_out)}",
        (
            Grid(
                "Undercoats across, colours down",
                (
                    Cell("Colour"),
                    *(
                        undercoat_cell(undercoats[i].name, undercoats[i].lab, [])
                        for i in columns
                    ),
                ),
                _rows(colours, undercoats, picks, columns),
                (_HOW_TO_READ,),
                large=True,
            ),
        ),
        (Section("Measured and modelled", lines=(BASIS["colour"], CAUTION)),),
    )


def _columns(undercoats: Shelf, picks: Picks) -> list[int]:
    """Undercoats to show, from light to dark."""
    recommended = picks.recommended.tolist()
    often = sorted(
        range(len(undercoats)), key=lambda each: (-recommended.count(each), each)
    )
    return sorted(often[:MOST_UNDERCOATS], key=lambda each: -undercoats[each].lightness)


def _rows(
    colours: ColourList, undercoats: Shelf, picks: Picks, columns: list[int]
) -> tuple[tuple[Cell, ...], ...]:
    swatches = shown(colours.lab)
    return tuple(
        (
            Cell(
                brief(code),
                (swatch.hex,),
                f"{colour_word(swatch.lab)}, L* {swatch.lab[0]:.1f}, "
                f"N {munsell_value(swatch.lab[0]):.1f}"
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
    """The recommended undercoat where it has no column."""
    best = int(picks.recommended[place])
    if best in columns:
        return ""
    coats = count_in_brief(int(picks.counts.coats[place, best]), picks.counts.cap)
    return f" \N{MIDDLE DOT} BEST {brief(undercoats[best].name)}: {coats}"


def _cell(place: int, undercoat: int, picks: Picks) -> Cell:
    counts = picks.counts
    best = bool(undercoat == picks.recommended[place])
    closest = bool(undercoat == picks.closest[place])
    low, high = (
        count_in_brief(int(each[place, undercoat]), counts.cap)
        for each in (counts.low, counts.high)
    )
    interval = low if low == high else f"{low} to {high}"
    words = ["BEST"] * best + [interval] + ["closest L*"] * closest
    return Cell(
        count_in_brief(int(counts.coats[place, undercoat]), counts.cap),
        note=" \N{MIDDLE DOT} ".join(words),
        marked=best,
    )
