"""The plan behind the page, worked out once for each job and product sheet."""

from functools import lru_cache
from typing import Final

from shadecore.errors import ShadecoreError
from shadecore.job.plan import Plan
from shadecore.job.planned import planned
from shadecore.job.request import JobRequest
from shadecore.pages.blocks import Document
from shadecore.pages.booth_sheet import booth_sheet
from shadecore.products.product import ProductSheet
from shadecore.products.sheet_file import demo_sheet, parse_sheet

_PLANS: Final = 32
"""Kept for the last jobs looked at, of all who look: a few hundred kB each at most."""
_SHEETS: Final = 8
SHEET_NAME: Final = "Product sheet"


@lru_cache(_SHEETS)
def products_of(text: str | None) -> ProductSheet:
    """A product sheet.

    Parameters
    ----------
    text : str or None
        Its TOML; None for the invented one.

    Returns
    -------
    ProductSheet

    Raises
    ------
    JobError
        If it cannot be used.
    """
    return demo_sheet() if text is None else parse_sheet(text, SHEET_NAME)


@lru_cache(_PLANS)
def plan_of(job: JobRequest, text: str | None) -> Plan:
    """Plan a job.

    Parameters
    ----------
    job : JobRequest
        The job.
    text : str or None
        TOML of its product sheet; None for the invented one.

    Returns
    -------
    Plan

    Raises
    ------
    ShadecoreError
        If it cannot be planned.
    """
    return planned(job, products_of(text))


def plan_if_any(job: JobRequest, text: str | None) -> Plan | None:
    """Plan a job that may not be ready to be planned.

    Parameters
    ----------
    job, text
        As for :func:`plan_of`.

    Returns
    -------
    Plan or None
        None where it cannot be planned.
    """
    try:
        return plan_of(job, text)
    except ShadecoreError:
        return None


@lru_cache(_PLANS)
def sheet_of(job: JobRequest, text: str | None) -> Document:
    """The sheet that hangs by the booth.

    Parameters
    ----------
    job, text
        As for :func:`plan_of`.

    Returns
    -------
    Document

    Raises
    ------
    ShadecoreError
        If the job cannot be planned.
    """
    return booth_sheet(plan_of(job, text))
