"""Dew point against tables and another package, and what the weather stops."""

from dataclasses import replace

import psychrolib
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from shadecore.errors import JobError
from shadecore.job.weather import (
    MARGIN_K,
    MARGIN_NOTE,
    Weather,
    check_weather,
    dew_point_c,
    pick_grade,
)
from shadecore.products.product import Product, ProductSheet, SpeedGrade, Windows
from shadecore.telling.weather_words import advice_words, stops_words
from shadecore.units import UNITS, Units

psychrolib.SetUnitSystem(psychrolib.SI)

METRIC = UNITS["metric"]

GRADES = (
    SpeedGrade("fast", 10.0, 18.0),
    SpeedGrade("medium", 16.0, 26.0),
    SpeedGrade("slow", 24.0, 35.0),
)
CLEAR = Product(
    key="clear",
    kind="clear_coat",
    name="Clear",
    coats=2,
    dry_film_um=50.0,
    components=(),
    gun=None,
    windows=Windows(10.0, 0.0, None, None, None, None, None, "scuff"),
    reducers=GRADES,
    hardeners=(),
    hazards=(),
    voc_categories={},
)
SHEET = ProductSheet(
    name="Example",
    invented=True,
    currency="EUR",
    reference_c=20.0,
    halving_k=10.0,
    coldest_c=12.0,
    warmest_c=38.0,
    most_humidity=0.8,
    products=(CLEAR,),
)
AIR_C = st.floats(-40.0, 60.0)
HUMIDITY = st.floats(0.01, 1.0)


@pytest.mark.parametrize(
    ("air_c", "humidity", "psychrolib_c", "metpy_c", "alduchov_c"),
    [
        (10.0, 0.60, 2.600, 2.588, 2.588),
        (15.0, 0.70, 9.579, 9.569, 9.572),
        (20.0, 0.50, 9.272, 9.256, 9.261),
        (20.0, 0.60, 12.007, 11.993, 12.000),
        (20.0, 0.85, 17.403, 17.388, 17.401),
        (25.0, 0.50, 13.864, 13.843, 13.858),
        (25.0, 0.60, 16.701, 16.680, 16.698),
        (25.0, 0.80, 21.309, 21.286, 21.309),
        (30.0, 0.50, 18.447, 18.417, 18.447),
        (30.0, 0.70, 23.928, 23.894, 23.930),
        (35.0, 0.60, 26.068, 26.021, 26.077),
        (40.0, 0.50, 27.585, 27.524, 27.604),
    ],
)
def test_dew_point_agrees_with_other_formulas(
    air_c: float,
    humidity: float,
    psychrolib_c: float,
    metpy_c: float,
    alduchov_c: float,
) -> None:
    """Computed independently: psychrolib 2.5.0, metpy 1.7.1, Alduchov and Eskridge.

    The last with their constants of 1996, 17.625 and 243.04.
    """
    found = dew_point_c(air_c, humidity)
    assert found == pytest.approx(psychrolib_c, abs=0.05)
    assert found == pytest.approx(metpy_c, abs=0.1)
    assert found == pytest.approx(alduchov_c, abs=0.02)


@given(st.floats(0.0, 45.0), st.floats(0.1, 1.0))
def test_dew_point_agrees_with_psychrolib(air_c: float, humidity: float) -> None:
    """From the package psychrolib; below 0 degrees C it gives the frost point."""
    expected = psychrolib.GetTDewPointFromRelHum(air_c, humidity)
    assume(expected > 0.0)
    assert dew_point_c(air_c, humidity) == pytest.approx(expected, abs=0.05)


@pytest.mark.parametrize(
    ("air_c", "humidity", "expected"), [(5.0, 0.5, -4.577), (10.0, 0.3, -6.811)]
)
def test_below_freezing_it_stays_a_dew_point(
    air_c: float, humidity: float, expected: float
) -> None:
    """Computed independently from the WMO's Magnus constants.

    The package metpy 1.7.1 gives -4.572 and -6.796.
    """
    assert dew_point_c(air_c, humidity) == pytest.approx(expected, abs=0.001)


@given(AIR_C, HUMIDITY)
def test_the_dew_point_never_exceeds_the_air(air_c: float, humidity: float) -> None:
    assert dew_point_c(air_c, humidity) <= air_c + 1e-9


@given(AIR_C)
def test_saturated_air_is_at_its_dew_point(air_c: float) -> None:
    assert dew_point_c(air_c, 1.0) == pytest.approx(air_c, abs=1e-9)


@given(AIR_C, HUMIDITY, HUMIDITY)
def test_damper_air_has_a_higher_dew_point(
    air_c: float, one: float, other: float
) -> None:
    low, high = sorted((one, other))
    assert dew_point_c(air_c, low) <= dew_point_c(air_c, high)


def stops(weather: Weather, units: Units = METRIC) -> tuple[str, ...]:
    """Why not to spray, in words."""
    return stops_words(check_weather(weather, SHEET).stops, units)


