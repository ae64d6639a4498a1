"""Sets of steps for kinds of job, of ``data/step-sets.toml``."""

from dataclasses import dataclass
from functools import cache
from typing import Final

from shadecore.datafiles import data_file
from shadecore.errors import JobError
from shadecore.formats.toml_rules import Text
from shadecore.formats.toml_table import Rule, read_table
from shadecore.job.own_steps import StepChange
from shadecore.job.step_files import STEPS, read_changes

_FILE: Final = "step-sets.toml"
_RULES: Final[dict[str, Rule]] = {"name": Text(), "what": Text(), "source": Text()}


@dataclass(frozen=True)
class StepSet:
    """What is done otherwise in a kind of job.

    Attributes
    ----------
    key, name : str
        Its name in the file, and what it is called.
    what : str
        What it is, in a sentence.
    source : str
        Where it is from.
    changes : tuple of StepChange
        Over the usual steps.
    """

    key: str
    name: str
    what: str
    source: str
    changes: tuple[StepChange, ...]


@cache
def step_sets() -> dict[str, StepSet]:
    """All of them by their key.

    Returns
    -------
    dict of str to StepSet

    Raises
    ------
    JobError
        If the file cannot be used.
    """
    found = {}
    for key, table in read_table(data_file(_FILE), JobError).each_table():
        values = table.read(_RULES, (STEPS,))
        found[key] = StepSet(key, **values, changes=read_changes(table))
    return found
