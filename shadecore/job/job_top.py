"""What the steps of a job leave on top before its colour is picked."""

from typing import Final

from shadecore.job.choice import unsealed
from shadecore.job.on_top import SEALED, OnTop, on_top
from shadecore.job.picked import NOTHING_PICKED
from shadecore.job.plan_steps import steps_of
from shadecore.job.request import JobRequest
from shadecore.job.step_places import once
from shadecore.products.product import ASKED, ProductSheet

_SPRAY: Final = (*ASKED, "etch_primer", "surfacer", "sealer", "base_coat")
"""Steps that spray before or with the colour."""


def job_top(request: JobRequest, sheet: ProductSheet, area_m2: float) -> OnTop:
    """What lies on top when the colour of a job is sprayed.

    Parameters
    ----------
    request : JobRequest
        The job.
    sheet : ProductSheet
        The products.
    area_m2 : float
        Area to paint. [m2]

    Returns
    -------
    OnTop

    Raises
    ------
    JobError
        If a step or product is not known.
    """
    sealed = not unsealed(request)
    sprays = any(
        each.product or once(each.key) in _SPRAY for each in request.details.changes
    )
    if sealed and not sprays:
        return SEALED
    # Which steps there are does not depend on how many coats are picked.
    steps = steps_of(request, sheet, NOTHING_PICKED, area_m2)
    return on_top(steps, sheet, sealed=sealed)
