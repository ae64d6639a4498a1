"""Films and amounts of paint in metric and US units."""

import pytest

from shadecore.units import UNITS


def test_a_mil_is_25_4_micrometres() -> None:
    """Exact by definition of the inch."""
    assert UNITS["us"].film(25.4) == "1.00 mil"
    assert UNITS["us"].film(60.0) == "2.36 mil"
    assert UNITS["metric"].film(25.4) == "25 µm"


def test_paint_on_an_area() -> None:
    """29.5735295625 ml are a US fluid ounce, 0.09290304 m2 a square foot, exactly."""
    assert UNITS["us"].paint(29.5735295625 / 0.09290304) == "1.00 fl oz/ft²"
    assert UNITS["metric"].paint(354.7) == "355 ml/m²"


@pytest.mark.parametrize("name", UNITS)
def test_no_amount_is_a_dash(name: str) -> None:
    assert UNITS[name].paint(None) == "-"
    assert UNITS[name].paint_number(None) == "-"


@pytest.mark.parametrize("name", UNITS)
def test_the_number_alone_is_that_of_the_text(name: str) -> None:
    units = UNITS[name]
    assert units.paint(200.0) == f"{units.paint_number(200.0)} {units.paint_name}"
    assert float(units.paint_number(400.0)) > float(units.paint_number(200.0))
