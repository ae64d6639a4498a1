"""Weather over a job, day by day: how films dry then, and what may not be sprayed."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from itertools import pairwise
from typing import Any, Final

from shadecore.errors import JobError, TableError
from shadecore.formats.bad_rows import at_row
from shadecore.formats.echo import shown, tail
from shadecore.formats.table import Row, read_rows
from shadecore.formats.table_writer import write_table
from shadecore.formats.text_file import TableText
from shadecore.formats.toml_rules import Day
from shadecore.formats.toml_table import Rule
from shadecore.job.climate import Spell, drying_factor
from shadecore.job.schedule import Timed
from shadecore.job.shop_hours import USUAL_HOURS, ShopHours
from shadecore.job.weather import Weather, WeatherAnswer, check_weather, pick_grade
from shadecore.products.product import Product, ProductSheet, SpeedGrade
from shadecore.products.ranges import AIR_C, HUMIDITY_PERCENT, PANEL_C

MOST_DAYS: Final = 400
"""Of one job; this tool's own limit."""
_COLUMNS: Final = ("date", "air_c", "panel_c", "humidity_percent", "night_c")
_NEEDED: Final = ("date", "air_c", "humidity_percent")
_DAY: Final = timedelta(days=1)
_MIDNIGHT: Final = time(0)


@dataclass(frozen=True)
class DayWeather:
    """Weather in the shop on one day, as it is or as it is forecast.

    Attributes
    ----------
    day : date
        The day.
    air_c, panel_c : float
        Temperatures of air and panel while somebody works. [degrees C]
    humidity_percent : float
        Relative humidity of the air, 1..100.
    night_c : float or None
        Temperature of the shop in the night after it; None where it is kept as warm as
        by day. [degrees C]

    Raises
    ------
    JobError
        If one of them is outside its range.
    """

    day: date
    air_c: float
    panel_c: float
    humidity_percent: float
    night_c: float | None = None

    def __post_init__(self) -> None:
        if not date.min < self.day < date.max:
            message = f"There is no day beside {self.day}; correct the date."
            raise JobError(message)
        Weather(self.air_c, self.panel_c, self.humidity_percent / 100.0)
        if self.night_c is not None:
            AIR_C.check(self.night_c, "The temperature of the night")

    @property
    def weather(self) -> Weather:
        """The same for one moment of the day."""
        return Weather(self.air_c, self.panel_c, self.humidity_percent / 100.0)


@dataclass(frozen=True)
class DayGrade:
    """The speed grade that a product takes on a day; its ratio stays the same.

    Attributes
    ----------
    product : Product
        What is sprayed.
    part : str
        ``reducer`` or ``hardener``.
    name, usual : str
        Grade for the day, and for the temperature that the job as a whole was told;
        empty where none fits.
    """

    product: Product
    part: str
    name: str
    usual: str


@dataclass(frozen=True)
class DayAnswer:
    """What the weather of one day allows.

    Attributes
    ----------
    weather : DayWeather
        The day.
    steps : tuple of str
        Keys of the steps that are to be sprayed on it.
    answer : WeatherAnswer
        Why not to, and what to mind.
    grades : tuple of DayGrade
        Of what is sprayed on it.
    """

    weather: DayWeather
    steps: tuple[str, ...]
    answer: WeatherAnswer
    grades: tuple[DayGrade, ...] = ()

    @property
    def changed(self) -> tuple[DayGrade, ...]:
        """Grades that are other ones than the job as a whole takes."""
        return tuple(each for each in self.grades if each.name != each.usual)

    @property
    def barred(self) -> bool:
        """Whether something is to be sprayed that the weather does not allow."""
        return bool(self.steps and self.answer.stops)


def parse_days(text: TableText, name: str) -> tuple[DayWeather, ...]:
    """Read a forecast from CSV text.

    Parameters
    ----------
    text : str or TextFile
        Columns ``date`` (2026-12-01), ``air_c`` and ``humidity_percent``; optionally
        ``panel_c``, as the air unless given, and ``night_c``.
    name : str
        What to call the file in a message.

    Returns
    -------
    tuple of DayWeather
        In order.

    Raises
    ------
    TableError
        If the file is not such a table.
    JobError
        If a row cannot be used, a day is there twice, or there are too many.
    """
    days: list[DayWeather] = []
    for row in read_rows(text, name, _NEEDED):
        with at_row(row, name, JobError):
            days.append(_day(row))
        if len(days) > MOST_DAYS:
            message = f"{tail(name)} has more than {MOST_DAYS} days; keep the job's."
            raise JobError(message)
    return check_days(days)


def check_days(days: Iterable[DayWeather]) -> tuple[DayWeather, ...]:
    """Days in order, each once.

    Parameters
    ----------
    days : iterable of DayWeather
        In any order.

    Returns
    -------
    tuple of DayWeather

    Raises
    ------
    JobError
        If a day is there twice.
    """
    ordered = tuple(sorted(days, key=lambda each: each.day))
    for before, after in pairwise(ordered):
        if before.day == after.day:
            message = f"The weather of {after.day} is given twice; keep one."
            raise JobError(message)
    return ordered


def write_days(days: Iterable[DayWeather]) -> str:
    """A forecast as CSV text.

    Parameters
    ----------
    days : iterable of DayWeather
        The days.

    Returns
    -------
    str
        What :func:`parse_days` reads back without loss.
    """
    rows = (
        [
            each.day.isoformat(),
            each.air_c,
            each.panel_c,
            each.humidity_percent,
            each.night_c,
        ]
        for each in days
    )
    return write_table(_COLUMNS, rows)


