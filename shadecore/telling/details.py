"""What goes with an answer: hiding power, mixes, patches, grounds and cost."""

from shadecore.card.hiding_power import (
    FT2_PER_GALLON_PER_M2_PER_LITRE,
    HidingPower,
)
from shadecore.coats.cost import Cost
from shadecore.coats.grounds import Ground
from shadecore.coats.mixes import MixOutlook
from shadecore.coats.sand_throughs import SandThroughs
from shadecore.pages.tables import Table
from shadecore.telling.reasons import coats_in_words, interval_in_brief
from shadecore.units import Units

_COATS_SHOWN = 6
_WAYS_SHOWN = 10
"""Ways to hide a colour that are worth reading; the rest take more coats."""


def hiding_power_words(power: HidingPower, units: Units) -> str:
    """One sentence on hiding power.

    Parameters
    ----------
    power : HidingPower
        As worked out.
    units : Units
        What it is shown in.

    Returns
    -------
    str
    """
    factor, unit = 1.0, "m²/L"
    if units.film_name == "mil":
        factor, unit = FT2_PER_GALLON_PER_M2_PER_LITRE, "ft²/gal"
    film, film_low, film_high = power.dry_film_um
    rate, low, high = (value * factor for value in power.spreading_rate_m2_per_l)
    return (
        f"Hides completely (contrast ratio {power.contrast_ratio:g}) from "
        f"{units.film(film)} dry film (90 %: {units.film(film_low)} to "
        f"{units.film(film_high)}); a spreading rate of {rate:.3g} {unit} "
        f"({low:.3g} to {high:.3g}) ready to spray, without overspray."
    )


def mixes_table(outlooks: tuple[MixOutlook, ...], units: Units) -> Table:
    """Mixes side by side.

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
        total = "-" if best.coats is None else units.film(best.coats * dry)
        rows.append(
            (
                f"{mix.paint:g}:{mix.reducer:g}",
                best.undercoat.name,
                f"{coats_in_words(best)} ({interval_in_brief(best)})",
                units.film(dry),
                total,
                units.paint(best.paint_ml_per_m2),
                "-" if each.minutes is None else f"{each.minutes:.0f} min",
                f"{mix.run_share:.0%}{', may run' if mix.may_run else ''}",
            )
        )
    return Table(
        (
            "Mix",
            "Undercoat",
            "Coats (90 %)",
            "A coat",
            "In all",
            "Paint",
            "Time",
            "Runs at",
        ),
        tuple(rows),
        note="Dry film. Time and runs are rules of thumb: wet film as a share of the "
        "film that may run, 100 µm at 1:1.",
    )


def patches_table(patches: SandThroughs) -> Table:
    """Difference between the areas after each coat.

    Parameters
    ----------
    patches : SandThroughs
        As followed.

    Returns
    -------
    Table
    """
    shown = min(_COATS_SHOWN, len(patches.difference))
    names = " / ".join(area.name for area in patches.areas)
    return Table(
        ("Areas", *(f"after {n}" for n in range(1, shown + 1))),
        ((names, *(f"{left:.1f}" for left in patches.difference[:shown])),),
        frozenset(range(1, shown + 1)),
        "Largest difference between any two areas, CIEDE2000, middle of the likely "
        "paints.",
    )


def patches_words(patches: SandThroughs, tolerance: float) -> str:
    """One or two sentences on patches.

    Parameters
    ----------
    patches : SandThroughs
        As followed.
    tolerance : float
        CIEDE2000 that counts as alike.

    Returns
    -------
    str
    """
    cap = patches.count.cap
    if patches.count.coats is None:
        alike = f"The areas still differ by more than {tolerance:g} after {cap} coats"
    else:
        high = f"over {cap}" if patches.count.high is None else f"{patches.count.high}"
        noun = "coat" if patches.count.coats == 1 else "coats"
        alike = (
            f"The areas look alike from {patches.count.coats} {noun} on (9 times in "
            f"10: {patches.count.low} to {high})"
        )
    sealer = f"Sealed with {patches.sealer.name} first, the colour"
    if patches.sealed_coats is None:
        return f"{alike}. {sealer} does not hide within {cap} coats either."
    sealed = f"{sealer} hides in {patches.sealed_coats}"
    saved = patches.sealing_saves
    if saved is None or saved > 1:
        return f"{alike}. {sealed}: seal first."
    if saved == 1:
        return (
            f"{alike}. {sealed}: sealing costs the coat it saves, and evens the base."
        )
    return f"{alike}. {sealed}: sealing saves no colour here."


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
        ("Under the colour", "Ground coats", "Colour coats", "In all", "Paint"),
        tuple(
            (
                f"{way.name}, over {way.under.name}" if way.ground_coats else way.name,
                str(way.ground_coats),
                str(way.colour_coats),
                str(way.coats),
                units.paint(way.paint_ml_per_m2),
            )
            for way in grounds[:_WAYS_SHOWN]
        ),
        frozenset({1, 2, 3, 4}),
        "The sealer's data sheet says how much base coat it takes, if any.",
    )


def cost_table(costs: tuple[Cost, ...]) -> Table:
    """What each undercoat costs.

    Parameters
    ----------
    costs : tuple of Cost
        As worked out.

    Returns
    -------
    Table
    """
    return Table(
        ("Undercoat", "Coats", "Base coat", "Time", "Cost", "More"),
        tuple(
            (
                each.outlook.undercoat.name,
                str(each.outlook.coats),
                f"{each.topcoat_l:.2f} L",
                f"{each.minutes:.0f} min",
                f"{each.money:.2f}",
                f"{each.more_than_best:+.2f}",
            )
            for each in costs
        ),
        frozenset({1, 2, 3, 4, 5}),
        "Base coat, time, and the sealer where the shelf has its price; in the shelf's "
        "currency.",
    )
