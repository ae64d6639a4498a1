"""Quantities in metric and US units."""

import pytest

from shadecore.units import NONE, UNITS

QUANTITIES = (
    *("film", "paint", "volume", "bulk", "spreading", "area", "temperature"),
    *("margin", "pressure", "distance", "voc"),
)


def test_a_mil_is_25_4_micrometres() -> None:
    """Exact by definition of the inch."""
    assert UNITS["us"].film.show(25.4) == "1.00 mil"
    assert UNITS["us"].film.show(60.0) == "2.36 mil"
    assert UNITS["metric"].film.show(25.4) == "25 µm"


def test_paint_on_an_area() -> None:
    """29.5735295625 ml are a US fluid ounce, 0.09290304 m2 a square foot, exactly."""
    assert UNITS["us"].paint.show(29.5735295625 / 0.09290304) == "1.00 fl oz/ft²"
    assert UNITS["metric"].paint.show(354.7) == "355 ml/m²"


def test_what_is_bought() -> None:
    """A US gallon is 231 cubic inches, 3.785411784 L, and has four quarts, by law."""
    assert UNITS["us"].bulk.show(3.785411784) == "4.00 qt"
    assert UNITS["metric"].bulk.show(1.1849) == "1.18 L"


def test_a_spreading_rate() -> None:
    """A square metre is 10.7639 ft2 and a gallon 3.78541 L: 40.7458 ft2/gal."""
    assert UNITS["us"].spreading.number(1.0) == pytest.approx(40.7458, abs=1e-4)
    assert UNITS["us"].spreading.show(10.0) == "407 ft²/gal"
    assert UNITS["metric"].spreading.show(7.26) == "7.3 m²/L"


def test_temperatures_and_their_differences() -> None:
    """Water freezes at 32 °F and boils at 212 °F; 5 K are 9 °F."""
    us = UNITS["us"]
    assert us.temperature.show(0.0) == "32 °F"
    assert us.temperature.show(100.0) == "212 °F"
    assert us.margin.show(5.0) == "9.0 °F"
    # A rounded -0.3 is 0, not -0.
    assert UNITS["metric"].temperature.show(-0.3) == "0 °C"


def test_us_cans_by_their_names() -> None:
    """231 cubic inches are a gallon of 4 quarts, 8 pints, 128 fluid ounces, by law."""
    gallon = 231 * 2.54**3 / 1000
    can = UNITS["us"].can
    assert [can(gallon * share) for share in (5, 1, 0.25, 0.125)] == [
        *("5 gal", "1 gal", "1 qt", "1 pt")
    ]
    # What a label rounds is still called so; a litre is no quart.
    assert (can(3.78), can(0.946), can(0.473)) == ("1 gal", "1 qt", "1 pt")
    assert can(1.0) == "33.8 fl oz"
    assert UNITS["metric"].can(0.25) == "0.25 L"


@pytest.mark.parametrize("system", UNITS)
@pytest.mark.parametrize("name", QUANTITIES)
def test_a_quantity_comes_back_from_what_is_shown(system: str, name: str) -> None:
    quantity = getattr(UNITS[system], name)
    assert quantity.show(None) == quantity.bare(None) == NONE
    assert quantity.show(200.0) == f"{quantity.bare(200.0)} {quantity.unit}"
    assert float(quantity.bare(400.0)) > float(quantity.bare(200.0))
    assert quantity.metric(quantity.number(200.0)) == pytest.approx(200.0)


@pytest.mark.parametrize("system", UNITS)
def test_a_system_knows_its_name(system: str) -> None:
    assert UNITS[system].name == system
