"""Tables beside an answer: sealers, mixes, sand-throughs, ground coats, cost, doubt."""

from typing import TYPE_CHECKING, Final

from shadecore.coats.answer import Answer, Outlook
from shadecore.coats.cost import Cost
from shadecore.coats.grounds import Ground
from shadecore.coats.mixes import MixOutlook
from shadecore.coats.sand_throughs import SandThroughs
from shadecore.film.gun import RUN_LIMIT_UM
from shadecore.formats.echo import brief
from shadecore.pages.blocks import Cell, Table
from shadecore.telling.counts import (
    RANGE,
    SURE,
    chance_by,
    interval_words,
    number_of,
)
from shadecore.telling.flag_words import warning_of
from shadecore.telling.hiding_words import ground_counts, ground_name
from shadecore.telling.names import MIX
from shadecore.telling.photo_words import DRIVERS
from shadecore.units import NONE, Units, percent

if TYPE_CHECKING:
    from shadecore.photo.measure import PhotoColour

_RANGE: Final = f"{RANGE} ({SURE})"
_COATS_SHOWN: Final = 6
_COATS_IN_TEXT: Final = 4
"""Chance from which more coats are not worth a column."""
_WAYS_SHOWN: Final = 10
"""Ways to hide a colour that are worth reading; the rest take more coats."""


def sealers_table(answer: Answer, units: Units) -> Table:
    """Count, interval, chance and paint of each sealer, best first.

    Parameters
    ----------
    answer : Answer
        The answer.
    units : Units
        What amounts are shown in.

    Returns
    -------
    Table
    """
    return Table(
        ("Sealer", "L*", "Coats", _RANGE, "Chance by then", _paint(units)),
        tuple(
            (
                Cell(brief(each.undercoat.name), note="; ".join(_marks(each, answer))),
                f"{each.undercoat.lightness:.1f}",
                number_of(each.count),
                interval_words(each.count),
                chance_by(each.count, each.coats),
                units.paint.bare(each.paint_ml_per_m2),
            )
            for each in answer.lines
        ),
        frozenset({1, 2, 4, 5}),
    )


def _marks(outlook: Outlook, answer: Answer) -> list[str]:
    marks = []
    if outlook == answer.recommended:
        marks.append("fewest coats")
    if outlook == answer.closest:
        marks.append("closest in lightness")
    own = (warning_of(each) for each in outlook.flags if not each.of_colour)
    return [*marks, *(each.headline.lower() for each in own)]


def differences_table(answer: Answer, units: Units) -> Table:
    """What each sealer leaves to see, coat by coat, best first.

    Parameters
    ----------
    answer : Answer
        The answer.
    units : Units
        What amounts are shown in.

    Returns
    -------
    Table
    """
    shown = min(_COATS_IN_TEXT, answer.settings.coat_cap)
    return Table(
        (
            *("Sealer", "L*", "Coats", _RANGE),
            *(f"coat {n}" for n in range(1, shown + 1)),
            "Paint",
        ),
        tuple(
            (
                MIX if each.undercoat.parts else each.undercoat.name,
                f"{each.undercoat.lightness:.0f}",
                number_of(each.count),
                interval_words(each.count),
                *(f"{left:.1f}" for left in each.difference[:shown]),
                units.paint.bare(each.paint_ml_per_m2),
            )
            for each in answer.lines
        ),
        frozenset({1, 2, *range(4, shown + 5)}),
        note="Under each coat: difference left to the full colour, CIEDE2000. Between "
        f"the two counts headed {RANGE} lie those of {SURE} of the likely paints. "
        f"Paint in {units.paint.unit}.",
    )


def _paint(units: Units) -> str:
    return f"Paint, {units.paint.unit}"


