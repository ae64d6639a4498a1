"""``plan``: the rest of the job, on a sheet for the booth."""

import argparse
import sys
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from shadecore.commands.ask_book import (
    add_book,
    add_gun_name,
    bare_name,
    opened,
)
from shadecore.commands.ask_film import KEPT
from shadecore.commands.ask_learned import afterwards, with_learned
from shadecore.commands.ask_seen import add_seen, with_seen
from shadecore.commands.keep_plan import check_name, keep_plan
from shadecore.commands.status import ALL_WELL
from shadecore.errors import SettingError
from shadecore.formats.table import read_text
from shadecore.formats.whole import write_whole
from shadecore.job.calendar import calendar_uid, to_icalendar
from shadecore.job.job_file import parse_job
from shadecore.job.plan import Plan
from shadecore.job.planned import planned
from shadecore.job.request import JobRequest
from shadecore.job.weather import NOT_TO_BE_SPRAYED
from shadecore.pages.booth_sheet import booth_sheet
from shadecore.pages.html_layout import document_html
from shadecore.pages.pdf_layout import document_pdf
from shadecore.products.sheet_file import demo_sheet, parse_sheet

if TYPE_CHECKING:
    from shadecore.book.kept import Kept
    from shadecore.book.shop_records import BookJob


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Put the command on the parser.

    Parameters
    ----------
    commands : argparse subparsers
        Where it goes.
    """
    parser = commands.add_parser(
        "plan",
        help="the rest of the job, on a sheet",
        description="Plans a job file and writes its sheet (.pdf or .html) or its "
        "calendar (.ics).",
    )
    parser.add_argument("job", metavar="JOB", help="job file (TOML), or kept:NAME")
    parser.add_argument(
        "--products",
        metavar="FILE",
        help="product sheet (TOML); an invented one unless given",
    )
    parser.add_argument(
        "--out",
        metavar="FILE",
        required=True,
        help="what to write: .pdf, .html or .ics",
    )
    add_seen(parser)
    add_book(parser, what="the job with its colour")
    add_gun_name(parser)
    parser.set_defaults(run=_run)


class _Found(NamedTuple):
    """The job that is meant, and since when it is as it is."""

    job: JobRequest
    changed: datetime
    sheet: str = ""
    kept: "Kept[BookJob] | None" = None


def _run(options: argparse.Namespace) -> int:
    out = Path(options.out)
    if out.suffix.lower() not in _WRITERS:
        message = f"{out} is neither .pdf, .html nor .ics; name it so."
        raise SettingError(message)
    found = _found(options)
    check_name(options, found.job)
    sheet = found.sheet if options.products is None else read_text(options.products)
    name = options.products or f"The product sheet of {found.job.name!r}"
    products = parse_sheet(sheet, name) if sheet else demo_sheet()
    question = with_seen(options, found.job.question)
    question = with_learned(options, question, found.kept)
    plan = planned(replace(found.job, question=question), products)
    write_whole(out, _WRITERS[out.suffix.lower()](plan, found.changed))
    for stop in plan.weather.stops:
        sys.stderr.write(f"shadecore: {NOT_TO_BE_SPRAYED}: {stop}\n")
    if options.keep is not None:
        afterwards(options, lambda: keep_plan(options, plan, sheet))
    return ALL_WELL


def _found(options: argparse.Namespace) -> _Found:
    if not options.job.startswith(KEPT):
        text = read_text(options.job)
        # Of the file, so that the same job gives the same calendar.
        changed = datetime.fromtimestamp(Path(options.job).stat().st_mtime, UTC)
        return _Found(parse_job(text, options.job), changed)
    from shadecore.book.jobs import job_of  # noqa: PLC0415 - see ask_book
    from shadecore.book.shop_records import BookJob  # noqa: PLC0415

    with opened(options) as book:
        kept = book.show(BookJob, bare_name(options.job))
        return _Found(job_of(book, kept), kept.changed, kept.thing.sheet, kept)


def _pdf(plan: Plan, _: datetime) -> bytes:
    return document_pdf(booth_sheet(plan), plan.request.question.units)


def _html(plan: Plan, _: datetime) -> bytes:
    return document_html(booth_sheet(plan)).encode()


def _calendar(plan: Plan, changed: datetime) -> bytes:
    return to_icalendar(
        plan.timeline, calendar_uid(plan.request), changed, plan.weather.stops
    ).encode()


_WRITERS = {".pdf": _pdf, ".html": _html, ".ics": _calendar}
