"""A job as a TOML file, which comes back as it was."""

from dataclasses import fields, replace
from typing import Any, Final

import tomli_w

from shadecore.errors import JobError
from shadecore.formats.toml_rules import (
    Choice,
    Flag,
    FreeText,
    ListOf,
    MapOf,
    Moment,
    Whole,
)
from shadecore.formats.toml_table import Rule, Table, parse_table
from shadecore.job.breaks import Break
from shadecore.job.climate import CURES
from shadecore.job.details import DETAIL_TABLES, detail_values, read_details
from shadecore.job.request import (
    DEFAULT_MIDCOATS,
    LOOKED_AT,
    MIDCOATS,
    MOST_PANELS,
    RANGES,
    JobRequest,
)
from shadecore.question.plain import BY_NAME, MEASURED_CARD, to_plain
from shadecore.question.question import Question
from shadecore.question.read_plain import from_plain

VERSION: Final = 1
_ASKED: Final = "pick"
"""Table of the file that holds the question."""
_USUAL: Final = {
    field.name: field.default
    for field in fields(JobRequest)
    if isinstance(field.default, str | bool | int | float)
}
_MOST_STEPS: Final = 1000
_RULES: Final[dict[str, Rule]] = {
    "version": Whole(1, 10**6, needed=False, default=VERSION),
    "start": Moment(),
    "name": FreeText(default=str(_USUAL["name"])),
    "cure": Choice(CURES, needed=False, default=str(_USUAL["cure"])),
    "uid": FreeText(),
    **{
        name: ends.rule(needed=False, default=float(_USUAL[name]))
        for name, ends in RANGES.items()
    },
    "midcoats": Whole(
        int(MIDCOATS.low), int(MIDCOATS.high), needed=False, default=DEFAULT_MIDCOATS
    ),
    **{name: Flag(needed=False) for name, usual in _USUAL.items() if usual is False},
    "panels": MapOf(Whole(0, MOST_PANELS)),
    "done": MapOf(Moment(), _MOST_STEPS),
    "sprayed": ListOf(Moment()),
}
_BREAK: Final[dict[str, Rule]] = {"start": Moment(), "end": Moment()}
_LOOK: Final[dict[str, Rule]] = {
    "coat": Whole(int(LOOKED_AT.low), int(LOOKED_AT.high)),
    "covered": Flag(),
}
_QUESTION: Final[dict[str, Rule]] = {**BY_NAME, MEASURED_CARD: FreeText()}


def write_job(job: JobRequest) -> str:
    """A job as TOML.

    Parameters
    ----------
    job : JobRequest
        The job.

    Returns
    -------
    str
        What :func:`parse_job` reads back without loss.
    """
    return tomli_w.dumps(_values(job))


def write_brief_job(job: JobRequest) -> str:
    """A job as TOML without its question and without what is as usual.

    Parameters
    ----------
    job : JobRequest
        The job.

    Returns
    -------
    str
        What :func:`parse_job` reads back but for the question.
    """
    usual = _values(JobRequest(job.start))
    told = _values(replace(job, question=Question()))
    brief = {name: each for name, each in told.items() if each != usual.get(name)}
    return tomli_w.dumps({"start": job.start, **brief})


def _values(job: JobRequest) -> dict[str, Any]:
    return {
        "version": VERSION,
        "start": job.start,
        **{name: getattr(job, name) for name in _USUAL},
        "panels": dict(job.panels),
        _ASKED: to_plain(job.question),
        "done": dict(job.done),
        "sprayed": list(job.sprayed),
        "breaks": [{"start": each.start, "end": each.end} for each in job.breaks],
        "looks": [{"coat": coat, "covered": covered} for coat, covered in job.looks],
        **detail_values(job.details),
    }


def parse_job(text: str, name: str) -> JobRequest:
    """Read a job.

    Parameters
    ----------
    text : str
        TOML as :func:`write_job` writes it; what is left out takes its default.
    name : str
        What to call the file in a message.

    Returns
    -------
    JobRequest

    Raises
    ------
    JobError
        If it cannot be read, or something in it is not known or not of its kind.
    """
    top = parse_table(text, name, JobError)
    version = top.values.get("version", VERSION)
    if version != VERSION:
        top.refuse(
            "version",
            f"is not {VERSION}, which this tool reads; open the file with the tool "
            "that wrote it",
        )
    known = top.read(_RULES, also=(_ASKED, "breaks", "looks", *DETAIL_TABLES))
    del known["version"]
    breaks = tuple(Break(**each.read(_BREAK)) for each in top.tables("breaks"))
    looks = [each.read(_LOOK) for each in top.tables("looks")]
    return JobRequest(
        **{
            **known,
            "panels": tuple(known["panels"].items()),
            "done": tuple(known["done"].items()),
        },
        breaks=breaks,
        looks=tuple((each["coat"], each["covered"]) for each in looks),
        question=_question(top),
        details=read_details(top),
    )


def _question(top: Table) -> Question:
    table = top.table(_ASKED)
    if table is None:
        return Question()
    values = {
        name: value
        for name, value in table.read(_QUESTION).items()
        if name in table.values
    }
    read = from_plain(values)
    if read.problems:
        top.refuse(_ASKED, f"cannot be used: {read.problems[0].rstrip('.')}")
    return read.question
