"""Jobs in the book: kept from what is planned, found again, and planned again."""

import uuid
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import TYPE_CHECKING, Any, Final

from shadecore.book.asking import question_of
from shadecore.book.bench import bench_record, record_bench, seen_of_looks
from shadecore.book.book import Book
from shadecore.book.errors import BookError
from shadecore.book.kept import Kept
from shadecore.book.kinds import folded
from shadecore.book.names import free_name
from shadecore.book.records import BookColour
from shadecore.book.shop_records import BookJob
from shadecore.job.job_file import parse_job, write_job
from shadecore.job.request import JobRequest
from shadecore.undercoats.shelf import Undercoat

if TYPE_CHECKING:
    # A book is opened sooner without the rooms that plan.
    from shadecore.job.plan import Plan
    from shadecore.job.steps import Step

BASE_COAT: Final = "base_coat"
"""Key of the step in which the colour that must hide is sprayed."""
FROM_REQUEST: Final = (
    "name",
    "text",
    "state",
    "step",
    "coats_sprayed",
    "started",
    "finished",
    "request",
)
"""Fields of a job in the book that follow from its request."""


@dataclass(frozen=True)
class Standing:
    """Where a job stands.

    Attributes
    ----------
    state : str
        ``planned``, ``started`` or ``done``.
    step : str
        Title of the coming step; empty where nothing is left, or nobody knows.
    coats_sprayed : int or None
        Coats of the colour so far; None where nobody knows.
    took_coats : int or None
        Coats of the colour in the end; None before it.
    started, finished : datetime or None
        In the shop's own time.
    """

    state: str
    step: str
    coats_sprayed: int | None
    took_coats: int | None
    started: datetime | None
    finished: datetime | None


def standing(request: JobRequest, steps: "Sequence[Step]" = ()) -> Standing:
    """Where a job stands, by what is said to be done.

    Parameters
    ----------
    request : JobRequest
        The job.
    steps : sequence of Step
        Of its plan, in order; without them nothing is known of what is left.

    Returns
    -------
    Standing
    """
    done = dict(request.done)
    begun = sorted([*done.values(), *request.sprayed])
    left = [step for step in steps if step.key not in done]
    over = bool(steps) and not left
    sprayed = _coats(request, left, steps)
    begun_at = min(request.start, begun[0]) if begun else None
    return Standing(
        state="done" if over else "started" if begun else "planned",
        step=left[0].title if left else "",
        coats_sprayed=sprayed,
        took_coats=sprayed if BASE_COAT in done else None,
        started=begun_at,
        finished=begun[-1] if over else None,
    )


def _coats(
    request: JobRequest, left: "Sequence[Step]", steps: "Sequence[Step]"
) -> int | None:
    """Coats of the colour so far."""
    looked = max((coat for coat, _ in request.looks), default=0)
    planned = next((step.coats for step in steps if step.key == BASE_COAT), None)
    if any(key == BASE_COAT for key, _ in request.done):
        # A painter who looked after more coats than were planned has sprayed them.
        return max(planned or 0, looked) or None
    if planned is None:
        return looked or None
    coming = left[0].key == BASE_COAT
    return max(len(request.sprayed) if coming else 0, looked)


def keep_job(
    book: Book,
    request: JobRequest,
    *,
    onto: Kept[BookJob] | None = None,
    plan: "Plan | None" = None,
    over: Undercoat | None = None,
    **about: Any,  # noqa: ANN401 - of any field
) -> Kept[BookJob]:
    """Keep a job and what was seen at the bench, all or nothing.

    Parameters
    ----------
    book : Book
        The book.
    request : JobRequest
        The job; it gets a ``uid`` where it has none.
    onto : Kept of BookJob, optional
        The job as the book holds it, to be written anew.
    plan : Plan, optional
        What was planned from it, which tells the coming step. Without it no record is
        made of what was seen, and the one that is there stays.
    over : Undercoat, optional
        What the colour is sprayed over; as planned unless given. Where the job leaves
        it to the pick, the first record of this job says it for all later ones, as a
        "not yet" can change the pick but not what the paint lies on already.
    **about
        Fields of :class:`shadecore.book.shop_records.BookJob` beside those that
        follow from the request, such as ``colour``, ``line``, ``gun``, ``sheet``,
        ``car``, ``plate``, ``customer`` or ``took_ml``; as before unless given.

    Returns
    -------
    Kept of BookJob
        Its own ``name`` is the one of the request, with a number behind it where
        another job has that.

    Raises
    ------
    BookConflict
        If somebody changed the job since it was read.
    BookError
        If the book holds this job already and ``onto`` does not say so, or it cannot
        be kept.
    """
    known = next((name for name in about if name in FROM_REQUEST), None)
    if known is not None:
        message = f"The {known} of a job follows from its request; change that."
        raise BookError(message)
    request = _with_uid(request, onto)
    if onto is None or folded(request.name) != folded(onto.thing.name):
        own = "" if onto is None else onto.uid
        request = replace(request, name=free_name(book, BookJob, request.name, own))
    before = BookJob(request.name, "") if onto is None else onto.thing
    steps = () if plan is None else [timed.step for timed in plan.timeline]
    thing = replace(as_kept(request, before, steps), **about)
    with book.changing(f"kept the job {request.name}"):
        if onto is not None:
            kept = onto if thing == before else book.change(onto, thing)
        else:
            refuse_twice(book, request)
            kept = book.add(thing)
        if plan is not None:
            _note(book, kept, request, plan, over)
    return kept


