"""Undercoats: their spectra, their Munsell value and what a shelf refuses."""

import numpy as np
import pytest
from check_values import numbers
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.colour.appearance import (
    colour_difference,
    lab_from_reflectance,
    neutral_reflectance,
)
from shadecore.colour.condition import ILLUMINANTS, OBSERVERS, Condition
from shadecore.colour.surface import directional
from shadecore.errors import ShelfError
from shadecore.undercoats.shelf import (
    check_shelf,
    inside_film,
    munsell_value,
    reflectance_of,
    undercoat,
    undercoat_from_reflectance,
)


@pytest.mark.parametrize("row", numbers("munsell-value-d1535.csv"))
def test_munsell_value(row: np.ndarray) -> None:
    """ASTM D1535-08e1, computed independently."""
    assert munsell_value(float(row[2])) == pytest.approx(row[0], abs=2e-3)


@pytest.mark.parametrize("row", numbers("munsell-value-inverse-d1535.csv"))
def test_munsell_value_of_a_luminance(row: np.ndarray) -> None:
    """ASTM D1535 read backwards, computed independently; L* by ISO/CIE 11664-4."""
    lightness = 116.0 * np.cbrt(row[0] / 100.0) - 16.0
    assert munsell_value(float(lightness)) == pytest.approx(row[1], abs=2e-3)


@settings(deadline=None, derandomize=True, max_examples=100)
@given(st.floats(10.5, 100.0))
def test_munsell_value_is_about_a_tenth_of_lightness(lightness: float) -> None:
    """Within 0.11 from V = 1 on (computed independently)."""
    assert abs(munsell_value(lightness) - lightness / 10.0) < 0.11


def test_munsell_value_at_its_ends() -> None:
    assert munsell_value(0.0) == pytest.approx(0.0, abs=1e-9)
    assert munsell_value(100.0) == pytest.approx(10.0, abs=1e-3)


@pytest.mark.parametrize("lightness", [0.0, 5.0, 25.3, 50.0, 75.7, 95.0, 100.0])
def test_a_grey_is_flat_and_has_its_lightness(lightness: float) -> None:
    one = undercoat("Grey", (lightness, 0.0, 0.0))
    assert np.ptp(one.reflectance) == 0.0
    assert one.lightness == pytest.approx(lightness)
    np.testing.assert_allclose(
        lab_from_reflectance(np.array(one.reflectance)), [lightness, 0, 0], atol=1e-4
    )


@pytest.mark.parametrize(
    "lab",
    [
        (81.0, -2.0, 6.0),
        (52.0, 1.0, -4.0),
        (42.0, 38.0, 24.0),
        (60.0, -20.0, 12.0),
        (30.0, 3.0, -20.0),
        (76.0, 6.0, 48.0),
    ],
)
def test_a_coloured_undercoat_gets_a_spectrum_of_its_colour(
    lab: tuple[float, float, float],
) -> None:
    spectrum = reflectance_of(lab)
    assert spectrum.shape == (31,)
    assert np.all((spectrum >= 0.0) & (spectrum <= 1.0))
    assert float(colour_difference(lab_from_reflectance(spectrum), lab)) < 0.15
    # Smooth: no single band carries the colour.
    assert np.abs(np.diff(spectrum, 2)).max() < 0.05


@pytest.mark.parametrize("illuminant", ILLUMINANTS)
@pytest.mark.parametrize("observer", OBSERVERS)
def test_a_grey_stays_a_grey_however_measured(illuminant: str, observer: int) -> None:
    one = undercoat("Grey", (60.0, 0.0, 0.0), Condition(illuminant, observer))
    assert one.lab == pytest.approx((60.0, 0.0, 0.0), abs=1e-3)
    assert np.ptp(one.reflectance) == 0.0


def test_the_mirror_is_taken_off() -> None:
    """A flat grey that reads 0.285 with a sphere, inside by Saunderson (1942).

    k1 = 0.04, k2 = 0.59635, r(45) = 0.05024, computed independently.
    """
    reading = float(neutral_reflectance(60.3))
    returned = (reading - 0.04) / (0.96 * (1.0 - 0.59635))
    expected = 0.96 * (1.0 - 0.05024) / 2.25 * returned
    one = undercoat("Grey", (60.3, 0.0, 0.0), Condition(specular="included"))
    np.testing.assert_allclose(one.reflectance, expected, atol=3e-4)


def test_a_measured_spectrum_is_kept() -> None:
    spectrum = np.linspace(0.3, 0.35, 31)
    one = undercoat_from_reflectance("Warm grey", spectrum, price=12.5, unit="L")
    np.testing.assert_array_equal(one.reflectance, spectrum)
    assert one.lab == pytest.approx(tuple(lab_from_reflectance(spectrum)))
    assert one.lab[2] > 0.5
    assert (one.price, one.unit) == (12.5, "L")


def test_undercoats_under_the_film() -> None:
    """The reading of what is inside a clear skin is the reading of the undercoat."""
    shelf = tuple(undercoat(f"Grey {v}", (v, 0, 0)) for v in (5.0, 25.0, 60.0, 95.0))
    inside = inside_film(shelf)
    assert inside.shape == (4, 31)
    assert inside.dtype == np.float32
    readings = np.array([one.reflectance for one in shelf])
    np.testing.assert_allclose(directional().measured(inside), readings, rtol=1e-5)
    # The skin returns light, so that every undercoat is lighter than it reads.
    assert np.all(inside > readings)


@pytest.mark.parametrize(
    ("name", "lab", "price", "said"),
    [
        ("", (50, 0, 0), None, "needs a name"),
        ("   ", (50, 0, 0), None, "needs a name"),
        ("Grey", (50, 0, 0), -1.0, "price of 'Grey'"),
        ("Grey", (50, 0, 0), float("nan"), "price of 'Grey'"),
        ("Grey", (50, 0, 0), float("inf"), "price of 'Grey'"),
        ("Grey", (101, 0, 0), None, "'Grey' cannot be used: L"),
        ("Grey", (-3, 0, 0), None, "'Grey' cannot be used: L"),
        ("Grey", (50, 300, 0), None, "'Grey' cannot be used: a"),
        ("Grey", (float("nan"), 0, 0), None, "'Grey' cannot be used"),
    ],
)
def test_undercoats_that_cannot_be_used(
    name: str, lab: tuple[float, float, float], price: float | None, said: str
) -> None:
    with pytest.raises(ShelfError, match=said) as caught:
        undercoat(name, lab, price=price)
    assert str(caught.value).endswith(".")


def test_an_undercoat_darker_than_its_mirror_is_refused() -> None:
    with pytest.raises(ShelfError, match=r"'Jet' cannot be used: .*specular"):
        undercoat("Jet", (8, 0, 0), Condition(specular="included"))


def test_a_price_may_be_nothing() -> None:
    assert undercoat("Left over", (50, 0, 0), price=0.0).price == 0.0


def test_names_and_units_are_trimmed() -> None:
    one = undercoat("  Grey ", (50, 0, 0), price=3.0, unit=" qt ")
    assert (one.name, one.unit) == ("Grey", "qt")


def test_shelves() -> None:
    white, black = undercoat("White", (95, 0, 0)), undercoat("Black", (25, 0, 0))
    assert check_shelf((white, black)) == (white, black)
    with pytest.raises(ShelfError, match="empty"):
        check_shelf(())
    with pytest.raises(ShelfError, match="'White'"):
        check_shelf((white, black, undercoat("White", (90, 0, 0))))
