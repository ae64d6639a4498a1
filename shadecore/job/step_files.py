"""A shop's own steps in a file: a set to be used again, or those of a job."""

from collections.abc import Iterable
from dataclasses import fields
from typing import Any, Final

import tomli_w

from shadecore.errors import JobError
from shadecore.formats.toml_lists import Rising
from shadecore.formats.toml_rules import Flag, FreeText, ListOf, OrNone, Text, Whole
from shadecore.formats.toml_table import Rule, Table, parse_table
from shadecore.job.own_steps import CHANGE_TEXTS, MOST_STEPS, MOST_TITLE, StepChange
from shadecore.job.usual_steps import LONGEST_KEY
from shadecore.products.grits import FINEST_GRIT
from shadecore.products.ranges import COATS, WAIT_MIN, WITHIN_H, WORK_MIN

_MOST_PANELS: Final = 100
"""Kinds of panel that a step names; more than there are."""
_RULES: Final[dict[str, Rule]] = {
    "key": Text(most=LONGEST_KEY),
    "drop": Flag(needed=False),
    **{name: OrNone(FreeText(most=most)) for name, most in CHANGE_TEXTS.items()},
    "work_min": WORK_MIN.rule(needed=False),
    "wait_min": WAIT_MIN.rule(needed=False),
    "within_h": WITHIN_H.rule(needed=False),
    "grits": OrNone(Rising(Whole(1, FINEST_GRIT), empty=True)),
    "coats": OrNone(Whole(int(COATS.low), int(COATS.high))),
    "panels": OrNone(ListOf(Text(most=LONGEST_KEY), most=_MOST_PANELS)),
}
_SET: Final[dict[str, Rule]] = {"name": Text(most=MOST_TITLE)}
STEPS: Final = "steps"
"""Name of the list of changes in a file."""


def write_steps(name: str, changes: Iterable[StepChange]) -> str:
    """A set of changes as TOML, to be used again.

    Parameters
    ----------
    name : str
        What the set is called.
    changes : iterable of StepChange
        The changes.

    Returns
    -------
    str
        What :func:`parse_steps` reads back without loss.
    """
    return tomli_w.dumps({"name": name, STEPS: [change_values(c) for c in changes]})


def parse_steps(text: str, name: str) -> tuple[str, tuple[StepChange, ...]]:
    """Read a set of changes.

    Parameters
    ----------
    text : str
        TOML as :func:`write_steps` writes it.
    name : str
        What to call the file in a message.

    Returns
    -------
    tuple of str and tuple of StepChange
        What the set is called, and the changes.

    Raises
    ------
    JobError
        If it cannot be read.
    """
    top = parse_table(text, name, JobError)
    title = top.read(_SET, (STEPS,))["name"]
    return title, read_changes(top)


def read_changes(top: Table) -> tuple[StepChange, ...]:
    """Changes under ``[[steps]]`` of a file, such as a job's.

    Parameters
    ----------
    top : Table
        The file.

    Returns
    -------
    tuple of StepChange
        None where there is no such list.

    Raises
    ------
    ShadecoreError
        If one cannot be read.
    """
    return tuple(_change(table) for table in top.tables(STEPS, MOST_STEPS))


def _change(table: Table) -> StepChange:
    values = table.read(_RULES)
    try:
        return StepChange(**values)
    except JobError as error:
        table.refuse("key", f"cannot be used: {str(error).removesuffix('.')}")


def change_values(change: StepChange) -> dict[str, Any]:
    """A change as plain values for a file, without what stays as it is.

    Parameters
    ----------
    change : StepChange
        The change.

    Returns
    -------
    dict of str to value
    """
    told = {field.name: getattr(change, field.name) for field in fields(change)}
    return {
        name: list(value) if isinstance(value, tuple) else value
        for name, value in told.items()
        if value is not None and (name != "drop" or value)
    }
