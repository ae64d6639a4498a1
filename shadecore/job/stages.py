"""Base, mid and clear coat of a job against the rule that judges them together."""

from collections.abc import Sequence

from shadecore.job.effect_steps import MID
from shadecore.job.step_places import once
from shadecore.job.steps import Step
from shadecore.products.product import ProductSheet
from shadecore.products.voc import US_NATIONAL, VocAnswer, check_stages


def stages_of(steps: Sequence[Step], sheet: ProductSheet) -> VocAnswer | None:
    """Hold the coats of a job against the US national rule.

    Parameters
    ----------
    steps : sequence of Step
        Of the job.
    sheet : ProductSheet
        The products.

    Returns
    -------
    VocAnswer or None
        None where the sheet does not name that rule for base and clear coat, or one of
        them is not sprayed.
    """
    base, clear = sheet.of_kind("base_coat"), sheet.of_kind("clear_coat")
    used = {step.product for step in steps}
    if all(
        US_NATIONAL in each.voc_categories and each.key in used
        for each in (base, clear)
    ):
        # Where the line has no mid-coat, the base coat's mix stands in for it.
        between = any(once(step.key) == MID for step in steps)
        return check_stages(base, clear, (sheet.over_ground,) if between else ())
    return None