def mixes_table(outlooks: tuple[MixOutlook, ...], units: Units) -> Table:
    """Mixes of paint and reducer side by side.

    Parameters
    ----------
    outlooks : tuple of MixOutlook
        The mixes.
    units : Units
        What films and amounts are shown in.

    Returns
    -------
    Table
    """
    rows = []
    for each in outlooks:
        best, mix = each.answer.recommended, each.mix
        dry = mix.film.dry_film_um
        run = f"{percent(mix.run_share)}{', may run' if mix.may_run else ''}"
        rows.append(
            (
                f"{mix.paint:g}:{mix.reducer:g}",
                best.undercoat.name,
                f"{number_of(best.count)} ({interval_words(best.count)})",
                units.film.show(dry),
                units.film.show(None if best.coats is None else best.coats * dry),
                units.paint.show(best.paint_ml_per_m2),
                NONE if each.minutes is None else f"{each.minutes:.0f} min",
                run,
            )
        )
    return Table(
        (
            *("Mix", "Sealer", f"Coats ({SURE})", "A coat"),
            *("All coats", "Paint", "Time", "Of a run"),
        ),
        tuple(rows),
        note="Dry film of a coat and of all. Of a run: the wet film as a share of the "
        f"one that may run, {units.film.show(RUN_LIMIT_UM)} at 1:1; a rule of thumb, "
        "as is the time.",
    )


def sand_throughs_table(spots: SandThroughs) -> Table:
    """Difference between sanded-through areas after each coat.

    Parameters
    ----------
    spots : SandThroughs
        As followed.

    Returns
    -------
    Table
    """
    shown = min(_COATS_SHOWN, len(spots.difference))
    return Table(
        ("Areas", *(f"after {n}" for n in range(1, shown + 1))),
        (
            (
                " / ".join(area.name for area in spots.areas),
                *(f"{left:.1f}" for left in spots.difference[:shown]),
            ),
        ),
        frozenset(range(1, shown + 1)),
        note="Largest difference between any two areas, CIEDE2000, middle of the "
        "likely paints.",
    )


def grounds_table(grounds: tuple[Ground, ...], units: Units) -> Table:
    """Ways to hide a colour, best first.

    Parameters
    ----------
    grounds : tuple of Ground
        As ranked.
    units : Units
        What amounts are shown in.

    Returns
    -------
    Table
    """
    return Table(
        ("Under the colour", "Ground coats", "Colour coats", "Both", "Paint"),
        tuple(
            (
                ground_name(way),
                *ground_counts(way),
                units.paint.show(way.paint_ml_per_m2),
            )
            for way in grounds[:_WAYS_SHOWN]
        ),
        frozenset({1, 2, 3, 4}),
        note="The sealer's data sheet says how much base coat it takes, if any.",
    )


def cost_table(costs: tuple[Cost, ...], units: Units) -> Table:
    """What each sealer costs.

    Parameters
    ----------
    costs : tuple of Cost
        As worked out.
    units : Units
        What volumes are shown in.

    Returns
    -------
    Table
    """
    return Table(
        ("Sealer", "Coats", "Base coat", "Time", "Cost", "More"),
        tuple(
            (
                each.outlook.undercoat.name,
                number_of(each.outlook.count),
                units.bulk.show(each.topcoat_l),
                f"{each.minutes:.0f} min",
                f"{each.money:.2f}",
                f"{each.more_than_best:+.2f}",
            )
            for each in costs
        ),
        frozenset({1, 2, 3, 4, 5}),
        note="Base coat, time, and the sealer where the shelf has its price; in the "
        "shelf's currency.",
    )


def doubt_table(colour: "PhotoColour") -> Table:
    """What the doubt of a photographed colour is made of.

    Parameters
    ----------
    colour : PhotoColour
        The colour.

    Returns
    -------
    Table
    """
    total = sum(each.size**2 for each in colour.drivers)
    return Table(
        ("Doubt", "CIELAB", "Share"),
        tuple(
            (
                DRIVERS[each.name].capitalize(),
                f"± {each.size:.1f}",
                percent(each.size**2 / total),
            )
            for each in colour.drivers
        ),
        frozenset({1, 2}),
        note="Root mean square of the distance in CIELAB; shares of its square.",
    )
