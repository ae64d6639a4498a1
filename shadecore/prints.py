"""The library's prints: the sheet for the booth and the estimate, as PDF."""

from shadecore.job.estimate import ShopRates
from shadecore.job.plan import Plan
from shadecore.job.safety import Booth
from shadecore.pages.booth_sheet import booth_sheet
from shadecore.pages.estimate_page import estimate_page
from shadecore.pages.pdf_layout import document_pdf


def booth_pdf(plan: Plan, booth: Booth | None = None) -> bytes:
    """The sheet for the booth as PDF.

    Parameters
    ----------
    plan : Plan
        The plan.
    booth : Booth, optional
        What the shop knows of its booth; what is not known is asked for on the sheet.

    Returns
    -------
    bytes
    """
    page = booth_sheet(plan, Booth() if booth is None else booth)
    return document_pdf(page, plan.request.question.units)


def estimate_pdf(
    plan: Plan,
    rates: ShopRates,
    took_hours: float | None = None,
    took_material: float | None = None,
) -> bytes:
    """The estimate for a customer as PDF, with what the job took in the end.

    Parameters
    ----------
    plan : Plan
        The plan.
    rates : ShopRates
        What the shop asks for.
    took_hours : float, optional
        Hands-on time that it took. [h]
    took_material : float, optional
        What its materials cost. [currency]

    Returns
    -------
    bytes

    Raises
    ------
    JobError
        If what it took is out of range.
    """
    page = estimate_page(plan, rates, took_hours, took_material)
    return document_pdf(page, plan.request.question.units)
