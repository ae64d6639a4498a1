"""Mixing at the bench in words: what to pour, from which cans, until when."""

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Final

from shadecore.formats.echo import brief
from shadecore.job.material import Material
from shadecore.products.bench import BenchAsk, BenchMix
from shadecore.products.materials import Portion
from shadecore.products.product import Product
from shadecore.telling.counts import coats_words, place_words
from shadecore.telling.job_words import cans_words, when_words
from shadecore.telling.numbers import grams, listed, time_words
from shadecore.units import ML_PER_L, Units, percent

VOLUMES_NOTE: Final = (
    "Volumes are taken to add up, and densities are the sheet's; the product's data "
    "sheet goes before this table."
)
POTS_NOTE: Final = (
    "Mix each pot when the one before is used up, never onto its rest: it would set in "
    "the cup."
)
"""Of what is mixed in several pots."""


def mass_part_words(share_percent: float) -> str:
    """A component's part of the mass of a mix.

    Parameters
    ----------
    share_percent : float
        [percent]

    Returns
    -------
    str
        Such as ``65.8 %``.
    """
    return f"{share_percent:.1f} %"


def pots_words(pots: int, ready_l: float, coats: int, units: Units) -> str:
    """In how many pots coats are mixed.

    Parameters
    ----------
    pots : int
        How many, all alike.
    ready_l : float
        One of them. [L]
    coats : int
        Of all of them.
    units : Units
        What volumes are shown in.

    Returns
    -------
    str
        Such as ``3 pots of 620 ml, a coat each``; the volume alone where it is one.
    """
    amount = units.volume.show(ready_l)
    if pots == 1:
        return amount
    if pots > coats:
        each = f"{pots // coats} to a coat"
    else:
        each = "a coat each" if pots == coats else f"{coats // pots} coats each"
    return f"{pots} pots of {amount}, {each}"


def asked_words(mix: BenchMix, units: Units) -> str:
    """What a mix is for, and how much it comes to.

    Parameters
    ----------
    mix : BenchMix
        The mix.
    units : Units
        What it is shown in.

    Returns
    -------
    str
        Sentences.
    """
    asked = mix.asked
    whole = mix.fills * mix.ready_ml / ML_PER_L
    amount = f"{units.volume.show(whole)} ready to spray"
    weight = grams(mix.fills * mix.ready_g)
    said = [f"{_wanted(asked, units)}: {amount}, {weight}."]
    if asked.spraying is not None and mix.fills > 1:
        pot_l = mix.ready_ml / ML_PER_L
        told = pots_words(mix.fills, pot_l, asked.spraying.coats, units)
        hardens = f" {POTS_NOTE}" if mix.product.two_pack else ""
        said.append(f"Mix {told}.{hardens}")
    if asked.cup_ml is not None:
        cup = f"the cup of {units.volume.show(asked.cup_ml / ML_PER_L)}"
        full = percent(mix.ready_ml / asked.cup_ml)
        times = "once" if mix.fills == 1 else f"{mix.fills} times"
        said.append(
            f"A pot fills {cup} to {full}."
            if len(said) > 1
            else f"Mix it {times} in {cup}, which it fills to {full}."
        )
    return " ".join(said)


def _wanted(asked: BenchAsk, units: Units) -> str:
    if asked.held_ml is not None:
        held = units.volume.show(asked.held_ml / ML_PER_L)
        return f"Added in the can that has {held} in it"
    if asked.coats is not None and asked.area_m2 is not None:
        coats = coats_words(round(asked.coats))
        return (
            f"{coats} on {units.area.show(asked.area_m2)}, overspray and what stays in "
            "the gun included"
        )
    if asked.mass_g is not None:
        return f"By weight, {grams(asked.mass_g)}"
    if asked.volume_ml is not None:
        if asked.spraying is not None:
            return f"For {coats_words(asked.spraying.coats)}"
        return "By volume"
    return "What the cup holds"


def boxed_words(portions: Iterable[Portion], units: Units) -> str:
    """That cans of a colour are poured together first.

    Parameters
    ----------
    portions : iterable of Portion
        Of a mix.
    units : Units
        What cans are called in.

    Returns
    -------
    str
        Empty where there is nothing to box.
    """
    told = (
        f"Box the cans of {brief(each.component.name)} first "
        f"({cans_words(each.cans, units)}): pour them together in one pail, stir, then "
        "measure from it."
        for each in portions
        if each.boxed
    )
    return " ".join(told)


