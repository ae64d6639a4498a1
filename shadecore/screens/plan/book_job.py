"""The session's job in the shop's book: found, read and made ready to be kept."""

from dataclasses import replace
from typing import Final

from shadecore.book.book import Book
from shadecore.book.kept import Kept
from shadecore.book.shop_records import BookJob
from shadecore.errors import ShadecoreError
from shadecore.job.job_file import parse_job, write_job
from shadecore.job.request import JobRequest
from shadecore.screens import session, shop
from shadecore.screens.plan.planning import plan_of

PLANNED: Final = "planned"
STARTED: Final = "started"
DONE: Final = "done"
_LONGEST_NAME: Final = 120


def find(book: Book, uid: str) -> Kept[BookJob] | None:
    """A job of the book.

    Parameters
    ----------
    book : Book
        The book.
    uid : str
        Of the job.

    Returns
    -------
    Kept of BookJob or None
        None where there is none, or it lies in the bin.
    """
    try:
        kept = book.show(BookJob, uid)
    except ShadecoreError:
        return None
    return None if kept.removed is not None or kept.uid != uid else kept


def request_of(kept: Kept[BookJob]) -> JobRequest:
    """The job that the book holds.

    Parameters
    ----------
    kept : Kept of BookJob
        As the book holds it.

    Returns
    -------
    JobRequest

    Raises
    ------
    JobError
        If its text cannot be read.
    """
    return parse_job(kept.thing.text, kept.thing.name)


def record_of(job: JobRequest, products: str | None, before: BookJob | None) -> BookJob:
    """What the book keeps of a job.

    Parameters
    ----------
    job : JobRequest
        The job.
    products : str or None
        TOML of its product sheet; None for the invented one.
    before : BookJob or None
        What it held before; car, customer and what it took stay.

    Returns
    -------
    BookJob
    """
    state, step = _stands(job, products)
    name = job.name[:_LONGEST_NAME].strip() or JobRequest(job.start).name
    text = write_job(job)
    if before is not None:
        return replace(before, name=name, text=text, state=state, step=step)
    settings = shop.settings()
    colour = shop.colour()
    return BookJob(
        name,
        text,
        state,
        step,
        colour="" if colour is None else colour.uid,
        code="" if colour is None else colour.thing.code,
        car="" if colour is None else colour.thing.car,
        line=settings.line,
        gun=settings.gun,
    )


def _stands(job: JobRequest, products: str | None) -> tuple[str, str]:
    """State, and the step that comes next."""
    begun = bool(job.done or job.sprayed or job.details.begun)
    try:
        timeline = plan_of(job, products).timeline
    except ShadecoreError:
        return STARTED if begun else PLANNED, ""
    coming = next((each.step.title for each in timeline if not each.done), "")
    if not coming:
        return DONE, ""
    return STARTED if begun else PLANNED, coming


def named() -> str:
    """``uid`` of the job that the link names; empty for none.

    Returns
    -------
    str
    """
    return session.parameters().get(shop.JOB_ID, "")
