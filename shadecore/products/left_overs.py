"""What is left of a paint, and whether it may be used again."""

import math
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from shadecore.errors import JobError
from shadecore.products.product import Product

_MOST_ML: Final = 1e6
_LONGEST_BATCH: Final = 60


@dataclass(frozen=True)
class LeftOver:
    """What is left of a paint.

    Attributes
    ----------
    product : str
        Key of the product in its sheet.
    ml : float
        How much, above 0. [ml]
    since : date
        When it was mixed, or its can opened.
    mixed : bool
        Whether it is a mix; else what is left in an opened can.
    batch : str
        As its can says; at most 60 characters on one line.

    Raises
    ------
    JobError
        If one of them cannot be.
    """

    product: str
    ml: float
    since: date
    mixed: bool = True
    batch: str = ""

    def __post_init__(self) -> None:
        if not (math.isfinite(self.ml) and 0.0 < self.ml <= _MOST_ML):
            message = (
                f"A left-over is above 0 and up to {_MOST_ML:,.0f} ml, not {self.ml:g}."
            )
            raise JobError(message)
        if len(self.batch) > _LONGEST_BATCH or not (self.batch + "x").isprintable():
            message = (
                f"The batch of a left-over is at most {_LONGEST_BATCH} characters on "
                "one line; shorten it."
            )
            raise JobError(message)
        if not self.product.strip():
            message = "A left-over is of some product; name it as in the sheet."
            raise JobError(message)


@dataclass(frozen=True)
class Reuse:
    """Whether a left-over may be used again.

    Attributes
    ----------
    verdict : str
        ``yes``; ``hardened``, as it sets in the can; ``too_old``, as it was kept
        longer than its sheet allows; ``not_told``, as its sheet does not say.
    until : date or None
        Last day that its sheet lets it be kept; None where that is not told.
    """

    verdict: str
    until: date | None = None

    @property
    def allowed(self) -> bool:
        """Whether the sheet allows it; a stir, a strainer and a test card decide."""
        return self.verdict == "yes"


def may_be_used(left: LeftOver, product: Product, on: date) -> Reuse:
    """Whether a left-over may be used on a day.

    Parameters
    ----------
    left : LeftOver
        The left-over.
    product : Product
        The product it is of.
    on : date
        When it is to be used.

    Returns
    -------
    Reuse
        Never for a mix that takes a hardener, whatever its sheet says of its cans:
        what comes out of the pot the next day has begun to set.

    Raises
    ------
    JobError
        If it is of another product, or from after that day.

    Examples
    --------
    >>> from shadecore.products.sheet_file import demo_sheet
    >>> clear = demo_sheet().of_kind("clear_coat")
    >>> rest = LeftOver("clear_coat", 80.0, date(2026, 3, 2))
    >>> may_be_used(rest, clear, date(2026, 3, 3)).verdict
    'hardened'
    """
    if left.product != product.key:
        message = f"The left-over is of {left.product!r}, not of {product.key!r}."
        raise JobError(message)
    if left.since > on:
        message = f"The left-over is from {left.since}, after {on}; correct its date."
        raise JobError(message)
    if left.mixed and product.two_pack:
        return Reuse("hardened")
    if product.keeps_days is None:
        return Reuse("not_told")
    until = left.since + timedelta(days=math.floor(product.keeps_days))
    return Reuse("yes" if on <= until else "too_old", until)