@pytest.mark.parametrize(
    ("panel_c", "fine"), [(15.01, True), (14.9, False), (12.5, False), (10.0, False)]
)
def test_the_panel_must_be_three_kelvin_above(panel_c: float, *, fine: bool) -> None:
    """Air at 20 degrees C and 60 percent: dew point 11.995, computed independently.

    The margin of 3 K was read in trade articles that credit ISO 8502-4, not in it.
    """
    answer = check_weather(Weather(20.0, panel_c, 0.6), replace(SHEET, coldest_c=5.0))
    assert answer.margin_k == pytest.approx(panel_c - 11.995, abs=0.001)
    assert (not answer.stops) == fine
    if not fine:
        assert "dew point of 12.0" in stops_words(answer.stops, METRIC)[0]


def test_a_margin_just_missed_does_not_read_as_met() -> None:
    (stop,) = stops(Weather(20.0, 14.98, 0.6))
    assert "only 2.9 K" in stop


def test_three_kelvin_are_the_rounded_five_fahrenheit() -> None:
    """3 K is 5.4 degrees F, 'the common rounding' is 5."""
    assert pytest.approx(5.4) == MARGIN_K * 9.0 / 5.0
    assert "not read" in MARGIN_NOTE


@pytest.mark.parametrize(
    ("weather", "words"),
    [
        (Weather(11.0, 13.0, 0.5), "air is at 11.0"),
        (Weather(13.0, 11.0, 0.5), "panel is at 11.0"),
        (Weather(39.0, 37.0, 0.3), "cool it"),
        (Weather(20.0, 38.5, 0.3), "panel is at 38.5"),
        (Weather(20.0, 24.0, 0.81), "81 %"),
    ],
)
def test_weather_outside_the_sheet_stops(weather: Weather, words: str) -> None:
    (stop, *_) = stops(weather)
    assert words in stop


def test_good_weather_says_nothing() -> None:
    answer = check_weather(Weather(21.0, 21.0, 0.5), SHEET)
    assert answer.stops == answer.advice == ()


def test_the_ends_of_the_sheets_ranges_are_allowed() -> None:
    assert check_weather(Weather(12.0, 12.0, 0.5), SHEET).stops == ()
    assert not any("sheet allows" in each for each in stops(Weather(38.0, 38.0, 0.8)))


def test_close_to_the_margin_it_advises_to_measure_again() -> None:
    answer = check_weather(Weather(20.0, 16.0, 0.6), SHEET)
    assert answer.stops == ()
    assert any("measure again" in each for each in advice_words(answer.advice, METRIC))


def test_a_panel_from_the_yard_should_settle() -> None:
    answer = check_weather(Weather(20.0, 14.0, 0.3), SHEET)
    assert any("6 K apart" in each for each in advice_words(answer.advice, METRIC))


def test_told_in_fahrenheit() -> None:
    """12.0 degrees C are 53.6 F, a margin of 3 K is 5.4 F, 12 and 38 are 54 and 100."""
    us = UNITS["us"]
    (stop,) = stops(Weather(20.0, 14.98, 0.6), us)
    assert "only 5.3 °F above the dew point of 53.6 °F" in stop
    assert "until it is 5.4 °F above" in stop
    (cold, *_) = stops(Weather(11.0, 13.0, 0.5), us)
    assert "air is at 51.8 °F and the sheet allows 53.6 to 100 °F" in cold
    answer = check_weather(Weather(20.0, 14.0, 0.3), SHEET)
    settling = advice_words(answer.advice, us)
    assert any("11 °F apart" in each for each in settling)
    assert not any("°C" in each or " K" in each for each in (stop, cold, *settling))


def test_a_missing_speed_grade_stops() -> None:
    (line,) = stops(Weather(37.0, 37.0, 0.3))
    assert line.startswith("For 37 °C the sheet has no reducer of Clear;")


@pytest.mark.parametrize(
    ("air_c", "expected"),
    [
        (10.0, "fast"),
        (16.5, "fast"),
        (17.9, "medium"),
        (25.0, "medium"),
        (35.0, "slow"),
    ],
)
def test_the_grade_whose_middle_lies_nearest(air_c: float, expected: str) -> None:
    grade = pick_grade(GRADES, air_c)
    assert grade is not None
    assert grade.name == expected


@pytest.mark.parametrize("air_c", [9.9, 35.1])
def test_no_grade_outside_all(air_c: float) -> None:
    assert pick_grade(GRADES, air_c) is None
    assert pick_grade((), 20.0) is None


@pytest.mark.parametrize("humidity", [0.0, -0.1, 1.01, 55.0, float("nan")])
def test_humidity_outside_its_range_is_refused(humidity: float) -> None:
    with pytest.raises(JobError, match="1 to 100 percent"):
        Weather(20.0, 20.0, humidity)


@pytest.mark.parametrize("temperature", [-46.0, 61.0, 300.0, float("nan")])
def test_where_the_formula_of_the_dew_point_does_not_hold(temperature: float) -> None:
    """The WMO gives its constants for -45 to 60 degrees C."""
    with pytest.raises(JobError, match="air temperature must be from -45 to 60"):
        dew_point_c(temperature, 0.5)


@pytest.mark.parametrize("temperature", [-20.1, 90.1, 300.0, float("nan")])
def test_temperatures_outside_their_range_are_refused(temperature: float) -> None:
    with pytest.raises(JobError, match="air temperature must be from -20 to 60"):
        Weather(temperature, 20.0, 0.5)
    with pytest.raises(JobError, match="panel temperature"):
        Weather(20.0, temperature, 0.5)
