"""``plan``: the rest of the job, on a sheet for the booth."""

import argparse
import sys
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Final, NamedTuple

from shadecore.commands.ask_book import (
    add_book,
    add_gun_name,
    bare_name,
    kept_letterhead,
    opened,
)
from shadecore.commands.ask_estimate import add_estimate, documents_of
from shadecore.commands.ask_film import KEPT
from shadecore.commands.ask_job import add_job, with_job
from shadecore.commands.ask_learned import afterwards, with_learned
from shadecore.commands.ask_seen import add_seen, with_seen
from shadecore.commands.keep_plan import check_name, check_steps, keep_asked
from shadecore.commands.no_effect import check_effect
from shadecore.commands.status import ALL_WELL
from shadecore.errors import SettingError
from shadecore.formats.table import read_text
from shadecore.formats.whole import write_whole
from shadecore.job.calendar import calendar_uid
from shadecore.job.job_file import parse_job, write_job
from shadecore.job.plan import Plan
from shadecore.job.planned import planned
from shadecore.job.request import JobRequest
from shadecore.job.step_files import write_steps
from shadecore.job.step_sets import step_sets
from shadecore.job.substrates import substrates
from shadecore.job.times_table import write_times
from shadecore.job.trade_steps import trade_steps
from shadecore.job.usual_steps import USUAL
from shadecore.pages.blocks import Document
from shadecore.pages.calendar import to_icalendar
from shadecore.pages.html_layout import document_html
from shadecore.pages.letterhead import Letterhead
from shadecore.pages.pdf_layout import document_pdf
from shadecore.pages.text_layout import document_text
from shadecore.products.sheet_file import demo_sheet, parse_sheet
from shadecore.telling.eve_words import eves
from shadecore.telling.numbers import listed
from shadecore.telling.weather_words import NOT_TO_BE_SPRAYED, plan_stops

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
        description="Plans a job file and shows its sheet, or writes it (.pdf, .html), "
        "its calendar (.ics), its times for the accounts (.csv) or the job as it was "
        "planned (.toml).",
    )
    parser.add_argument(
        "job", nargs="?", metavar="JOB", help="job file (TOML), or kept:NAME"
    )
    parser.add_argument(
        "--products",
        metavar="FILE",
        help="product sheet (TOML); an invented one unless given",
    )
    parser.add_argument(
        "--out",
        metavar="FILE",
        help=f"what to write: {listed(list(_WRITERS), 'or')}; as text to the terminal "
        "unless given",
    )
    add_job(parser)
    add_estimate(parser)
    lists = parser.add_argument_group("what there is to choose from")
    for name, (_, what) in _LISTS.items():
        lists.add_argument(f"--list-{name}", action="store_true", help=what)
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
    lists = [each for each in _LISTS if getattr(options, f"list_{each}")]
    if lists:
        for each in lists:
            sys.stdout.write("".join(f"{line}\n" for line in _LISTS[each][0]()))
        return ALL_WELL
    if options.job is None:
        message = "plan takes a job file; data/demo-job.toml shows how one is written."
        raise SettingError(message)
    out = None if options.out is None else Path(options.out)
    if out is not None and out.suffix.lower() not in _WRITERS:
        message = f"{out} is neither {listed(list(_WRITERS), 'nor')}; name it so."
        raise SettingError(message)
    found = _found(options)
    check_name(options, found.job)
    plan, sheet = _planned(options, found)
    check_steps(options, plan)
    check_effect(options, plan)
    if options.write_steps is not None:
        own = write_steps(plan.request.name, plan.request.details.changes)
        write_whole(Path(options.write_steps), own.encode())
    _write(options, out, plan, found.changed)
    for stop in plan_stops(plan):
        sys.stderr.write(f"shadecore: {NOT_TO_BE_SPRAYED}: {stop}\n")
    if options.keep is not None or options.keep_steps is not None:
        afterwards(options, lambda: keep_asked(options, plan, sheet))
    return ALL_WELL


def _planned(options: argparse.Namespace, found: _Found) -> tuple[Plan, str]:
    """The plan, and its product sheet as TOML; empty for the invented one."""
    sheet = found.sheet if options.products is None else read_text(options.products)
    name = options.products or f"The product sheet of {found.job.name!r}"
    products = parse_sheet(sheet, name) if sheet else demo_sheet()
    question = with_seen(options, found.job.question)
    question = with_learned(options, question, found.kept)
    job = with_job(options, replace(found.job, question=question))
    return planned(job, products), sheet


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


def _write(
    options: argparse.Namespace, out: Path | None, plan: Plan, changed: datetime
) -> None:
    documents, letterhead = documents_of(options, plan), kept_letterhead(options)
    if out is None:
        texts = (document_text(letterhead.on(each)) for each in documents)
        sys.stdout.write("\n".join(texts))
    else:
        asked = _Print(plan, letterhead.on(documents[0]), letterhead, changed)
        write_whole(out, _WRITERS[out.suffix.lower()](asked))


class _Print(NamedTuple):
    """What is written: the plan, what is laid out of it, and since when it is so."""

    plan: Plan
    document: Document
    letterhead: Letterhead
    changed: datetime


def _pdf(asked: _Print) -> bytes:
    units = asked.plan.request.question.units
    return document_pdf(asked.document, asked.letterhead.paper_for(units))


def _html(asked: _Print) -> bytes:
    return document_html(asked.document).encode()


def _calendar(asked: _Print) -> bytes:
    plan = asked.plan
    uid, stops = calendar_uid(plan.request), plan_stops(plan)
    calendar = to_icalendar(
        plan.timeline, uid, asked.changed, stops, plan.barred, eves(plan)
    )
    return calendar.encode()


def _times(asked: _Print) -> bytes:
    return write_times(asked.plan).encode()


def _job(asked: _Print) -> bytes:
    return write_job(asked.plan.request).encode()


def _steps_lines() -> list[str]:
    own = trade_steps()
    usual = [f"{key:20} {each.title}" for key, each in USUAL.items()]
    return [
        *("Usual steps:", *usual, "Steps of the trade beside them:"),
        *(f"{key:20} {each.title}, after {each.after}" for key, each in own.items()),
    ]


def _set_lines() -> list[str]:
    return [f"{key:20} {each.name}: {each.what}" for key, each in step_sets().items()]


def _substrate_lines() -> list[str]:
    return [
        f"{key:20} {each.name}: {' '.join((*each.first, *each.never, *each.ask))}"
        for key, each in substrates().items()
    ]


_WRITERS: Final = {
    ".pdf": _pdf,
    ".html": _html,
    ".ics": _calendar,
    ".csv": _times,
    ".toml": _job,
}
_LISTS: Final[dict[str, tuple[Callable[[], list[str]], str]]] = {
    "steps": (_steps_lines, "steps by the keys that a set of steps names them by"),
    "sets": (_set_lines, "sets of steps that come with this tool"),
    "substrates": (_substrate_lines, "what panels may be made of or covered with"),
}