def as_kept(
    request: JobRequest,
    before: BookJob,
    steps: "Sequence[Step]" = (),
    text: str | None = None,
) -> BookJob:
    """A job of the book with all that follows from its request.

    Parameters
    ----------
    request : JobRequest
        The job.
    before : BookJob
        What else the book holds of it.
    steps : sequence of Step
        Of its plan, as for :func:`standing`.
    text : str, optional
        The job's file as somebody wrote it, with its comments.

    Returns
    -------
    BookJob
    """
    now = standing(request, steps)
    given_up = before.state == "abandoned" and _same_progress(before, request)
    return replace(
        before,
        name=request.name,
        text=write_job(request) if text is None else text,
        # Only work on it takes back that somebody gave it up.
        state=before.state if given_up else now.state,
        step=now.step,
        coats_sprayed=now.coats_sprayed,
        took_coats=now.took_coats,
        started=now.started,
        finished=now.finished,
        request=request.uid,
    )


def _with_uid(request: JobRequest, onto: Kept[BookJob] | None) -> JobRequest:
    if request.uid:
        return request
    known = onto.thing.request if onto is not None else ""
    return replace(request, uid=known or str(uuid.uuid4()))


def _same_progress(before: BookJob, request: JobRequest) -> bool:
    there = request_of(before)
    now = (request.done, request.sprayed, request.looks)
    return (there.done, there.sprayed, there.looks) == now


def refuse_twice(book: Book, request: JobRequest) -> None:
    """Refuse a job that the book holds already.

    Parameters
    ----------
    book : Book
        The book.
    request : JobRequest
        The job.

    Raises
    ------
    BookError
        If a job of the book has its ``uid``.
    """
    there = find_job(book, request.uid)
    if there is not None:
        message = (
            f"The book holds this job already, as {there.thing.name!r}; open that one."
        )
        raise BookError(message)


def _note(
    book: Book,
    kept: Kept[BookJob],
    request: JobRequest,
    plan: "Plan",
    over: Undercoat | None,
) -> None:
    """Make of the looks the one record of this job."""
    if not kept.thing.colour:
        return
    question = request.question
    noted = None if request.sealer else bench_record(book, kept)
    before = None if noted is None else noted.thing.undercoat
    choice = plan.picked.choice
    planned = plan.answer.recommended if choice is None else choice.outlook
    seen = seen_of_looks(
        request.looks,
        before or over or planned.undercoat,
        question.settings.film.dry_film_um,
        question.tolerance,
    )
    looked = [at for key, at in request.done if key == BASE_COAT] or [*request.sprayed]
    record_bench(
        book,
        kept,
        book.show(BookColour, kept.thing.colour),
        seen,
        when=looked[-1] if looked else None,
    )


def find_job(book: Book, uid: str) -> Kept[BookJob] | None:
    """The job of a file or a link, if the book holds it.

    Parameters
    ----------
    book : Book
        The book.
    uid : str
        ``uid`` of its request.

    Returns
    -------
    Kept of BookJob or None
        The one changed last; none from the bin.
    """
    if not uid:
        return None
    return next(iter(book.list(BookJob, limit=1, belongs={"request": uid})), None)


def request_of(job: BookJob) -> JobRequest:
    """The request of a job, as it was kept.

    Parameters
    ----------
    job : BookJob
        The job as the book holds it.

    Returns
    -------
    JobRequest

    Raises
    ------
    JobError
        If its text cannot be read.
    """
    request = parse_job(job.text, f"The job {job.name!r} in the book")
    # It may have been renamed in the book.
    return replace(request, name=job.name, uid=job.request or request.uid)


def job_of(book: Book, kept: Kept[BookJob]) -> JobRequest:
    """The request of a job, to be planned again.

    Parameters
    ----------
    book : Book
        The book.
    kept : Kept of BookJob
        The job.

    Returns
    -------
    JobRequest
        Where the job has a colour of the book, its question holds what was seen of
        that, so that a "not yet" at the bench counts in the plan.

    Raises
    ------
    JobError
        If its text cannot be read.
    """
    job = kept.thing
    request = request_of(job)
    if not job.colour:
        return request
    colour = book.show(BookColour, job.colour)
    seen = question_of(book, colour).question.seen
    return replace(request, question=replace(request.question, seen=seen))
