"""``plan``: the rest of the job, on a sheet for the booth."""

import argparse
import sys
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from shadecore.commands.ask_book import add_book, add_gun_name, with_book
from shadecore.commands.ask_estimate import add_estimate, document_of
from shadecore.commands.ask_seen import add_seen, with_seen
from shadecore.commands.status import ALL_WELL
from shadecore.errors import SettingError
from shadecore.formats.table import read_text
from shadecore.formats.whole import write_whole
from shadecore.job.calendar import calendar_uid, to_icalendar
from shadecore.job.job_file import parse_job
from shadecore.job.plan import Plan
from shadecore.job.planned import planned
from shadecore.job.weather import NOT_TO_BE_SPRAYED
from shadecore.pages.blocks import Document
from shadecore.pages.html_layout import document_html
from shadecore.pages.pdf_layout import document_pdf
from shadecore.products.sheet_file import demo_sheet, read_sheet


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
        description="Plans a job file and writes its sheet or its estimate (.pdf or "
        ".html) or its calendar (.ics).",
    )
    parser.add_argument("job", metavar="JOB", help="job file (TOML)")
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
    add_estimate(parser)
    add_seen(parser)
    add_book(parser)
    add_gun_name(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    out = Path(options.out)
    if out.suffix.lower() not in _WRITERS:
        message = f"{out} is neither .pdf, .html nor .ics; name it so."
        raise SettingError(message)
    job = parse_job(read_text(options.job), options.job)
    products = (
        demo_sheet() if options.products is None else read_sheet(options.products)
    )
    question = with_book(options, with_seen(options, job.question))
    plan = planned(replace(job, question=question), products)
    # Of the file, so that the same job gives the same calendar.
    changed = datetime.fromtimestamp(Path(options.job).stat().st_mtime, UTC)
    document = document_of(options, plan)
    write_whole(out, _WRITERS[out.suffix.lower()](plan, document, changed))
    for stop in plan.weather.stops:
        sys.stderr.write(f"shadecore: {NOT_TO_BE_SPRAYED}: {stop}\n")
    return ALL_WELL


def _pdf(plan: Plan, document: Document, _: datetime) -> bytes:
    return document_pdf(document, plan.request.question.units)


def _html(_: Plan, document: Document, __: datetime) -> bytes:
    return document_html(document).encode()


def _calendar(plan: Plan, _: Document, changed: datetime) -> bytes:
    return to_icalendar(
        plan.timeline, calendar_uid(plan.request), changed, plan.weather.stops
    ).encode()


_WRITERS = {".pdf": _pdf, ".html": _html, ".ics": _calendar}
