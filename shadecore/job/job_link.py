"""A job as the parameters of a link, so that it survives a reload of its page."""

import base64
import zlib
from collections.abc import Mapping
from dataclasses import replace
from typing import Final

from shadecore.errors import JobError
from shadecore.job.job_file import parse_job, write_brief_job
from shadecore.job.request import JobRequest
from shadecore.storage.link import from_query, to_query

PARAMETER: Final = "job"
"""Holds what the pick does not; the pick's own parameters stand beside it."""
_NAME: Final = "The job in the link"
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
    packed = zlib.compress(write_brief_job(job).encode(), level=9)
    text = base64.urlsafe_b64encode(packed).decode().rstrip("=")
    return {**to_query(job.pick), PARAMETER: text}


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
    job = parse_job(_unpacked(query[PARAMETER]), _NAME)
    return replace(job, pick=from_query(query))


def _unpacked(text: str) -> str:
    unpack = zlib.decompressobj()
    try:
        packed = base64.b64decode(f"{text}===", altchars="-_", validate=False)
        found = unpack.decompress(packed, _MOST_BYTES).decode()
    except (ValueError, zlib.error):
        found = ""
    if not found or not unpack.eof:
        message = f"{_NAME} is cut off or changed; open the job's file or plan it anew."
        raise JobError(message)
    return found
