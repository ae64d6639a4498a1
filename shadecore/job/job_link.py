"""A job and its products as a link's parameters: both survive a reload of the page."""

import base64
import tomllib
import zlib
from collections.abc import Mapping
from dataclasses import replace
from typing import Final

import tomli_w

from shadecore.errors import JobError
from shadecore.job.job_file import parse_job, write_brief_job
from shadecore.job.request import JobRequest
from shadecore.products.product import ProductSheet
from shadecore.products.sheet_file import parse_sheet
from shadecore.question.link import from_query, to_query

PARAMETER: Final = "job"
"""Holds what the pick does not; the pick's own parameters stand beside it."""
PRODUCTS: Final = "products"
"""Holds a product sheet of the painter's own."""
_NAME: Final = "The job in the link"
_SHEET_NAME: Final = "The product sheet in the link"
_MOST_LINK: Final = 4000
"""Characters of a sheet in a link: with its job they stay below the 8 kB that web
servers take; common practice, no source."""
_MOST_BYTES: Final = 1_000_000
"""A job takes a few thousand; what unpacks to more is none."""


def to_job_query(job: JobRequest) -> dict[str, str]:
    """Write a job as the parameters of a link; defaults are left out.

    Parameters
    ----------
    job : JobRequest
        The job.

    Returns
    -------
    dict of str to str
    """
    return {**to_query(job.pick), PARAMETER: _packed(write_brief_job(job))}


def from_job_query(query: Mapping[str, str]) -> JobRequest | None:
    """Read a job from the parameters of a link, by the checks of a job file.

    Parameters
    ----------
    query : mapping of str to str
        The parameters.

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
    job = parse_job(_unpacked(query[PARAMETER], _NAME), _NAME)
    return replace(job, pick=from_query(query))


def to_products_query(text: str) -> dict[str, str]:
    """Write a product sheet as a parameter of a link.

    Parameters
    ----------
    text : str
        TOML that :func:`shadecore.products.sheet_file.parse_sheet` takes.

    Returns
    -------
    dict of str to str
        Without its comments; empty where it is too long for a link.
    """
    packed = _packed(tomli_w.dumps(tomllib.loads(text)))
    return {PRODUCTS: packed} if len(packed) <= _MOST_LINK else {}


def from_products_query(query: Mapping[str, str]) -> tuple[ProductSheet, str] | None:
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
    text = _unpacked(query[PRODUCTS], _SHEET_NAME)
    return parse_sheet(text, _SHEET_NAME), text


def _packed(text: str) -> str:
    packed = zlib.compress(text.encode(), level=9)
    return base64.urlsafe_b64encode(packed).decode().rstrip("=")


def _unpacked(text: str, name: str) -> str:
    unpack = zlib.decompressobj()
    try:
        packed = base64.b64decode(f"{text}===", altchars="-_", validate=False)
        found = unpack.decompress(packed, _MOST_BYTES).decode()
    except (ValueError, zlib.error):
        found = ""
    if not found or not unpack.eof:
        message = f"{name} is cut off or changed; open the file that it came from."
        raise JobError(message)
    return found