def day_rules() -> dict[str, Rule]:
    """What a table of a TOML file may say of a day.

    Returns
    -------
    dict of str to Rule
        Whose values make a :class:`DayWeather`.
    """
    return {
        "day": Day(),
        "air_c": AIR_C.rule(),
        "panel_c": PANEL_C.rule(),
        "humidity_percent": HUMIDITY_PERCENT.rule(),
        "night_c": AIR_C.rule(needed=False),
    }


def day_values(each: DayWeather) -> dict[str, Any]:
    """A day as plain values for a TOML file, which :func:`day_rules` reads back.

    Parameters
    ----------
    each : DayWeather
        The day.

    Returns
    -------
    dict of str to value
    """
    return {name: value for name, value in vars(each).items() if value is not None}


def spells_of(
    days: Sequence[DayWeather], sheet: ProductSheet, hours: ShopHours | None
) -> tuple[Spell, ...]:
    """How films dry by days and nights.

    Parameters
    ----------
    days : sequence of DayWeather
        In order, each once.
    sheet : ProductSheet
        Whose times are stretched; in a night colder than it may be sprayed in, films do
        not dry at all.
    hours : ShopHours or None
        When the shop is open; None where nobody said: it then always is, but for
        :data:`shadecore.job.shop_hours.USUAL_HOURS` where a night is told.

    Returns
    -------
    tuple of Spell
        In order.
    """
    if hours is None and any(each.night_c is not None for each in days):
        hours = USUAL_HOURS
    opens = hours.opens if hours else _MIDNIGHT
    found: list[Spell] = []
    for each in days:
        morning = datetime.combine(each.day, opens)
        next_morning = morning + _DAY
        evening = (
            datetime.combine(each.day, hours.closes)
            if hours and each.night_c is not None
            else next_morning
        )
        found.append(Spell(morning, evening, drying_factor(sheet, each.panel_c)))
        if each.night_c is not None and evening < next_morning:
            cold = each.night_c < sheet.coldest_c
            factor = None if cold else drying_factor(sheet, each.night_c)
            found.append(Spell(evening, next_morning, factor))
    return tuple(found)


def answer_days(
    timeline: Sequence[Timed],
    days: Sequence[DayWeather],
    sheet: ProductSheet,
    usual_c: float | None = None,
) -> tuple[DayAnswer, ...]:
    """What the weather of each day allows of what is planned for it.

    Parameters
    ----------
    timeline : sequence of Timed
        The job's steps and their times.
    days : sequence of DayWeather
        The days.
    sheet : ProductSheet
        The products and the weather they take.
    usual_c : float, optional
        Temperature of the air that the job as a whole was told; the sheet's reference
        unless given. [degrees C]

    Returns
    -------
    tuple of DayAnswer
        One to a day, also where nothing is sprayed on it. Grades of reducers and
        hardeners are looked at for the products of that day.
    """
    air_c = sheet.reference_c if usual_c is None else usual_c
    return tuple(_answer(each, timeline, sheet, air_c) for each in days)


def sprayed_on(timed: Timed, day: date) -> bool:
    """Whether a step is to be sprayed on a day.

    Parameters
    ----------
    timed : Timed
        The step and its time.
    day : date
        The day.

    Returns
    -------
    bool
    """
    lies = timed.start.date() <= day <= timed.end.date()
    return bool(timed.step.coats) and not timed.done and lies


def _answer(
    weather: DayWeather,
    timeline: Sequence[Timed],
    sheet: ProductSheet,
    usual_c: float,
) -> DayAnswer:
    sprayed = [each.step for each in timeline if sprayed_on(each, weather.day)]
    used = {step.product for step in sprayed}
    products = tuple(each for each in sheet.products if each.key in used)
    answer = check_weather(weather.weather, replace(sheet, products=products))
    grades = tuple(
        DayGrade(product, part, _name(found, weather.air_c), _name(found, usual_c))
        for product in products
        for part, found in (
            ("reducer", product.reducers),
            ("hardener", product.hardeners),
        )
        if found
    )
    return DayAnswer(weather, tuple(step.key for step in sprayed), answer, grades)


def _name(grades: tuple[SpeedGrade, ...], air_c: float) -> str:
    grade = pick_grade(grades, air_c)
    return "" if grade is None else grade.name


def _check_columns(row: Row) -> None:
    """Refuse a column that is meant but misnamed; others, such as wind, may be there.

    A forecast whose nights were passed over would let clear dry through frost.
    """
    for column in row.cells:
        stem = column.split("_")[0].split(" ")[0]
        meant = next((each for each in _COLUMNS if each.split("_")[0] == stem), None)
        if meant is not None and column not in _COLUMNS:
            message = f"the column {shown(column)} is not known; call it {meant}."
            raise TableError(message)


def _day(row: Row) -> DayWeather:
    _check_columns(row)
    given = row.text("date")
    try:
        day = date.fromisoformat(given)
    except ValueError as error:
        message = f"the date {shown(given)} is none; write it like 2026-12-01."
        raise TableError(message) from error
    air_c = row.number("air_c")
    return DayWeather(
        day,
        air_c,
        row.number_or("panel_c", air_c),
        row.number("humidity_percent"),
        row.number("night_c") if row.filled("night_c") else None,
    )
