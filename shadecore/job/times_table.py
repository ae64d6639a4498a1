"""A plan's times as a table, for the accounts."""

from typing import Final

from shadecore.formats.table_writer import write_table
from shadecore.job.estimate import ShopRates, estimate
from shadecore.job.plan import Plan

HEADING: Final = (
    *("job", "step", "title", "start", "end", "hands_on_min"),
    *("product", "coats", "done"),
)
"""Columns of :func:`write_times`."""
_MIN_PER_H: Final = 60.0


def write_times(plan: Plan) -> str:
    """A plan's times as CSV text.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    str
        A row to each step, under ``HEADING``; times in the shop's own time as ISO 8601
        writes them, hands-on minutes with the flashes between coats.
    """
    hours = dict(estimate(plan.timeline, (), ShopRates(0.0)).steps)
    return write_table(
        HEADING,
        (
            [
                plan.request.name,
                each.step.key,
                each.step.title,
                each.start.isoformat(" ", "minutes"),
                each.end.isoformat(" ", "minutes"),
                round(hours[each.step.key] * _MIN_PER_H, 1),
                each.step.product,
                each.step.coats,
                "yes" if each.done else "no",
            ]
            for each in plan.timeline
        ),
    )
