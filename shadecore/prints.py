"""The library's prints: the sheets of a job and its estimate, as PDF."""

from shadecore.job.estimate import ShopRates
from shadecore.job.plan import Plan
from shadecore.job.safety import Booth
from shadecore.pages.blocks import Document
from shadecore.pages.booth_sheet import booth_sheet
from shadecore.pages.cautions_sheet import cautions_sheet
from shadecore.pages.estimate_page import estimate_page
from shadecore.pages.letterhead import BARE, Letterhead
from shadecore.pages.pdf_layout import document_pdf


def booth_pdf(
    plan: Plan, booth: Booth | None = None, letterhead: Letterhead = BARE
) -> bytes:
    """The sheet for the booth as PDF.

    Parameters
    ----------
    plan : Plan
        The plan.
    booth : Booth, optional
        What the shop knows of its booth; what is not known is asked for on the sheet.
    letterhead : Letterhead
        The shop's name and its paper.

    Returns
    -------
    bytes
    """
    page = booth_sheet(plan, Booth() if booth is None else booth)
    return _laid_out(page, plan, letterhead)


def cautions_pdf(
    plan: Plan, booth: Booth | None = None, letterhead: Letterhead = BARE
) -> bytes:
    """The cautions sheet as PDF: cautions in full, and what the plan rests on.

    Parameters
    ----------
    plan : Plan
        The plan.
    booth : Booth, optional
        What the shop knows of its booth; what is not known is asked for on the sheet.
    letterhead : Letterhead
        The shop's name and its paper.

    Returns
    -------
    bytes
    """
    page = cautions_sheet(plan, Booth() if booth is None else booth)
    return _laid_out(page, plan, letterhead)


def estimate_pdf(
    plan: Plan,
    rates: ShopRates,
    took_hours: float | None = None,
    took_material: float | None = None,
    letterhead: Letterhead = BARE,
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
    letterhead : Letterhead
        The shop's name and its paper.

    Returns
    -------
    bytes

    Raises
    ------
    JobError
        If what it took is out of range.
    """
    page = estimate_page(plan, rates, took_hours, took_material)
    return _laid_out(page, plan, letterhead)


def _laid_out(page: Document, plan: Plan, letterhead: Letterhead) -> bytes:
    paper = letterhead.paper_for(plan.request.question.units)
    return document_pdf(letterhead.on(page), paper)
