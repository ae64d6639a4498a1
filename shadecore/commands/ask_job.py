"""The words about a job: its kind, steps, substrates, weather and days off."""

import argparse
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, datetime
from typing import Final, TypeVar

from shadecore.commands.ask_book import kept_steps
from shadecore.commands.ask_film import KEPT
from shadecore.errors import SettingError, ShadecoreError
from shadecore.formats.echo import choices, shown
from shadecore.formats.table import read_text
from shadecore.formats.text_file import open_text
from shadecore.job.climate import CURES
from shadecore.job.days import parse_days
from shadecore.job.details import Details
from shadecore.job.kinds import KINDS, PLACES, TWO_TONE
from shadecore.job.own_steps import StepChange
from shadecore.job.request import MIX, NO_SEALER, JobRequest
from shadecore.job.shop_hours import WEEKEND, with_days_off
from shadecore.job.step_files import parse_steps
from shadecore.job.step_sets import step_sets

_T = TypeVar("_T")
_PERCENT: Final = 100.0


def add_job(parser: argparse.ArgumentParser) -> None:
    """Take what is to be planned otherwise than the job file says.

    Parameters
    ----------
    parser : argparse.ArgumentParser
        Of a command.
    """
    group = parser.add_argument_group(
        "the job", "What is given here goes before what the job file says."
    )
    group.add_argument("--kind", choices=KINDS, help="what kind of job it is")
    group.add_argument("--place", choices=PLACES, help="where it is sprayed")
    group.add_argument("--cure", choices=CURES, help="how the clear coat cures")
    group.add_argument(
        "--sealer",
        metavar="NAME",
        help=f"sealer of the shelf in the place of the recommended one; {MIX} for "
        f"the mix that saves a coat, {NO_SEALER} for none",
    )
    group.add_argument("--coats", type=int, metavar="N", help="coats of colour")
    group.add_argument(
        "--old-finish",
        metavar="COLOUR",
        help="colour of the finish that is there, such as '45 60 35': says whether "
        "the sealer may be left out",
    )
    group.add_argument(
        "--surfacer",
        metavar="COLOUR",
        help="its colour where no sealer is sprayed over it: a grey of the shelf, or "
        "such as '60 0 0'",
    )
    group.add_argument(
        "--second",
        metavar="COLOUR",
        help="second colour of a two-tone, which goes on after the first",
    )
    group.add_argument(
        "--second-share",
        metavar="PERCENT",
        help="share of the area that it covers",
    )
    _add_steps(parser.add_argument_group("steps"))
    _add_times(parser.add_argument_group("weather and time"))


def _add_steps(group: "argparse._ArgumentGroup") -> None:
    group.add_argument(
        "--set",
        action="append",
        default=[],
        metavar="NAME",
        help="a set of steps that comes with this tool (--list-sets); may be repeated",
    )
    group.add_argument(
        "--steps",
        action="append",
        default=[],
        metavar="FILE",
        help=f"a set of steps of the shop's own (TOML), or {KEPT}NAME for one of the "
        "book; may be repeated",
    )
    group.add_argument(
        "--write-steps",
        metavar="FILE",
        help="write the job's own steps as a set, to be used again",
    )
    group.add_argument(
        "--keep-steps",
        metavar="NAME",
        help="keep the job's own steps as a set in the shop's book",
    )
    group.add_argument(
        "--substrate",
        action="append",
        default=[],
        metavar="PANEL=KEY",
        help="what a panel is made of or covered with (--list-substrates); several by "
        "+, as in hood=steel+old_two_pack; of one side as left_front_door=steel; may "
        "be repeated",
    )


def _add_times(group: "argparse._ArgumentGroup") -> None:
    group.add_argument(
        "--days",
        metavar="FILE",
        help="weather by day (CSV): date,air_c,humidity_percent and, where known, "
        "panel_c,night_c",
    )
    group.add_argument(
        "--weekends", action="store_true", help="nobody works on Saturday and Sunday"
    )
    group.add_argument(
        "--holiday",
        action="append",
        default=[],
        metavar="DATE",
        help="nobody works on it, as 2026-12-24; may be repeated",
    )
    group.add_argument(
        "--done",
        action="append",
        default=[],
        metavar="STEP=TIME",
        help="a step is done, and when it ended, as wash=2026-12-01T08:20; may be "
        "repeated",
    )
    group.add_argument(
        "--begun",
        action="append",
        default=[],
        metavar="STEP=SHARE",
        help="a step is half done, as block_sand=50%%; may be repeated",
    )


