"""The session's job in the shop's book: found, read and kept."""

from datetime import date, datetime, timedelta
from typing import Any, Final
from uuid import uuid4

from shadecore.book.book import Book
from shadecore.book.jobs import keep_job
from shadecore.book.kept import Kept
from shadecore.book.shop_records import BookJob
from shadecore.book.working import save, usual_name
from shadecore.errors import ShadecoreError
from shadecore.job.request import JobRequest
from shadecore.job.shop_hours import breaks_of
from shadecore.products.materials import panels
from shadecore.question.question import Question
from shadecore.screens import session, shop
from shadecore.screens.plan.hours import NIGHTS, USUAL_HOURS
from shadecore.screens.plan.planning import plan_if_any

BEGUN: Final = "Job"
"""Name of a job whose colour cannot be read."""


def named() -> str:
    """``uid`` of the job that the link names; empty for none.

    Returns
    -------
    str
    """
    return session.parameters().get(shop.JOB_ID, "")


def write(
    book: Book, job: JobRequest, products: str | None, onto: Kept[BookJob] | None
) -> Kept[BookJob]:
    """Keep a job, and what was seen at its bench.

    Parameters
    ----------
    book : Book
        The book.
    job : JobRequest
        The job.
    products : str or None
        TOML of its product sheet; None for the invented one.
    onto : Kept of BookJob or None
        As the book holds it; None where it is new.

    Returns
    -------
    Kept of BookJob

    Raises
    ------
    BookConflict
        If somebody changed it since it was read.
    ShadecoreError
        If it cannot be kept.
    """
    plan = plan_if_any(job, products)
    about = {} if onto is not None else _about()
    colour = about.get("colour", "" if onto is None else onto.thing.colour)
    if job.looks and not colour:
        # What was seen belongs to a colour, which nobody had kept so far.
        about["colour"] = save(book, job.question).uid
    about["sheet"] = products or ""
    choice = None if plan is None else plan.picked.choice
    over = None if choice is None else choice.undercoat
    return keep_job(book, job, onto=onto, plan=plan, over=over, **about)


def new_job(question: Question) -> JobRequest:
    """A job for tomorrow when the shop opens.

    Parameters
    ----------
    question : Question
        What is asked.

    Returns
    -------
    JobRequest
    """
    tomorrow = date.today() + timedelta(days=1)  # noqa: DTZ011 - the shop's own clock
    hours = shop.settings().hours or USUAL_HOURS
    return JobRequest(
        datetime.combine(tomorrow, hours.opens),
        name=begun_name(question),
        panels=((panels()[0].key, 1),),
        breaks=breaks_of(hours, tomorrow, tomorrow + timedelta(days=NIGHTS)),
        question=question,
        uid=str(uuid4()),
    )


def begun_name(question: Question) -> str:
    """What a job is called that nobody has named: its colour, and the car where known.

    Parameters
    ----------
    question : Question
        What is asked.

    Returns
    -------
    str
        Such as ``Deep red, an old estate``.
    """
    colour = shop.colour()
    if colour is not None:
        return ", ".join(filter(None, (colour.thing.name, colour.thing.car)))
    try:
        return usual_name(question)
    except ShadecoreError:
        return BEGUN


def _about() -> dict[str, Any]:
    """What a new job is begun with: the session's colour, the shop's line and gun."""
    settings, colour = shop.settings(), shop.colour()
    about: dict[str, Any] = {"line": settings.line, "gun": settings.gun}
    if colour is None:
        return about
    thing = colour.thing
    return about | {"colour": colour.uid, "code": thing.code, "car": thing.car}
