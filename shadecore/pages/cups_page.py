"""Seconds of one flow cup in the others, as a document."""

from collections.abc import Sequence

from shadecore.pages.blocks import Document, Table, Text
from shadecore.products.cups import CupReading, FlowCup
from shadecore.telling.cup_words import (
    CUPS_NOTE,
    cup_range_words,
    kinematic_words,
    reading_words,
    stretched_words,
)
from shadecore.units import UNITS


def cups_page(
    viscosity_mm2_s: float,
    readings: Sequence[CupReading],
    units: str = "metric",
    only: FlowCup | None = None,
) -> Document:
    """What a paint takes in every cup.

    Parameters
    ----------
    viscosity_mm2_s : float
        Of the paint. [mm2/s]
    readings : sequence of CupReading
        The cup it was read with, then the others.
    units : str
        ``metric`` or ``us``.
    only : FlowCup, optional
        The one that is asked for; all of them unless given.

    Returns
    -------
    Document
    """
    system = UNITS[units]
    given, *others = readings
    stretched = stretched_words(given, others)
    table = Table(
        ("Cup", "Reads", "Measures", "Standard", "Paint at"),
        tuple(
            (
                each.cup.name,
                reading_words(each),
                cup_range_words(each.cup),
                each.cup.standard,
                system.temperature.show(each.cup.temperature_c),
            )
            for each in others
            if only in {None, each.cup}
        ),
        frozenset({1, 2, 4}),
        note=CUPS_NOTE,
    )
    told = (kinematic_words(given, viscosity_mm2_s), stretched)
    return Document(blocks=(*(Text(each) for each in told if each), table))
