"""The shop's own sealers, by their names and prices in the place of the sheet's."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from shadecore.products.product import Component, ProductSheet
from shadecore.undercoats.prices import CanPrice, can_price
from shadecore.undercoats.shelf import Shelf, Undercoat
from shadecore.undercoats.shelf_table import demo_shelf


def cans_of(taken: Undercoat, shelf: Shelf) -> tuple[Undercoat, ...]:
    """Undercoats of the shelf that go into a sealer, with the shop's own prices.

    Parameters
    ----------
    taken : Undercoat
        What is sprayed: one of the shelf, or a mix of two.
    shelf : tuple of Undercoat
        The shelf.

    Returns
    -------
    tuple of Undercoat
        Without those of the invented shelf, whose prices are nobody's.
    """
    names = {name for name, _ in taken.parts} or {taken.name}
    invented = demo_shelf()
    return tuple(each for each in shelf if each.name in names and each not in invented)


def own_name(taken: Undercoat, shelf: Shelf) -> str:
    """What a sealer of the shop's own cans is called.

    Parameters
    ----------
    taken : Undercoat
        What is sprayed.
    shelf : tuple of Undercoat
        The shelf.

    Returns
    -------
    str
        Name of the can, or of the cans it is mixed of; empty where the product sheet's
        paint is tinted to it.
    """
    names = [each.name for each in cans_of(taken, shelf)]
    return f"Mix of {' and '.join(names)}" if taken.parts and names else "".join(names)


def named_sheet(
    sheet: ProductSheet, taken: Iterable[Undercoat], shelf: Shelf
) -> ProductSheet:
    """A product sheet whose sealer is called as the shop's own cans are.

    Parameters
    ----------
    sheet : ProductSheet
        The products.
    taken : iterable of Undercoat
        What is sprayed as sealer.
    shelf : tuple of Undercoat
        The shelf.

    Returns
    -------
    ProductSheet
        The same where none of it comes from a can of the shop's own.
    """
    names = dict.fromkeys(own_name(each, shelf) for each in taken)
    name = " / ".join(each for each in names if each)
    if not name:
        return sheet
    return replace(
        sheet,
        products=tuple(
            replace(each, name=name) if each.kind == "sealer" else each
            for each in sheet.products
        ),
    )


def priced_by_shop(
    components: Sequence[Component], taken: Undercoat, shelf: Shelf
) -> tuple[tuple[Component, ...], tuple[CanPrice, ...]]:
    """Components of a sealer at what the shop pays for its paint.

    Parameters
    ----------
    components : sequence of Component
        As :func:`shadecore.job.choice.own_cans` gives them.
    taken : Undercoat
        What is sprayed.
    shelf : tuple of Undercoat
        The shelf, with the shop's prices.

    Returns
    -------
    components : tuple of Component
        The paint at the price and in the cans of the shelf, where it has them; hardener
        and reducer as they were.
    prices : tuple of CanPrice
        Those that were taken.
    """
    found = (can_price(each) for each in cans_of(taken, shelf))
    prices = {each.name: each for each in found if each is not None}
    if not prices or not components:
        return tuple(components), ()
    paint = max(components, key=lambda each: each.parts * each.volume_solids)
    priced = []
    for each in components:
        name = taken.name if each is paint and not taken.parts else each.name
        price = prices.get(name)
        if price is None:
            priced.append(each)
            continue
        cans = each.can_sizes_l if price.can_l is None else (price.can_l,)
        priced.append(replace(each, price_per_l=price.per_l, can_sizes_l=cans))
    return tuple(priced), tuple(prices.values())
