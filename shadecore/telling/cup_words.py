"""Viscosity by flow cups in words."""

from collections.abc import Iterable
from typing import Final

from shadecore.products.cups import CupReading, FlowCup, flow_cups, in_another_standard
from shadecore.products.product import Viscosity
from shadecore.telling.numbers import listed
from shadecore.units import Units

CUPS_NOTE: Final = (
    "Converted by the equations of the cups' standards, at one viscosity. Paint that "
    "is warmer than its standard asks for runs out sooner; worn cups and paint that "
    "gels read otherwise. The product's data sheet names its cup."
)


def viscosity_words(viscosity: Viscosity) -> str:
    """Seconds by the sheet's cup and by one of another standard.

    Parameters
    ----------
    viscosity : Viscosity
        Of a mix.

    Returns
    -------
    str
        Such as ``50-60 s in the ISO cup 3 mm (72-82 s in the Ford cup No. 1)``.
    """
    cup = flow_cups()[viscosity.cup]
    told = cup_in_brief(viscosity)
    other = in_another_standard(cup, viscosity.low_s, viscosity.high_s)
    if other is not None:
        low, high = other
        between = _between(low.seconds, high.seconds)
        return f"{told} ({between} in the {low.cup.name})"
    ends = (viscosity.low_s, viscosity.high_s)
    if not all(CupReading(cup, each).inside for each in ends):
        return f"{told} (not converted: {ends_words(cup)})"
    return told


def cup_in_brief(viscosity: Viscosity) -> str:
    """Seconds by the sheet's own cup.

    Parameters
    ----------
    viscosity : Viscosity
        Of a mix.

    Returns
    -------
    str
        Such as ``50-60 s in the ISO cup 3 mm``.
    """
    cup = flow_cups()[viscosity.cup]
    return f"{_between(viscosity.low_s, viscosity.high_s)} in the {cup.name}"


def standards_words(found: Iterable[Viscosity], units: Units) -> str:
    """By which standards the cups are read, and at what temperature.

    Parameters
    ----------
    found : iterable of Viscosity
        Of the mixes.
    units : Units
        What temperatures are shown in.

    Returns
    -------
    str
        Such as ``ISO 2431 at 23 °C, ASTM D1200 at 25 °C.``; the warmer one reads a
        little less.
    """
    cups: list[FlowCup] = []
    for each in found:
        cup = flow_cups()[each.cup]
        other = in_another_standard(cup, each.low_s, each.high_s)
        cups += [cup] if other is None else [cup, other[0].cup]
    told = dict.fromkeys(
        f"{each.standard} at {units.temperature.show(each.temperature_c)}"
        for each in cups
    )
    return f"{listed(tuple(told))}."


def ends_words(cup: FlowCup) -> str:
    """What a cup measures by its standard.

    Parameters
    ----------
    cup : FlowCup
        The cup.

    Returns
    -------
    str
        Such as ``by its standard the cup measures from 30 to 100 s``.
    """
    return f"by its standard the cup measures from {cup.from_s:g} to {cup.to_s:g} s"


def stretched_words(given: CupReading, others: Iterable[CupReading]) -> str:
    """That a cup does not measure what was read, and which does.

    Parameters
    ----------
    given : CupReading
        As read.
    others : iterable of CupReading
        The same paint in the other cups.

    Returns
    -------
    str
        Empty where the cup measures it.
    """
    if given.inside:
        return ""
    cup = given.cup
    fits = [each for each in others if each.inside]
    same = [each for each in fits if each.cup.standard == cup.standard]
    better = (same or fits)[:1]
    advice = "".join(
        f" The {each.cup.name} would measure it, in about {each.seconds:.0f} s."
        for each in better
    )
    side = "shorter" if given.seconds < cup.from_s else "longer"
    return (
        f"{given.seconds:g} s are {side} than the {cup.name} measures ({cup.standard}: "
        f"from {cup.from_s:g} to {cup.to_s:g} s), so these figures are rough.{advice}"
    )


def kinematic_words(given: CupReading, viscosity_mm2_s: float) -> str:
    """Seconds of a cup as a viscosity.

    Parameters
    ----------
    given : CupReading
        As read.
    viscosity_mm2_s : float
        Of the paint. [mm2/s]

    Returns
    -------
    str
    """
    cup = given.cup
    return (
        f"{given.seconds:g} s in the {cup.name} ({cup.standard}) are about "
        f"{viscosity_mm2_s:.3g} mm\N{SUPERSCRIPT TWO}/s (centistokes)."
    )


def reading_words(reading: CupReading) -> str:
    """What a paint takes in a cup, or why the cup does not measure it.

    Parameters
    ----------
    reading : CupReading
        Of the paint.

    Returns
    -------
    str
    """
    if reading.inside:
        return f"{reading.seconds:.0f} s"
    thin = reading.seconds < reading.cup.from_s
    return "too thin for it" if thin else "too thick for it"


def cup_range_words(cup: FlowCup) -> str:
    """What a cup measures, for a field of a table.

    Parameters
    ----------
    cup : FlowCup
        The cup.

    Returns
    -------
    str
        Such as ``30-100 s``.
    """
    return _between(cup.from_s, cup.to_s)


def _between(low: float, high: float) -> str:
    ends = dict.fromkeys(f"{each:.0f}" for each in (low, high))
    return f"{'-'.join(ends)} s"
