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
from shadecore.job.kinds import KINDS, PLACES
from shadecore.job.request import (
    AS_PICKED,
    DEFAULT_MIDCOATS,
    LOOKED_AT,
    MIDCOATS,
    MOST_PANELS,
    RANGES,
    JobRequest,
)
from shadecore.products.ranges import COATS
from shadecore.question.plain import BY_NAME, MEASURED_CARD, to_plain
from shadecore.question.question import Question
from shadecore.question.read_plain import from_plain

VERSION: Final = 1
_ASKED: Final = "pick"
"""Table of the file that holds the question."""
_SECOND: Final = "second"
"""Table of the second colour's question, as far as it differs from the first's."""
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
    "kind": Choice(KINDS, needed=False, default=str(_USUAL["kind"])),
    "place": Choice(PLACES, needed=False, default=str(_USUAL["place"])),
    "sealer": FreeText(),
    "old_finish": FreeText(),
    "surfacer": FreeText(),
    "coats": Whole(AS_PICKED, int(COATS.high), needed=False, default=AS_PICKED),
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
    "mixed": MapOf(Moment(), _MOST_STEPS),
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
    told = _values(job)
    told[_ASKED] = usual[_ASKED]
    brief = {name: each for name, each in told.items() if each != usual.get(name)}
    return tomli_w.dumps({"start": job.start, **brief})


def _values(job: JobRequest) -> dict[str, Any]:
    return {
        "version": VERSION,
        "start": job.start,
        **{name: getattr(job, name) for name in _USUAL},
        "panels": dict(job.panels),
        _ASKED: to_plain(job.question),
        **_second_values(job),
        "done": dict(job.done),
        "mixed": dict(job.mixed),
        "sprayed": list(job.sprayed),
        "breaks": [{"start": each.start, "end": each.end} for each in job.breaks],
        "looks": [{"coat": coat, "covered": covered} for coat, covered in job.looks],
        **detail_values(job.details),
    }


def _second_values(job: JobRequest) -> dict[str, Any]:
    """What the second colour's question says otherwise than the first's."""
    if job.second is None:
        return {}
    same = to_plain(_without_paint(job.question))
    told = to_plain(job.second)
    return {_SECOND: {name: each for name, each in told.items() if each != same[name]}}


def _without_paint(question: Question) -> Question:
    """A question without what it says of its own paint: the rest holds for both."""
    usual = Question()
    return replace(
        question,
        colour=usual.colour,
        kind=usual.kind,
        angles=None,
        photo=None,
        card=None,
        seen=(),
        loading=usual.loading,
        areas=(),
    )


def parse_job(text: str, name: str, question: Question | None = None) -> JobRequest:
    """Read a job.

    Parameters
    ----------
    text : str
        TOML as :func:`write_job` writes it; what is left out takes its default.
    name : str
        What to call the file in a message.
    question : Question, optional
        In the place of the file's own.

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
    also = (_ASKED, _SECOND, "breaks", "looks", *DETAIL_TABLES)
    known = top.read(_RULES, also=also)
    del known["version"]
    asked = _question(top, _ASKED, Question()) if question is None else question
    breaks = tuple(Break(**each.read(_BREAK)) for each in top.tables("breaks"))
    looks = [each.read(_LOOK) for each in top.tables("looks")]
    return JobRequest(
        **{
            **known,
            "panels": tuple(known["panels"].items()),
            "done": tuple(known["done"].items()),
            "mixed": tuple(known["mixed"].items()),
        },
        breaks=breaks,
        looks=tuple((each["coat"], each["covered"]) for each in looks),
        question=asked,
        second=_second(top, asked),
        details=read_details(top),
    )


def _second(top: Table, question: Question) -> Question | None:
    if _SECOND not in top.values:
        return None
    return _question(top, _SECOND, _without_paint(question))


def _question(top: Table, place: str, usual: Question) -> Question:
    table = top.table(place)
    if table is None:
        return usual
    values = {
        name: value
        for name, value in table.read(_QUESTION).items()
        if name in table.values
    }
    read = from_plain({**to_plain(usual), **values})
    if read.problems:
        top.refuse(place, f"cannot be used: {read.problems[0].rstrip('.')}")
    return read.question
