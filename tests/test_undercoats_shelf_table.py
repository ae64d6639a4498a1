"""Shelves as CSV: what is read, what is refused, and what is written back."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import shadecore
from shadecore.colour.appearance import lab_from_reflectance
from shadecore.errors import ShelfError, TableError
from shadecore.formats.table import decode
from shadecore.undercoats.shelf import undercoat_from_reflectance
from shadecore.undercoats.shelf_table import parse_shelf, parse_stock, write_shelf

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


def test_what_is_left_of_each_comes_back_as_it_was() -> None:
    text = "name;L;price;stock\nWhite;90;30;2,5\nMid;60;;\nDark;30;;0\n"
    held, bad = parse_stock(text, "the shelf")
    assert bad == ()
    assert [each.stock for each in held] == [2.5, None, 0.0]
    shelf = tuple(each.undercoat for each in held)
    stock = {each.undercoat.name: each.stock for each in held}
    assert parse_stock(write_shelf(shelf, stock), "again") == (held, ())
    assert "stock" not in write_shelf(shelf)


def test_a_stock_that_cannot_be_is_named_where_it_is_asked_for() -> None:
    text = "name,L,stock\nWhite,90,2 cans\nMid,60,-1\nDark,30,1\n"
    held, bad = parse_stock(text, "the shelf")
    assert [each.undercoat.name for each in held] == ["Dark"]
    assert [each.line for each in bad] == [2, 3]
    assert len(read(text)) == 3


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
        ("Good,80,,", "a second sealer called 'Good'"),
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
    with pytest.raises(ShelfError, match=r"the shelf holds no sealer.*line 3"):
        parse_shelf("name,L\n\nWhite,abc\n", "the shelf")
    with pytest.raises(ShelfError, match="the shelf holds no sealer"):
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
NAMES = (
    st.text(LETTERS, min_size=1, max_size=12)
    | st.text(alphabet="ab=+-@#'\",; \n\t", min_size=1, max_size=6)
    | st.sampled_from(["=1+1 blue", "@SUM(A1)", "-6e1", "# 1", "sep=;", "400 nm", "'"])
).filter(lambda name: name.strip() != "")
UNITS = st.sampled_from(["", "L", "qt", 'a "tin"', "=L", "5, boxed"])
PRICES = st.none() | st.floats(0.0, 1e6)
GREYS = st.floats(0.0, 100.0).map(lambda lightness: (lightness, 0.0, 0.0))
# Few: the spectrum of each new colour is searched for a quarter of a second.
COLOURS = st.sampled_from(
    [(40.0, 25.25, -18.5), (55.1, -20.125, 1 / 3), (30.0, 0.3, 0)]
)
NEARLY_GREY = st.tuples(st.just(50.0), st.floats(-0.03, 0.03), st.just(0.01))
FLAT = st.floats(0.0, 1.0).map(lambda level: (level,) * 31)
SPECTRA = st.lists(st.floats(0.0, 1.05), min_size=31, max_size=31) | FLAT


@st.composite
def undercoats(draw: st.DrawFn) -> shadecore.Undercoat:
    name, price, unit = draw(NAMES), draw(PRICES), draw(UNITS)
    if draw(st.booleans()):
        return undercoat_from_reflectance(name, draw(SPECTRA), price=price, unit=unit)
    lab = draw(GREYS | COLOURS | NEARLY_GREY)
    return shadecore.undercoat(name, lab, price=price, unit=unit)


@given(st.lists(undercoats(), min_size=1, max_size=5, unique_by=lambda each: each.name))
@settings(derandomize=True, deadline=None, max_examples=150)
def test_what_is_written_is_read_back_equal(shelf: list[shadecore.Undercoat]) -> None:
    text = write_shelf(tuple(shelf))
    assert read(text) == tuple(shelf)
    # Also through a file, whatever its line ends.
    assert parse_shelf(decode(text.encode(), "x"), "x") == (tuple(shelf), ())


def test_a_shelf_of_greys_is_written_without_spectra() -> None:
    text = write_shelf(shadecore.demo_shelf())
    assert text.splitlines()[0] == "name,L,a,b,price,unit"
    assert read(text) == shadecore.demo_shelf()


def test_a_shelf_measured_by_spectra_is_written_with_them() -> None:
    steep = undercoat_from_reflectance("Steep", np.linspace(0.2, 0.7, 31))
    text = write_shelf((steep,))
    assert text.splitlines()[0].startswith("name,price,unit,400,410,")
    assert read(text) == (steep,)
    mixed = (steep, shadecore.undercoat("Grey", (50.0, 0.0, 0.0)))
    assert write_shelf(mixed).splitlines()[0].startswith("name,L,a,b,price,unit,400,")
    assert read(write_shelf(mixed)) == mixed


def test_a_spectrum_on_the_working_wavelengths_stays_to_the_last_digit() -> None:
    levels = [0.1 + 1 / 3 * each / 31 for each in range(31)]
    head = ",".join(["name", *map(str, WAVELENGTHS)])
    (only,) = read(f"{head}\nOdd,{','.join(map(str, levels))}\n")
    assert only.reflectance == tuple(levels)


def test_in_a_mixed_table_each_row_has_its_own_kind() -> None:
    head = ",".join(["name,L", *map(str, WAVELENGTHS)])
    flat = ",".join(["0.5"] * 31)
    lab, spectrum, both = read(
        f"{head}\nLab,60{',' * 31}\nSpectrum,,{flat}\nBoth,60,{flat}\n"
    )
    assert lab.lab == (60.0, 0.0, 0.0)
    assert spectrum.reflectance == both.reflectance == (0.5,) * 31
    _, bad = parse_shelf(f"{head}\nGood,60\nHalf,60,0.5{',' * 30}\n", "x")
    assert "'410' is empty" in bad[0].reason


def test_blends_are_written_as_what_they_dry_to() -> None:
    mixed = shadecore.shelf_blends(shadecore.demo_shelf())[:2]
    for before, after in zip(mixed, read(write_shelf(mixed)), strict=True):
        assert after.parts == ()
        assert dataclasses.replace(after, parts=before.parts) == before


def test_a_shelf_of_too_many_undercoats_is_refused() -> None:
    rows = "\n".join(f"Grey {n},50" for n in range(1001))
    with pytest.raises(ShelfError, match="more than 1,000 sealers; keep those"):
        parse_shelf(f"name,L\n{rows}", "the shelf")


def test_bad_rows_without_end_are_counted() -> None:
    bad = parse_shelf("name,L\nGood,50\n" + ",x\n" * 5000, "the shelf")[1]
    assert len(bad) == 21
    assert "4,980 more rows from here on" in str(bad[-1])
