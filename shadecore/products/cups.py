"""Viscosity from the seconds of a flow cup, by the cup's standard, and back."""

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shadecore.datafiles import data_file
from shadecore.errors import JobError
from shadecore.formats.echo import shown
from shadecore.formats.table import Row, read_rows, read_text
from shadecore.products.ranges import CUP_S

_CUPS: Final = "viscosity-cups.csv"
_TEXTS: Final = ("cup", "name", "standard", "status")
_NUMBERS: Final = ("slope", "offset_s", "inverse", "from_s", "to_s", "temperature_c")
_SLACK: Final = 1e-9
"""A rounding error at the ends is no fault of who converts there and back."""


@dataclass(frozen=True)
class FlowCup:
    """A flow cup.

    Attributes
    ----------
    cup, name : str
        Its key in ``data/viscosity-cups.csv``, and what it is called.
    standard : str
        That gives its equation.
    status : str
        How well the equation is known, as the table's heading explains.
    slope, offset_s, inverse : float
        Viscosity = slope * (seconds - offset_s) - inverse / seconds. [mm2/s]
    from_s, to_s : float
        Seconds between which the equation holds.
    temperature_c : float
        Of the paint. [degrees C]
    """

    cup: str
    name: str
    standard: str
    status: str
    slope: float
    offset_s: float
    inverse: float
    from_s: float
    to_s: float
    temperature_c: float


@dataclass(frozen=True)
class CupReading:
    """What a paint takes in one cup.

    Attributes
    ----------
    cup : FlowCup
        The cup.
    seconds : float
        That it takes. [s]
    """

    cup: FlowCup
    seconds: float

    @property
    def inside(self) -> bool:
        """Whether the cup measures it."""
        slack = _SLACK * self.cup.to_s
        return self.cup.from_s - slack <= self.seconds <= self.cup.to_s + slack


@lru_cache(maxsize=1)
def flow_cups() -> dict[str, FlowCup]:
    """All cups by their key.

    Returns
    -------
    dict of str to FlowCup

    Raises
    ------
    TableError
        If the table cannot be used.
    """
    rows = read_rows(read_text(data_file(_CUPS)), _CUPS, (*_TEXTS, *_NUMBERS))
    cups = [_cup(row) for row in rows]
    return {each.cup: each for each in cups}


def _cup(row: Row) -> FlowCup:
    cup, name, standard, status = (row.text(column) for column in _TEXTS)
    return FlowCup(
        cup, name, standard, status, *(row.number(each) for each in _NUMBERS)
    )


def viscosity_mm2_s(cup: FlowCup, seconds: ArrayLike) -> NDArray[np.float64]:
    """Kinematic viscosity from the seconds of a cup.

    Parameters
    ----------
    cup : FlowCup
        The cup.
    seconds : array
        Between the cup's ``from_s`` and ``to_s``. [s]

    Returns
    -------
    array, same shape
        [mm2/s]

    Raises
    ------
    JobError
        If a time is outside what the cup measures.

    Examples
    --------
    >>> viscosity_mm2_s(flow_cups()["iso_4"], 100.0)
    array(135.)
    """
    times = np.asarray(seconds, dtype=np.float64)
    _check_times(cup, times)
    return np.asarray(cup.slope * (times - cup.offset_s) - cup.inverse / times)


def cup_seconds(cup: FlowCup, viscosity: ArrayLike) -> NDArray[np.float64]:
    """Seconds of a cup from the kinematic viscosity.

    Parameters
    ----------
    cup : FlowCup
        The cup.
    viscosity : array
        [mm2/s]

    Returns
    -------
    array, same shape
        [s]

    Raises
    ------
    JobError
        If it is outside what the cup measures.
    """
    times = np.asarray(_seconds(cup, np.asarray(viscosity, dtype=np.float64)))
    _check_times(cup, times)
    return times


def in_every_cup(seconds: float, by: FlowCup) -> tuple[float, tuple[CupReading, ...]]:
    """What a paint takes in each cup, also where one of them does not measure it.

    A painter's seconds are often fewer than a cup measures by its standard. Its
    equation is stretched then, and :attr:`CupReading.inside` says so.

    Parameters
    ----------
    seconds : float
        In the first cup, within ``CUP_S``. [s]
    by : FlowCup
        The first cup.

    Returns
    -------
    viscosity : float
        [mm2/s]
    readings : tuple of CupReading
        The first cup, then the others.

    Raises
    ------
    JobError
        If so few seconds say nothing.
    """
    CUP_S.check(seconds, "The seconds of the cup")
    viscosity = by.slope * (seconds - by.offset_s) - by.inverse / seconds
    if viscosity <= 0.0:
        message = (
            f"{by.name} ({by.standard}) measures from {by.from_s:g} to {by.to_s:g} s; "
            f"{seconds:g} s says nothing of the paint. Take a cup with a finer hole."
        )
        raise JobError(message)
    others = (each for each in flow_cups().values() if each != by)
    return viscosity, (
        CupReading(by, seconds),
        *(CupReading(each, float(_seconds(each, viscosity))) for each in others),
    )


def in_another_standard(
    cup: FlowCup, low_s: float, high_s: float
) -> tuple[CupReading, CupReading] | None:
    """The same two times in a cup of another standard.

    Parameters
    ----------
    cup : FlowCup
        The cup.
    low_s, high_s : float
        Both times in it. [s]

    Returns
    -------
    tuple of CupReading, or None
        In the first cup, ISO 2431 and ASTM D1200 before others, that measures both;
        None where no cup does, or the times are outside of what the first measures.
    """
    if not all(CupReading(cup, each).inside for each in (low_s, high_s)):
        return None
    lows, highs = (in_every_cup(each, cup)[1][1:] for each in (low_s, high_s))
    both = (
        pair
        for pair in zip(lows, highs, strict=True)
        if pair[0].cup.standard != cup.standard and pair[0].inside and pair[1].inside
    )
    return next(both, None)


def find_cup(text: str) -> FlowCup:
    """A cup by its name, however it is written.

    Parameters
    ----------
    text : str
        Such as ``iso 4``, ``ISO 4 mm``, ``ford4``, ``Zahn No. 2``.

    Returns
    -------
    FlowCup

    Raises
    ------
    JobError
        If there is no such cup.

    Examples
    --------
    >>> find_cup("Ford No. 4").cup
    'ford_4'
    """
    found = re.match(r"\s*([a-z]+)\D*(\d+)", text.lower())
    key = f"{found[1]}_{found[2]}" if found else ""
    if key not in flow_cups():
        message = (
            f"There is no cup {shown(text)} here; take one of {', '.join(flow_cups())}."
        )
        raise JobError(message)
    return flow_cups()[key]


def _seconds(
    cup: FlowCup, viscosity: float | NDArray[np.float64]
) -> NDArray[np.float64]:
    # slope * t^2 - (viscosity + slope * offset) * t - inverse = 0, its larger root.
    middle = (viscosity + cup.slope * cup.offset_s) / 2.0
    root = np.sqrt(middle**2 + cup.slope * cup.inverse)
    return np.asarray((middle + root) / cup.slope)


def _check_times(cup: FlowCup, times: NDArray[np.float64]) -> None:
    slack = _SLACK * cup.to_s
    inside = (times >= cup.from_s - slack) & (times <= cup.to_s + slack)
    if not np.all(inside):
        worst = float(times[~inside].flat[0])
        message = (
            f"{cup.name} ({cup.standard}) measures from {cup.from_s:g} to "
            f"{cup.to_s:g} s, not {worst:.3g} s; take another cup."
        )
        raise JobError(message)
