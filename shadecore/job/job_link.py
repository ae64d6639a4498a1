"""A job and its products as a link's parameters: both survive a reload of the page."""

import tomllib
from collections.abc import Mapping
from typing import Final

import tomli_w

from shadecore.errors import JobError
from shadecore.formats.packed import pack, unpack
from shadecore.job.job_file import parse_job, write_brief_job
from shadecore.job.request import JobRequest
from shadecore.products.product import ProductSheet
from shadecore.products.sheet_file import parse_sheet
from shadecore.question.question import Question

PARAMETER: Final = "job"
"""Holds what the question does not; the question's own parameters stand beside it."""
PRODUCTS: Final = "products"
"""Holds a product sheet of the painter's own."""
_NAME: Final = "The job in the link"
_SHEET_NAME: Final = "The product sheet in the link"
_MOST_LINK: Final = 4000
"""Characters of a sheet in a link: with its job they stay below the 8 kB that web
servers take; common practice, no source."""


def job_parameters(job: JobRequest) -> dict[str, str | None]:
    """Write a job as a parameter of a link, without its question.

    Parameters
    ----------
    job : JobRequest
        The job.

    Returns
    -------
    dict of str to str
    """
    return {PARAMETER: pack(write_brief_job(job))}


def read_job_link(query: Mapping[str, str], question: Question) -> JobRequest | None:
    """Read a job from the parameters of a link, by the checks of a job file.

    Parameters
    ----------
    query : mapping of str to str
        The parameters.
    question : Question
        The question in the same link.

    Returns
    -------
    JobRequest or None
        None where the link holds no job.

    Raises
    ------
    JobError
        If it holds one that cannot be read.
    """
    if PARAMETER not in query:
        return None
    return parse_job(unpack(query[PARAMETER], _NAME, JobError), _NAME, question)


def products_parameters(text: str | None) -> dict[str, str | None]:
    """Write a product sheet as a parameter of a link.

    Parameters
    ----------
    text : str or None
        TOML that :func:`shadecore.products.sheet_file.parse_sheet` takes; None for no
        sheet of one's own.

    Returns
    -------
    dict of str to str or None
        Without its comments; None where there is none, or it is too long for a link.
    """
    if text is None:
        return {PRODUCTS: None}
    packed = pack(tomli_w.dumps(tomllib.loads(text)))
    return {PRODUCTS: packed if len(packed) <= _MOST_LINK else None}


def read_products_link(query: Mapping[str, str]) -> tuple[ProductSheet, str] | None:
    """Read a product sheet from the parameters of a link, by the checks of its file.

    Parameters
    ----------
    query : mapping of str to str
        The parameters.

    Returns
    -------
    tuple of ProductSheet and str, or None
        The sheet and its TOML; None where the link holds none.

    Raises
    ------
    JobError
        If it holds one that cannot be used.
    """
    if PRODUCTS not in query:
        return None
    text = unpack(query[PRODUCTS], _SHEET_NAME, JobError)
    return parse_sheet(text, _SHEET_NAME), text
