"""What a job costs and how long it takes, in words for a customer and for the shop."""

from collections.abc import Iterable, Sequence
from typing import Final

from shadecore.formats.echo import brief
from shadecore.job.estimate import Outcome, ShopRates
from shadecore.job.material import Material
from shadecore.products.product import Product
from shadecore.telling.numbers import listed, time_words

ESTIMATE_NOTE: Final = (
    "An estimate, not a bill: hands-on times are rules of thumb for the steps, "
    "materials are whole cans. What turns up under the old paint comes on top and is "
    "agreed first."
)
_MIN_PER_H: Final = 60.0


def money_words(amount: float) -> str:
    """An amount of money, its currency said elsewhere.

    Parameters
    ----------
    amount : float
        [currency]

    Returns
    -------
    str
    """
    return f"{amount:,.2f}"


def hours_words(hours: float) -> str:
    """Hands-on time.

    Parameters
    ----------
    hours : float
        Zero or more. [h]

    Returns
    -------
    str
        In hours and minutes, such as ``1 h 40 min``.
    """
    return time_words(hours * _MIN_PER_H)


def rates_words(rates: ShopRates, currency: str) -> str:
    """What the sums of an estimate are made with.

    Parameters
    ----------
    rates : ShopRates
        The shop's rates; what else there is stands in a sum of its own.
    currency : str
        As the product sheet says it.

    Returns
    -------
    str
    """
    return f"{', '.join(_rates_said(rates, f' {currency}'))}."


def kept_rates_words(rates: ShopRates) -> str:
    """The rates that the book keeps, in the currency of whichever product sheet.

    Parameters
    ----------
    rates : ShopRates
        The rates.

    Returns
    -------
    str
    """
    said = _rates_said(rates, "")
    if rates.extras:
        said.append(f"extras are {money_words(rates.extras)}")
    return f"{', '.join(said)}."


def _rates_said(rates: ShopRates, currency: str) -> list[str]:
    said = [f"An hour is {money_words(rates.hour)}{currency}"]
    if rates.materials_percent:
        said.append(
            f"{rates.materials_percent:g} % are added to the cans for paper, tape and "
            "thinner"
        )
    if rates.tax_percent:
        said.append(f"tax is {rates.tax_percent:g} %")
    return said


def own_prices_words(materials: Iterable[Material], currency: str) -> str:
    """Which prices are the shop's own, and not the product sheet's.

    Parameters
    ----------
    materials : iterable of Material
        What a job takes.
    currency : str
        As the product sheet says it.

    Returns
    -------
    str
        Empty where all are the sheet's.
    """
    prices = dict.fromkeys(price for each in materials for price in each.own_prices)
    if not prices:
        return ""
    told = [
        f"{brief(each.name)} at {money_words(each.price)} for {brief(each.unit)}"
        for each in prices
    ]
    return f"Of the shop's own shelf, its prices taken for {currency}: {listed(told)}."


def unpriced_words(products: Sequence[Product]) -> str:
    """Which materials of a job have no price.

    Parameters
    ----------
    products : sequence of Product
        As :func:`shadecore.job.estimate.unpriced` gives them.

    Returns
    -------
    str
        Empty where all have one.
    """
    if not products:
        return ""
    names = listed([brief(each.name) for each in products])
    return (
        f"{names}: this product line has no price for them, so they are not in these "
        "sums; add them to the extras or to what is added to the cans."
    )


def outcome_words(outcome: Outcome, currency: str) -> str:
    """What a job took beside its estimate.

    Parameters
    ----------
    outcome : Outcome
        In the end.
    currency : str
        As the product sheet says it.

    Returns
    -------
    str
    """
    time = _over(outcome.hours_over, hours_words(abs(outcome.hours_over)))
    cost = f"{money_words(abs(outcome.cost_over))} {currency}"
    return (
        f"It took {hours_words(outcome.hours)}, {time} the estimate; it cost the shop "
        f"{_over(outcome.cost_over, cost)} it."
    )


def _over(difference: float, told: str) -> str:
    return f"{told} {'over' if difference >= 0.0 else 'under'}"
