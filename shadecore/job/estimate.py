"""What a job costs and how long it takes, before it and in the end."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from shadecore.job.material import Material
from shadecore.job.schedule import Timed
from shadecore.products.product import Product, ProductSheet
from shadecore.products.ranges import Range

_MIN_PER_H: Final = 60.0
MONEY: Final = Range(0.0, 1e6)
"""Of one thing, in the sheet's currency."""
PERCENT: Final = Range(0.0, 500.0, "percent")
HOURS: Final = Range(0.0, 10_000.0, "h")


@dataclass(frozen=True)
class ShopRates:
    """What a shop asks for.

    Attributes
    ----------
    hour : float
        An hour of work. [currency/h]
    materials_percent : float
        Added to the price of the cans, for what is not counted. [percent]
    extras : float
        Whatever else, such as parts and waste. [currency]
    tax_percent : float
        On all of it. [percent]

    Raises
    ------
    JobError
        If one of them is outside its range.
    """

    hour: float
    materials_percent: float = 0.0
    extras: float = 0.0
    tax_percent: float = 0.0

    def __post_init__(self) -> None:
        MONEY.check(self.hour, "The price of an hour")
        PERCENT.check(self.materials_percent, "What is added to the materials")
        MONEY.check(self.extras, "The price of what else there is")
        PERCENT.check(self.tax_percent, "The tax")


@dataclass(frozen=True)
class Estimate:
    """What a job costs, and what makes it up.

    Attributes
    ----------
    steps : tuple of (str, float)
        Key of each step and its hands-on time. [h]
    materials : tuple of (str, float)
        Key of each product and the price of its cans. [currency]
    rates : ShopRates
        What the shop asks for.
    """

    steps: tuple[tuple[str, float], ...]
    materials: tuple[tuple[str, float], ...]
    rates: ShopRates

    @property
    def hours(self) -> float:
        """Hands-on time. [h]."""
        return sum(hours for _, hours in self.steps)

    @property
    def labour(self) -> float:
        """Price of the work. [currency]."""
        return self.hours * self.rates.hour

    @property
    def material(self) -> float:
        """Price of the materials with what is added to them. [currency]."""
        cans = sum(price for _, price in self.materials)
        return cans * (1.0 + self.rates.materials_percent / 100.0)

    @property
    def net(self) -> float:
        """All of it before tax. [currency]."""
        return self.labour + self.material + self.rates.extras

    @property
    def tax(self) -> float:
        """Tax on all of it. [currency]."""
        return self.net * self.rates.tax_percent / 100.0

    @property
    def total(self) -> float:
        """What the customer pays. [currency]."""
        return self.net + self.tax


def estimate(
    timeline: Sequence[Timed], materials: Iterable[Material], rates: ShopRates
) -> Estimate:
    """What a job will cost.

    Parameters
    ----------
    timeline : sequence of Timed
        Its steps; the flashes between coats count as hands-on time, since the painter
        stays in the booth, but drying and curing do not.
    materials : iterable of Material
        What it takes, with the prices of whole cans.
    rates : ShopRates
        What the shop asks for.

    Returns
    -------
    Estimate
    """
    return Estimate(
        tuple((each.step.key, _hands_on_h(each)) for each in timeline),
        tuple((each.product.key, each.cost) for each in materials),
        rates,
    )


def unpriced(timeline: Sequence[Timed], sheet: ProductSheet) -> tuple[Product, ...]:
    """Products of a job that its product sheet has no price for.

    Parameters
    ----------
    timeline : sequence of Timed
        Its steps.
    sheet : ProductSheet
        The products.

    Returns
    -------
    tuple of Product
        What is not mixed, such as filler, cleaner and polish, in the order of the
        steps.
    """
    products = {each.key: each for each in sheet.products}
    used = (products.get(each.step.product or "") for each in timeline)
    found = {
        each.key: each for each in used if each is not None and not each.components
    }
    return tuple(found.values())


def _hands_on_h(timed: Timed) -> float:
    step = timed.step
    flashes = max(step.coats - 1, 0) * step.flash_min
    return (step.work_min + flashes) / _MIN_PER_H


@dataclass(frozen=True)
class Outcome:
    """What a job took in the end, beside what was estimated.

    Attributes
    ----------
    estimate : Estimate
        Before it.
    hours : float
        Hands-on time that it took. [h]
    material : float
        What the materials cost, before anything is added. [currency]

    Raises
    ------
    JobError
        If one of them is outside its range.
    """

    estimate: Estimate
    hours: float
    material: float

    def __post_init__(self) -> None:
        HOURS.check(self.hours, "The hours that it took")
        MONEY.check(self.material, "What the materials cost")

    @property
    def hours_over(self) -> float:
        """Hours beyond the estimate; negative where it took less. [h]."""
        return self.hours - self.estimate.hours

    @property
    def cost_over(self) -> float:
        """Cost beyond the estimate to the shop, before tax. [currency]."""
        planned = self.estimate
        cans = sum(price for _, price in planned.materials)
        return self.hours_over * planned.rates.hour + self.material - cans
