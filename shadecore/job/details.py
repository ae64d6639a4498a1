"""What a shop says of a job beyond the usual, and how that stands in a file."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from shadecore.errors import JobError
from shadecore.formats.toml_rules import ListOf, MapOf, Number, Text
from shadecore.formats.toml_table import Rule, Table
from shadecore.job.days import MOST_DAYS, DayWeather, check_days, day_rules, day_values
from shadecore.job.own_steps import StepChange
from shadecore.job.sides import piece_names
from shadecore.job.step_files import change_values, read_changes
from shadecore.job.substrates import substrates_of

DETAIL_TABLES: Final[tuple[str, ...]] = ("steps", "days", "substrates", "begun")
"""Names of the tables in a job's file that hold them."""
_MOST: Final = 500


@dataclass(frozen=True)
class Details:
    """What a shop says of a job beyond the usual.

    Attributes
    ----------
    substrates : tuple of (str, tuple of str)
        What panels are made of or covered with, by the panel's key, with its side
        where the two are not alike.
    changes : tuple of StepChange
        What is done otherwise; after what the substrates ask for.
    days : tuple of DayWeather
        Weather by day.
    begun : tuple of (str, float)
        Steps that are half done, by key, and how much of them, 0..1.

    Raises
    ------
    JobError
        If a panel or substrate is not known, a day is given twice or a share is out of
        range.
    """

    substrates: tuple[tuple[str, tuple[str, ...]], ...] = ()
    changes: tuple[StepChange, ...] = ()
    days: tuple[DayWeather, ...] = ()
    begun: tuple[tuple[str, float], ...] = ()

    def __post_init__(self) -> None:
        known = piece_names()
        for panel, keys in self.substrates:
            if panel not in known:
                message = f"There is no panel {panel!r}; take one of the job's panels."
                raise JobError(message)
            substrates_of(keys)
        if self.days != check_days(self.days):
            message = "The days of the job's weather are not in order; sort them."
            raise JobError(message)

    @property
    def substrate_keys(self) -> tuple[str, ...]:
        """Keys of all substrates, each once."""
        return tuple(dict.fromkeys(key for _, keys in self.substrates for key in keys))


_RULES: Final[dict[str, Rule]] = {
    "substrates": MapOf(ListOf(Text(most=40), most=20), most=_MOST),
    "begun": MapOf(Number(0.0, 1.0), most=_MOST),
}


def detail_values(details: Details) -> dict[str, Any]:
    """Details as plain values for a job's file; what is empty is left out.

    Parameters
    ----------
    details : Details
        The details.

    Returns
    -------
    dict of str to value
        Of ``DETAIL_TABLES``.
    """
    told: dict[str, Any] = {
        "steps": [change_values(each) for each in details.changes],
        "days": [day_values(each) for each in details.days],
        "substrates": {panel: list(keys) for panel, keys in details.substrates},
        "begun": dict(details.begun),
    }
    return {name: value for name, value in told.items() if value}


def read_details(top: Table) -> Details:
    """Details of a job's file.

    Parameters
    ----------
    top : Table
        The file; tables that are none of ``DETAIL_TABLES`` are not looked at.

    Returns
    -------
    Details

    Raises
    ------
    ShadecoreError
        If they cannot be read; it names the line and the key.
    """
    own = {name: top.values[name] for name in DETAIL_TABLES if name in top.values}
    table = Table(top.source, top.key, own)
    values: Mapping[str, Any] = table.read(_RULES, DETAIL_TABLES)
    changes = read_changes(table)
    days = tuple(_day(each) for each in table.tables("days", MOST_DAYS))
    try:
        return Details(
            tuple(values["substrates"].items()),
            changes,
            check_days(days),
            tuple(values["begun"].items()),
        )
    except JobError as error:
        reason = f"cannot be used: {str(error).removesuffix('.')}"
        table.refuse("substrates" if "panel" in reason else "days", reason)


def _day(table: Table) -> DayWeather:
    values = table.read(day_rules())
    return DayWeather(**values)
