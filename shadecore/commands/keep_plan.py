"""What ``plan`` keeps: the job with its colour, and the job's own steps as a set."""

import argparse
import sys
from dataclasses import replace
from typing import TYPE_CHECKING

from shadecore.commands.ask_book import book_file, opened
from shadecore.commands.ask_learned import line_and_gun
from shadecore.job.plan import Plan
from shadecore.job.request import JobRequest

if TYPE_CHECKING:
    from shadecore.book.book import Book
    from shadecore.book.kept import Kept
    from shadecore.book.records import BookColour
    from shadecore.book.shop_records import BookJob
    from shadecore.question.question import Question


def check_name(options: argparse.Namespace, request: JobRequest) -> None:
    """Refuse a name that cannot be kept, before anything is planned.

    Parameters
    ----------
    options : argparse.Namespace
        Of the command ``plan``.
    request : JobRequest
        The job.

    Raises
    ------
    BookError
        If the name is empty, or the book holds another job of that name.
    """
    if options.keep is None:
        return
    from shadecore.book import checks  # noqa: PLC0415 - see ask_book

    checks.name(options.keep, "The job's name", needed=True)
    if book_file(options).exists():
        with opened(options) as book:
            _refuse_taken(book, replace(request, name=options.keep.strip()))


def _refuse_taken(book: "Book", request: JobRequest) -> None:
    from shadecore.book.jobs import find_job  # noqa: PLC0415
    from shadecore.book.names import name_taken  # noqa: PLC0415
    from shadecore.book.shop_records import BookJob  # noqa: PLC0415

    there = find_job(book, request.uid)
    own = "" if there is None else there.uid
    if any(each.uid != own for each in book.called(BookJob, request.name)):
        raise name_taken(request.name, "job")


def keep_asked(options: argparse.Namespace, plan: Plan, sheet: str) -> None:
    """Keep what the words ask for.

    Parameters
    ----------
    options : argparse.Namespace
        Of the command ``plan``.
    plan : Plan
        The plan.
    sheet : str
        Its product sheet as TOML; empty for the invented one.

    Raises
    ------
    BookError
        If something cannot be kept.
    """
    if options.keep is not None:
        keep_plan(options, plan, sheet)
    if options.keep_steps is not None:
        _keep_steps(options, plan)


def check_steps(options: argparse.Namespace, plan: Plan) -> None:
    """Refuse a set of steps that cannot be kept, before anything is written.

    Parameters
    ----------
    options : argparse.Namespace
        Of the command ``plan``.
    plan : Plan
        The plan.

    Raises
    ------
    BookError
        If its name cannot be used, or the job has no steps of the shop's own.
    """
    if options.keep_steps is None:
        return
    from shadecore.book.shop_records import BookSteps  # noqa: PLC0415 - see ask_book
    from shadecore.book.step_sets import refuse_other  # noqa: PLC0415

    thing = BookSteps(options.keep_steps.strip(), plan.request.details.changes)
    if book_file(options).exists():
        with opened(options) as book:
            refuse_other(book, thing)


def _keep_steps(options: argparse.Namespace, plan: Plan) -> None:
    from shadecore.book.step_sets import keep_steps  # noqa: PLC0415 - see ask_book

    with opened(options, new=True) as book:
        kept = keep_steps(book, options.keep_steps, plan.request.details.changes)
        sys.stderr.write(
            f"shadecore: the book {book.path} keeps the set of steps "
            f"{kept.thing.name!r}.\n"
        )


def keep_plan(options: argparse.Namespace, plan: Plan, sheet: str) -> None:
    """Keep a planned job in the book under the name that ``--keep`` gives.

    Parameters
    ----------
    options : argparse.Namespace
        Of the command ``plan``.
    plan : Plan
        The plan.
    sheet : str
        Its product sheet as TOML; empty for the invented one.

    Raises
    ------
    BookError
        If the book holds another job of that name, or it cannot be kept.
    """
    from shadecore.book.jobs import find_job, keep_job  # noqa: PLC0415 - see ask_book

    request = replace(plan.request, name=options.keep.strip())
    with opened(options, new=True) as book:
        _refuse_taken(book, request)
        onto = find_job(book, request.uid)
        line, gun, batch = line_and_gun(options, book, onto)
        with book.changing(f"kept the job {request.name}"):
            colour = _colour(book, request.question, (line, gun, batch), onto)
            keep_job(
                book,
                request,
                onto=onto,
                plan=plan,
                colour=colour.uid,
                line=line,
                gun=gun,
                sheet=sheet,
            )
        sys.stderr.write(
            f"shadecore: the book {book.path} keeps the job {request.name!r} and its "
            f"colour {colour.thing.name!r}.\n"
        )


def _colour(
    book: "Book",
    question: "Question",
    links: tuple[str, str, str],
    onto: "Kept[BookJob] | None",
) -> "Kept[BookColour]":
    """The job's colour in the book: its own, one of this reading, or a new one."""
    from shadecore.book.alike import same_colour  # noqa: PLC0415
    from shadecore.book.asked import asked_of  # noqa: PLC0415
    from shadecore.book.asking import colour_of, keep  # noqa: PLC0415
    from shadecore.book.names import free_name  # noqa: PLC0415
    from shadecore.book.records import BookColour  # noqa: PLC0415
    from shadecore.book.working import usual_name  # noqa: PLC0415

    line, gun, batch = links
    name = usual_name(question)
    there = book.called(BookColour, name)
    known = None
    if onto is not None and onto.thing.colour:
        known = book.show(BookColour, onto.thing.colour)
    elif there and same_colour(asked_of(there[0].thing).question, question):
        known = there[0]
    if known is not None:
        return keep(book, known.thing, question.seen, batch=batch, onto=known)
    free = free_name(book, BookColour, name)
    colour = replace(colour_of(free, question), line=line, gun=gun)
    return keep(book, colour, question.seen, batch=batch)
