"""A job planned from nothing but its record and a product sheet."""

from shadecore.job.plan import Plan, plan_job
from shadecore.job.request import JobRequest
from shadecore.products.product import ProductSheet
from shadecore.question.answer import answer


def planned(job: JobRequest, sheet: ProductSheet) -> Plan:
    """Plan a job.

    Parameters
    ----------
    job : JobRequest
        The job.
    sheet : ProductSheet
        The products.

    Returns
    -------
    Plan

    Raises
    ------
    ShadecoreError
        If its question cannot be answered, or the job cannot be planned.
    """
    return plan_job(job, sheet, answer(job.question))
