"""Shelves as CSV: what is read, what is refused, and what is written back."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import shadecore
from shadecore.colour.appearance import lab_from_reflectance
from shadecore.errors import ShelfError, TableError
from shadecore.undercoats.shelf_table import parse_shelf, write_shelf

WAVELENGTHS = range(400, 701, 10)


def read(text: str) -> tuple[shadecore.Undercoat, ...]:
    shelf, bad = parse_shelf(text, "the shelf")
    assert bad == ()
    return shelf


def spectrum_table(wavelengths: range, *levels: float) -> str:
    head = ",".join(["name", *map(str, wavelengths)])
    body = [
        ",".join([f"Grey {level}", *[str(level)] * len(wavelengths)])
        for level in levels
    ]
    return "\n".join([head, *body])


def test_a_name_and_a_lightness_are_enough() -> None:
    white, dark = read("name,L\nWhite,90.5\nDark,40\n")
    assert (white.name, white.lab) == ("White", (90.5, 0.0, 0.0))
    assert (dark.price, dark.unit, dark.parts) == (None, "", ())
    # A grey reads the same at every wavelength: Y of L* 40 is ((40 + 16) / 116)^3.
    np.testing.assert_allclose(dark.reflectance, (56.0 / 116.0) ** 3)


def test_all_columns_in_any_order_and_others_passed_over() -> None:
    text = "unit,remark,Price,b,a,L,Name\nqt,old tin,29.5,-1.5,0.5,60,Blue grey\n"
    (only,) = read(text)
    assert only.name == "Blue grey"
    assert only.lab == pytest.approx((60.0, 0.5, -1.5))
    assert (only.price, only.unit) == (29.5, "qt")


def test_european_lists_with_semicolons_and_decimal_commas() -> None:
    (only,) = read("name;L;price;unit\nGrau;61,5;29,90;L\n")
    assert (only.lightness, only.price) == (61.5, 29.9)


def test_spectra_instead_of_lab() -> None:
    for wavelengths in (WAVELENGTHS, range(380, 721, 20), range(360, 781, 10)):
        light, dark = read(spectrum_table(wavelengths, 0.5, 0.05))
        np.testing.assert_allclose(light.reflectance, 0.5)
        np.testing.assert_allclose(light.lab, lab_from_reflectance(np.full(31, 0.5)))
        assert light.lightness > dark.lightness


def test_a_spectrum_with_price() -> None:
    text = spectrum_table(WAVELENGTHS, 0.5)
    head, body = text.splitlines()
    (only,) = read(f"{head},price,unit\n{body},12.5,L\n")
    assert (only.price, only.unit) == (12.5, "L")


@pytest.mark.parametrize(
    "wavelengths", [range(450, 701, 10), range(400, 701, 50), range(700, 399, -10)]
)
def test_spectra_that_do_not_cover_the_range_evenly(wavelengths: range) -> None:
    with pytest.raises(ShelfError, match=r"line 2: The spectrum"):
        parse_shelf(spectrum_table(wavelengths, 0.5), "the shelf")


@pytest.mark.parametrize(
    ("row", "reason"),
    [
        ("White,abc,,", "'l' holds 'abc'"),
        ("White,,,", "'l' is empty"),
        (",90,,", "'name' is empty"),
        ("White,101,,", "L* must lie between 0"),
        ("White,-1,,", "L* must lie between 0"),
        ("White,nan,,", "not a number"),
        ("White,90,-3,", "price"),
        ("White,90,inf,", "price"),
        ("White,90,cheap,", "'price' holds 'cheap'"),
        ("Good,80,,", "a second undercoat called 'Good'"),
        ("White", "'l' is empty"),
    ],
)
def test_a_bad_row_costs_only_itself(row: str, reason: str) -> None:
    text = f"name,L,price,unit\nGood,50,1,L\n# a remark\n\n{row}\nLast,20,,\n"
    shelf, bad = parse_shelf(text, "the shelf")
    assert [each.name for each in shelf] == ["Good", "Last"]
    assert [each.line for each in bad] == [5]
    assert reason in bad[0].reason
    assert bad[0].reason.endswith(".")


def test_names_are_told_apart_without_the_blanks_about_them() -> None:
    shelf, bad = parse_shelf("name,L\nWhite,90\n White ,80\n", "the shelf")
    assert [each.lightness for each in shelf] == [90.0]
    assert [each.line for each in bad] == [3]


def test_no_row_to_use_says_why() -> None:
    with pytest.raises(ShelfError, match=r"the shelf holds no undercoat.*line 3"):
        parse_shelf("name,L\n\nWhite,abc\n", "the shelf")
    with pytest.raises(ShelfError, match="the shelf holds no undercoat"):
        parse_shelf("name,L\n", "the shelf")


@pytest.mark.parametrize("text", ["", "L,price\n90,3\n"])
def test_what_is_no_shelf_is_refused(text: str) -> None:
    with pytest.raises(TableError, match="name"):
        parse_shelf(text, "the shelf")


def test_a_flat_grey_stays_one_however_it_was_measured() -> None:
    """L* alone describes a grey under any illuminant and observer."""
    for illuminant, observer in (("A", 2), ("D50", 2), ("F11", 10)):
        condition = shadecore.Condition(illuminant, observer)
        shelf, bad = parse_shelf("name,L\nGrey,50\n", "the shelf", condition)
        assert bad == ()
        assert shelf[0].lab == pytest.approx((50.0, 0.0, 0.0), abs=0.02)


def test_the_mirror_reflection_is_taken_out_of_a_sphere_reading() -> None:
    condition = shadecore.Condition(specular="included")
    shelf, bad = parse_shelf("name,L\nGrey,50\nBlack,5\n", "the shelf", condition)
    assert shelf[0].lightness < 48.0
    # L* 5 is half a percent: less than the 4 percent a glossy surface mirrors.
    assert [each.line for each in bad] == [3]


def test_the_demo_shelf_is_the_invented_one() -> None:
    shelf = shadecore.demo_shelf()
    lightness = [each.lightness for each in shelf]
    assert lightness == sorted(lightness, reverse=True)
    assert lightness[0] > 85.0
    assert lightness[-1] < 30.0
    assert all(each.lab[1:] == (0.0, 0.0) for each in shelf)
    assert all(each.price is not None and each.price > 0 for each in shelf)


LETTERS = st.characters(codec="utf-8", exclude_categories=("C", "Z"))
NAMES = st.text(LETTERS, min_size=1, max_size=12).filter(
    lambda name: name.strip() and not name.startswith("#")
)
PRICES = st.none() | st.integers(0, 99_999).map(lambda cents: cents / 100.0)
GREYS = st.floats(0.5, 99.5).map(lambda lightness: (lightness, 0.0, 0.0))


@given(
    st.lists(
        st.tuples(NAMES, GREYS, PRICES, st.sampled_from(["", "L", "qt", 'a "tin"'])),
        min_size=1,
        max_size=6,
        unique_by=lambda each: each[0],
    )
)
@settings(derandomize=True, deadline=None, max_examples=60)
def test_what_is_written_is_read_back(
    rows: list[tuple[str, tuple[float, float, float], float | None, str]],
) -> None:
    shelf = tuple(
        shadecore.undercoat(name, lab, price=price, unit=unit)
        for name, lab, price, unit in rows
    )
    again = read(write_shelf(shelf))
    for before, after in zip(shelf, again, strict=True):
        assert (after.name, after.unit) == (before.name, before.unit)
        assert after.price == before.price
        assert after.lab == pytest.approx(before.lab, abs=1e-3)


def test_a_coloured_undercoat_is_written_and_read_back() -> None:
    shelf = (
        shadecore.undercoat("Red oxide", (40.0, 25.25, -18.5)),
        shadecore.undercoat("Sea; green, deep", (55.5, -20.125, 4.0), price=12.5),
    )
    for before, after in zip(shelf, read(write_shelf(shelf)), strict=True):
        assert after.name == before.name
        assert after.lab == pytest.approx(before.lab, abs=1e-3)


def test_blends_are_written_as_what_they_dry_to() -> None:
    mixed = shadecore.shelf_blends(shadecore.demo_shelf())[:2]
    for before, after in zip(mixed, read(write_shelf(mixed)), strict=True):
        assert after.name == before.name
        assert after.lightness == pytest.approx(before.lightness, abs=1e-3)
        assert math.hypot(*after.lab[1:]) < 0.1
