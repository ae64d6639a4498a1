"""The estimate of a job, to be told to a customer, with what it took in the end."""

from typing import Final

from shadecore.formats.echo import brief
from shadecore.job.estimate import Estimate, Outcome, ShopRates, estimate, unpriced
from shadecore.job.plan import Plan
from shadecore.pages.blocks import ByHand, Cell, Document, Section, Table, Text
from shadecore.telling.counts import coats_words
from shadecore.telling.estimate_words import (
    ESTIMATE_NOTE,
    hours_words,
    money_words,
    outcome_words,
    own_prices_words,
    rates_words,
    unpriced_words,
)
from shadecore.telling.job_words import cans_words, when_words
from shadecore.units import UNITS

AGREED_BY_HAND: Final = ("Plate", "Customer", "Agreed, date")
"""Lines on the page; nothing of them is typed or kept."""
_TOOK: Final = 2
"""Column of the hours that each step took, written in by hand."""


def estimate_page(
    plan: Plan,
    rates: ShopRates,
    took_hours: float | None = None,
    took_material: float | None = None,
) -> Document:
    """Put what a job costs and how long it takes on a page.

    Parameters
    ----------
    plan : Plan
        The plan.
    rates : ShopRates
        What the shop asks for.
    took_hours : float, optional
        Hands-on time that it took in the end. [h]
    took_material : float, optional
        What its materials cost in the end; the price of the cans unless given.
        [currency]

    Returns
    -------
    Document

    Raises
    ------
    JobError
        If what it took is out of range.
    """
    found = estimate(plan.timeline, plan.materials, rates)
    invented = " (invented example)" if plan.sheet.invented else ""
    outcome = (
        None
        if took_hours is None
        else Outcome(
            found, took_hours, plan.cost if took_material is None else took_material
        )
    )
    sections = (
        sums_section(plan, found),
        *(() if outcome is None else (outcome_section(plan, outcome),)),
        work_section(plan, found),
        materials_section(plan),
    )
    start, end = plan.timeline[0].start, plan.timeline[-1].end
    return Document(
        f"Estimate: {brief(plan.request.name)}",
        f"Begun {when_words(start)}, ready {when_words(end, start)} at the earliest. "
        f"Prices of {brief(plan.sheet.name)}{invented}, in {plan.sheet.currency}.",
        (ByHand(AGREED_BY_HAND),),
        sections,
    )


def sums_section(plan: Plan, found: Estimate) -> Section:
    """The sums that a customer reads first.

    Parameters
    ----------
    plan : Plan
        The plan.
    found : Estimate
        Of it.

    Returns
    -------
    Section
    """
    currency = plan.sheet.currency
    lines = (
        (f"Work, {hours_words(found.hours)}", found.labour),
        ("Materials", found.material),
        ("What else there is", found.rates.extras),
        ("Tax", found.tax),
    )
    rows = [(name, money_words(amount)) for name, amount in lines if amount]
    table = Table(
        ("", currency),
        (*rows, (Cell("In total"), money_words(found.total))),
        frozenset({1}),
    )
    return Section(
        "What it comes to",
        (table, Text(f"{rates_words(found.rates, currency)} {ESTIMATE_NOTE}")),
    )


def outcome_section(plan: Plan, outcome: Outcome) -> Section:
    """What it took beside what was estimated.

    Parameters
    ----------
    plan : Plan
        The plan.
    outcome : Outcome
        In the end.

    Returns
    -------
    Section
    """
    planned = outcome.estimate
    cans = sum(price for _, price in planned.materials)
    rows = (
        ("Hands-on time", hours_words(planned.hours), hours_words(outcome.hours)),
        (
            f"Materials, {plan.sheet.currency}",
            money_words(cans),
            money_words(outcome.material),
        ),
    )
    return Section(
        "What it took in the end",
        (
            Table(("", "Estimated", "Took"), rows, frozenset({1, 2})),
            Text(outcome_words(outcome, plan.sheet.currency)),
        ),
    )


def work_section(plan: Plan, found: Estimate) -> Section:
    """Hands-on time step by step, with room to write what each took.

    Parameters
    ----------
    plan : Plan
        The plan.
    found : Estimate
        Of it.

    Returns
    -------
    Section
    """
    hours = dict(found.steps)
    rows = tuple(
        (brief(each.step.title), hours_words(hours[each.step.key]), "")
        for each in plan.timeline
        if hours[each.step.key]
    )
    table = Table(
        ("Step", "Hands-on", "Took"), rows, frozenset({1}), frozenset({_TOOK})
    )
    return Section("Work", (table,))


def materials_section(plan: Plan) -> Section:
    """Cans and their prices, product by product.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Section
    """
    units = UNITS[plan.request.question.units]
    rows = tuple(
        (
            f"{brief(material.product.name)}, {coats_words(material.coats)}",
            ", ".join(
                f"{brief(each.component.name)} {cans_words(each.cans, units)}".rstrip()
                for each in material.portions
            ),
            money_words(material.cost),
        )
        for material in plan.materials
    )
    table = Table(("Product", "Cans", plan.sheet.currency), rows, frozenset({2}))
    own = own_prices_words(plan.materials, plan.sheet.currency)
    left_out = unpriced_words(unpriced(plan.timeline, plan.sheet))
    notes = tuple(Text(each) for each in (left_out, own) if each)
    return Section("Materials, whole cans", (table, *notes))
