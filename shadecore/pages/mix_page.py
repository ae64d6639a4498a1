"""A mix at the bench as a document, for the terminal, the app and a print."""

from collections.abc import Sequence
from datetime import datetime

from shadecore.formats.echo import brief
from shadecore.pages.blocks import Document, Section, Table, Text
from shadecore.products.bench import BenchMix
from shadecore.products.mixing import parts_by_mass
from shadecore.telling.bench_words import (
    VOLUMES_NOTE,
    asked_words,
    boxed_words,
    mass_part_words,
    pot_life_words,
)
from shadecore.telling.cup_words import standards_words, viscosity_words
from shadecore.telling.numbers import grams
from shadecore.units import UNITS


def mix_section(
    mix: BenchMix,
    units: str = "metric",
    *,
    reference_c: float,
    mixed_at: datetime | None = None,
    until: datetime | None = None,
) -> Section:
    """What to pour, in its order, with what the cup and the scale read.

    Parameters
    ----------
    mix : BenchMix
        The mix.
    units : str
        ``metric`` or ``us``; a scale reads grams in both.
    reference_c : float
        Temperature that the sheet's pot life holds at. [degrees C]
    mixed_at, until : datetime, optional
        When the hardener went in, and until when the mix can be sprayed.

    Returns
    -------
    Section
    """
    system = UNITS[units]
    components = [each.component for each in mix.pours]
    rows = tuple(
        (
            brief(pour.component.name),
            f"{pour.component.parts:.3g}",
            mass_part_words(share),
            system.volume.show(pour.volume_ml / 1000.0),
            system.volume.show(pour.level_ml / 1000.0),
            grams(pour.mass_g),
            grams(pour.scale_g),
        )
        for pour, share in zip(mix.pours, parts_by_mass(components), strict=True)
    )
    table = Table(
        (
            *("Pour", "Parts by volume", "Parts by mass", "Volume"),
            *("Cup reads", "Mass", "Scale reads"),
        ),
        rows,
        frozenset({1, 2, 3, 4, 5, 6}),
    )
    viscosity = mix.product.viscosity
    told = [
        boxed_words(mix.portions, system),
        pot_life_words(mix.product, mixed_at, until, reference_c, system),
        ""
        if viscosity is None
        else f"It should take {viscosity_words(viscosity)}; "
        f"{standards_words([viscosity], system)}",
        VOLUMES_NOTE,
    ]
    return Section(
        brief(mix.product.name),
        (
            Text(asked_words(mix, system)),
            table,
            *(Text(each) for each in told if each),
        ),
    )


def mix_page(
    mixes: Sequence[Section], *, sheet_name: str, invented: bool, caution: str
) -> Document:
    """Mixes of a product with what they rest on.

    Parameters
    ----------
    mixes : sequence of Section
        As :func:`mix_section` gives them.
    sheet_name : str
        Of the product sheet.
    invented : bool
        Whether that is an example and not to be sprayed by.
    caution : str
        To be said beside it.

    Returns
    -------
    Document
    """
    mark = " (invented example, do not spray by it)" if invented else ""
    return Document(
        subtitle=f"Products: {brief(sheet_name)}{mark}.",
        sections=(*mixes, Section("Safety", (Text(caution),), small=True)),
    )