def with_job(options: argparse.Namespace, job: JobRequest) -> JobRequest:
    """A job with what the words say of it.

    Parameters
    ----------
    options : argparse.Namespace
        Of a parser with :func:`add_job`.
    job : JobRequest
        As its file says it.

    Returns
    -------
    JobRequest

    Raises
    ------
    ShadecoreError
        If a word or a file cannot be used.
    """
    told = {
        name: getattr(options, name)
        for name in (
            *("kind", "place", "cure", "sealer", "coats", "old_finish"),
            "surfacer",
        )
        if getattr(options, name) is not None
    }
    job = replace(job, **told, details=_details(options, job.details))
    if options.booth_clearance is not None:
        job = replace(job, booth_clearance_min=options.booth_clearance)
    _check_second(options, job.kind)
    if options.second is not None:
        job = replace(job, second=replace(job.question, colour=options.second, seen=()))
    if options.second_share is not None:
        share = _share("--second-share", options.second_share)
        job = replace(job, second_share=share)
    done = {**dict(job.done), **_pairs("--done", options.done, _moment)}
    off = [_date(each) for each in options.holiday]
    breaks = job.breaks
    if off or options.weekends:
        closed = WEEKEND if options.weekends else frozenset()
        breaks = with_days_off(breaks, job.start.date(), closed, off)
    return replace(job, done=tuple(done.items()), breaks=breaks)


def _check_second(options: argparse.Namespace, kind: str) -> None:
    """Refuse words about a second colour where the kind of job has none."""
    words = {"--second": options.second, "--second-share": options.second_share}
    given = [word for word, value in words.items() if value is not None]
    if given and kind != TWO_TONE:
        message = (
            f"{given[0]} is for a job in two colours; add --kind {TWO_TONE}, or leave "
            "it out."
        )
        raise SettingError(message)


def _details(options: argparse.Namespace, details: Details) -> Details:
    changes: list[StepChange] = list(details.changes)
    for name in options.set:
        changes += _set(name)
    for path in options.steps:
        changes += _own_set(options, path)
    substrates = {
        **dict(details.substrates),
        **_pairs("--substrate", options.substrate, _keys),
    }
    begun = {
        **dict(details.begun),
        **_pairs("--begun", options.begun, lambda text: _share("--begun", text)),
    }
    days = {each.day: each for each in details.days}
    if options.days is not None:
        found = parse_days(open_text(options.days), options.days)
        days |= {each.day: each for each in found}
    return Details(
        tuple(substrates.items()),
        tuple(changes),
        tuple(days[day] for day in sorted(days)),
        tuple(begun.items()),
    )


def _set(name: str) -> tuple[StepChange, ...]:
    sets = step_sets()
    if name not in sets:
        message = (
            f"There is no set of steps {shown(name)}; take one of "
            f"{choices(sets, name)}, or --steps for one of your own."
        )
        raise SettingError(message)
    return sets[name].changes


def _own_set(options: argparse.Namespace, written: str) -> tuple[StepChange, ...]:
    if written.startswith(KEPT):
        return kept_steps(options, written)
    return parse_steps(read_text(written), written)[1]


def _pairs(word: str, given: Sequence[str], read: Callable[[str], _T]) -> dict[str, _T]:
    found = {}
    for each in given:
        name, sign, value = each.partition("=")
        if not sign or not name.strip() or not value.strip():
            message = f"{word} takes a name, = and a value, not {shown(each)}."
            raise SettingError(message)
        try:
            found[name.strip()] = read(value.strip())
        except ShadecoreError as error:
            message = f"{word} {name}: {error}"
            raise SettingError(message) from error
    return found


def _keys(text: str) -> tuple[str, ...]:
    return tuple(key.strip() for key in text.split("+"))


def _share(word: str, text: str) -> float:
    number = text.removesuffix("%").strip()
    try:
        value = float(number)
    except ValueError as error:
        message = f"{word} takes a share such as 50%, not {shown(text)}."
        raise SettingError(message) from error
    share = value / _PERCENT if text.endswith("%") or value > 1.0 else value
    if not 0.0 <= share <= 1.0:
        message = f"{word} takes a share from 0 to 100 percent, not {shown(text)}."
        raise SettingError(message)
    return share


def _moment(text: str) -> datetime:
    try:
        return datetime.fromisoformat(text)
    except ValueError as error:
        message = f"the time {shown(text)} is none; write it as 2026-12-01T08:20."
        raise SettingError(message) from error


def _date(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError as error:
        message = f"The holiday {shown(text)} is no date; write it as 2026-12-24."
        raise SettingError(message) from error