def half_full_words(material: Material, units: Units) -> str:
    """That a can has room for the rest of its mix.

    Parameters
    ----------
    material : Material
        Of a job.
    units : Units
        What volumes are shown in.

    Returns
    -------
    str
        Empty where no can of it is sold half full.
    """
    first = material.portions[0].component if material.portions else None
    if first is None or not first.half_full or not first.can_sizes_l:
        return ""
    others = sum(each.parts for each in material.product.components[1:])
    share = others / first.parts
    fits = " in it" if share <= 1.0 else ", which it does not hold: pour some off first"
    bought = [size for size, _ in material.portions[0].cans]
    told = listed(
        [
            f"a can of {units.can(size)} takes {units.volume.show(share * size)}"
            for size in bought or first.can_sizes_l[:1]
        ]
    )
    return (
        f"{brief(first.name)} comes in cans half full: {told} of the other parts{fits}."
    )


def own_paints_words(
    parts: Sequence[tuple[str, float]], paint_l: float, units: Units
) -> str:
    """How much of each of a shop's own paints goes into a mix of them.

    Parameters
    ----------
    parts : sequence of (str, float)
        Names and parts by volume.
    paint_l : float
        Of all of them. [L]
    units : Units
        What it is shown in.

    Returns
    -------
    str
        Such as ``106 ml White N 9 and 26 ml Dark grey N 4``.
    """
    whole = sum(each for _, each in parts)
    return listed(
        [
            f"{units.volume.show(paint_l * each / whole)} {brief(name)}"
            for name, each in parts
        ]
    )


def pot_life_brief(product: Product) -> str:
    """The pot life for a field of a table.

    Parameters
    ----------
    product : Product
        The product.

    Returns
    -------
    str
        Such as ``pot life 1 h 30 min``; empty where it takes no hardener.
    """
    if product.pot_life_min is None:
        return "pot life: ask its sheet" if product.two_pack else ""
    return f"pot life {time_words(product.pot_life_min)}"


def pot_life_words(
    product: Product,
    mixed_at: datetime | None,
    until: datetime | None,
    reference_c: float,
    units: Units,
) -> str:
    """Until when a mix is used up.

    Parameters
    ----------
    product : Product
        What is mixed.
    mixed_at, until : datetime or None
        When it was mixed, and until when it can be sprayed; None where not known.
    reference_c : float
        Temperature that the sheet's pot life holds at. [degrees C]
    units : Units
        What that is shown in.

    Returns
    -------
    str
        Sentences.
    """
    if product.pot_life_min is None:
        if product.two_pack:
            return (
                "It takes a hardener and this sheet gives no pot life: look it up "
                "before you mix."
            )
        return "It takes no hardener, so no pot life runs; keep it closed."
    at = units.temperature.show(reference_c)
    said = f"Pot life {time_words(product.pot_life_min)} at {at}; warmth shortens it."
    if mixed_at is None or until is None:
        return f"{said} It runs from when the hardener goes in."
    return (
        f"Mixed {when_words(mixed_at)}: use it until {when_words(until, mixed_at)}, "
        f"then clean the gun. {said}"
    )


def poured_words(volume_ml: float, units: Units) -> str:
    """A volume in a cup.

    Parameters
    ----------
    volume_ml : float
        The volume. [ml]
    units : Units
        What it is shown in.

    Returns
    -------
    str
    """
    return units.volume.show(volume_ml / ML_PER_L)


def ready_words(
    mix: BenchMix, material: Material, units: Units, pot: int | None = None
) -> str:
    """How much is mixed and with which grades.

    Parameters
    ----------
    mix : BenchMix
        The mix.
    material : Material
        What the plan takes of the product.
    units : Units
        What volumes are shown in.
    pot : int, optional
        Which pot comes next, from 1.

    Returns
    -------
    str
        Such as ``2 pots of 310 ml, a coat each; a pot weighs 322.4 g. Pot 2 of 2 is
        next.``
    """
    grades = [each for each in (material.reducer, material.hardener) if each]
    taken = f" Take {', '.join(map(brief, grades))}." if grades else ""
    ready = f"{poured_words(mix.ready_ml, units)} ({grams(mix.ready_g)}) ready to spray"
    if mix.fills == 1:
        return f"{ready}.{taken}"
    spraying = mix.asked.spraying
    if spraying is None:
        return f"{ready} in each of {mix.fills} cups.{taken}"
    told = pots_words(mix.fills, mix.ready_ml / ML_PER_L, spraying.coats, units)
    coming = "" if pot is None else f" Pot {place_words(pot, mix.fills)} is next."
    hardens = f" {POTS_NOTE}" if material.product.two_pack else ""
    return f"{told}; a pot weighs {grams(mix.ready_g)}.{coming}{taken}{hardens}"
