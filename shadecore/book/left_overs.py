"""What is left of paints, as the book keeps it, and whether it may be used."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from shadecore.book.book import Book
from shadecore.book.kept import Kept
from shadecore.book.shop_records import BookLeftOver, BookSheet
from shadecore.errors import JobError, ShadecoreError
from shadecore.formats.echo import shown
from shadecore.products.amount import ml_of
from shadecore.products.bench import find_product
from shadecore.products.left_overs import LeftOver, Reuse, may_be_used
from shadecore.products.product import Product, ProductSheet
from shadecore.products.sheet_file import demo_sheet, parse_sheet


@dataclass(frozen=True)
class Judged:
    """A left-over of the book, and what is to be said of it.

    Attributes
    ----------
    kept : Kept of BookLeftOver
        The left-over.
    product : Product or None
        What it is of; None where no product sheet has it.
    reuse : Reuse or None
        Whether it may be used; None where that cannot be told.
    """

    kept: Kept[BookLeftOver]
    product: Product | None
    reuse: Reuse | None


def sheets_of(book: Book) -> tuple[ProductSheet, ...]:
    """Product sheets that the shop works with.

    Parameters
    ----------
    book : Book
        The book.

    Returns
    -------
    tuple of ProductSheet
        Those of the book that can be read, the last one kept first; the invented one
        where there is none.
    """
    found = []
    for kept in book.list(BookSheet):
        try:
            found.append(parse_sheet(kept.thing.text, kept.thing.name))
        except ShadecoreError:
            # Its own part of the page says what is wrong with it.
            continue
    return tuple(found) or (demo_sheet(),)


def product_of(sheets: Sequence[ProductSheet], word: str) -> Product:
    """A product by its key, kind or name.

    Parameters
    ----------
    sheets : sequence of ProductSheet
        The sheets; the first one that has it counts.
    word : str
        What it is called.

    Returns
    -------
    Product

    Raises
    ------
    JobError
        If none of them has it.
    """
    for sheet in sheets[:-1]:
        try:
            return find_product(sheet, word)
        except JobError:
            continue
    return find_product(sheets[-1], word)


def left_over(  # noqa: PLR0913 - what is told of it
    sheets: Sequence[ProductSheet],
    word: str,
    amount: str,
    since: date,
    today: date,
    *,
    mixed: bool = True,
    batch: str = "",
) -> LeftOver:
    """A left-over that is worth keeping.

    Parameters
    ----------
    sheets : sequence of ProductSheet
        Of the shop.
    word : str
        Key, kind or name of its product.
    amount : str
        Such as ``200 ml``; a number alone is in millilitres.
    since, today : date
        When it was mixed or its can opened, and the day it is told.
    mixed : bool
        Whether it is a mix; else what is left in an opened can.
    batch : str
        As its can says.

    Returns
    -------
    LeftOver

    Raises
    ------
    JobError
        If the product is not known, the amount cannot be read, its day is yet to come,
        or it is a mix that hardens.
    """
    product = product_of(sheets, word)
    left = LeftOver(product.key, ml_of(amount, "What is left"), since, mixed, batch)
    if may_be_used(left, product, today).verdict == "hardened":
        message = (
            f"{shown(product.name)} that is mixed sets in the pot: it is waste, not a "
            "left-over. What is left in the opened can is kept as such."
        )
        raise JobError(message)
    return left


def judged(
    sheets: Sequence[ProductSheet], kept: Kept[BookLeftOver], today: date
) -> Judged:
    """A left-over with what the sheet of its product lets be done with it.

    Parameters
    ----------
    sheets : sequence of ProductSheet
        Of the shop.
    kept : Kept of BookLeftOver
        The left-over.
    today : date
        When it is to be used.

    Returns
    -------
    Judged
    """
    left = kept.thing.left
    keys = (each for sheet in sheets for each in sheet.products)
    product = next((each for each in keys if each.key == left.product), None)
    if product is None or left.since > today:
        return Judged(kept, product, None)
    return Judged(kept, product, may_be_used(left, product, today))


def left_of(
    book: Book, product: Product, colour: str, today: date
) -> tuple[Judged, ...]:
    """What is left of a product that is about to be mixed.

    Parameters
    ----------
    book : Book
        The book.
    product : Product
        As the job's sheet has it.
    colour : str
        ``uid`` of the job's colour; what is left of another one is none of it.
    today : date
        When it is to be used.

    Returns
    -------
    tuple of Judged
        The oldest first; what has set is left out.
    """
    found = []
    for kept in book.list(BookLeftOver):
        left = kept.thing.left
        if left.product != product.key or kept.thing.colour not in {"", colour}:
            continue
        if left.since <= today:
            found.append(Judged(kept, product, may_be_used(left, product, today)))
    usable = (each for each in found if each.reuse and each.reuse.verdict != "hardened")
    return tuple(sorted(usable, key=lambda each: each.kept.thing.left.since))
