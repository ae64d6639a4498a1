"""A job as a TOML file, which comes back as it was."""

import tomllib
from dataclasses import asdict, fields, replace
from datetime import datetime
from typing import Any, Final

import tomli_w

from shadecore.errors import JobError
from shadecore.job.request import Break, JobRequest
from shadecore.question.link import PickState, allowed

VERSION: Final = 1
_PLAIN: Final = {
    field.name: type(field.default)
    for field in fields(JobRequest)
    if isinstance(field.default, str | bool | float)
}


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
    """A job as TOML without its pick and without what is as usual.

    Parameters
    ----------
    job : JobRequest
        The job.

    Returns
    -------
    str
        What :func:`parse_job` reads back but for the pick.
    """
    usual, told = (
        _values(JobRequest(job.start)),
        _values(replace(job, pick=PickState())),
    )
    brief = {name: each for name, each in told.items() if each != usual[name]}
    return tomli_w.dumps({"start": job.start, **brief})


def _values(job: JobRequest) -> dict[str, Any]:
    return {
        "version": VERSION,
        "start": job.start,
        **{name: getattr(job, name) for name in _PLAIN},
        "panels": dict(job.panels),
        "pick": asdict(job.pick),
        "done": dict(job.done),
        "sprayed": list(job.sprayed),
        "breaks": [{"start": each.start, "end": each.end} for each in job.breaks],
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
    try:
        found = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        message = f"{name} is not a job file: {error}."
        raise JobError(message) from error
    version = found.pop("version", VERSION)
    if version != VERSION:
        message = (
            f"{name} is a job file of version {version}; this tool reads version "
            f"{VERSION}. Open it with the tool that wrote it."
        )
        raise JobError(message)
    if not isinstance(found.get("start"), datetime):
        message = f"{name} has no start; write it like start = 2026-12-01T08:00:00."
        raise JobError(message)
    known = {"start": found.pop("start")}
    for key, value in found.items():
        known[key] = _field(key, value, name)
    return JobRequest(**known)


def _field(key: str, value: Any, name: str) -> Any:  # noqa: ANN401 - any TOML value
    """One field of the job, checked to be of its kind."""
    if key in _PLAIN:
        return _plain(key, value, _PLAIN[key], name)
    if key == "panels" and _all_of(value, int):
        return tuple(value.items())
    if key == "done" and _all_of(value, datetime):
        return tuple(value.items())
    if key == "sprayed" and isinstance(value, list):
        return tuple(_moment(each, name) for each in value)
    if key == "breaks" and isinstance(value, list):
        return tuple(_break(each, name) for each in value)
    if key == "pick" and isinstance(value, dict):
        return _pick(value, name)
    message = f"{name}: {key!r} is not part of a job file, or not of its kind."
    raise JobError(message)


def _all_of(value: object, kind: type) -> bool:
    return isinstance(value, dict) and all(
        isinstance(each, kind) and not isinstance(each, bool) for each in value.values()
    )


def _moment(value: Any, name: str) -> datetime:  # noqa: ANN401 - any TOML value
    if not isinstance(value, datetime):
        message = f"{name}: a coat sprayed needs its date and time, not {value!r}."
        raise JobError(message)
    return value


def _break(value: Any, name: str) -> Break:  # noqa: ANN401 - any TOML value
    if not _all_of(value, datetime) or set(value) != {"start", "end"}:
        message = f"{name}: a break needs a start and an end."
        raise JobError(message)
    return Break(value["start"], value["end"])


def _pick(values: dict[str, Any], name: str) -> PickState:
    kinds = {field.name: type(field.default) for field in fields(PickState)}
    known = {}
    for key, value in values.items():
        if key not in kinds:
            message = f"{name}: 'pick.{key}' is not part of a job file."
            raise JobError(message)
        known[key] = _plain(f"pick.{key}", value, kinds[key], name)
        if not allowed(key, known[key]):
            message = f"{name}: 'pick.{key}' is {value!r}, which is outside its range."
            raise JobError(message)
    return PickState(**known)


def _plain(key: str, value: Any, kind: type, name: str) -> Any:  # noqa: ANN401 - any TOML value
    if kind is float and isinstance(value, int) and not isinstance(value, bool):
        return float(value)
    if type(value) is not kind:
        message = f"{name}: {key!r} is {value!r}, which is not a {kind.__name__}."
        raise JobError(message)
    return value
