"""The product sheet file. The values of the demo sheet: common practice, no source."""

import dataclasses
import re
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from product_sheets import LINES, TEXT, kind, refused, without

from shadecore.errors import JobError
from shadecore.products.product import (
    ASKED,
    HAZARDS,
    KINDS,
    SPRAYED,
    Component,
    ProductSheet,
    Viscosity,
)
from shadecore.products.sheet_file import demo_sheet, parse_sheet, read_sheet
from shadecore.products.voc import voc_limit

SOME = settings(deadline=None, derandomize=True, max_examples=300)
G_PER_LB, L_PER_GAL = 453.59237, 3.785411784
"""The pound (1959) and the US gallon of 231 cubic inches."""


def parts(name: str) -> tuple[float, ...]:
    return tuple(component.parts for component in kind(name).components)


# The demo sheet


def test_it_is_marked_as_invented() -> None:
    sheet = demo_sheet()
    assert sheet.invented is True
    assert "invented" in sheet.name.lower()
    assert "INVENTED" in LINES[0]
    assert "common practice, no source" in TEXT


WITH_ALL = tuple(each for each in KINDS if each not in ASKED)
"""Kinds of the demo sheet: what it leaves out is asked of the data sheets."""


def test_every_kind_once_in_the_order_of_the_job() -> None:
    assert tuple(product.kind for product in demo_sheet().products) == WITH_ALL


def test_times_at_70_fahrenheit() -> None:
    """Common practice, no source; 70 F is 21.1 degrees C."""
    assert demo_sheet().reference_c == pytest.approx((70 - 32) / 1.8, abs=0.2)
    etch, surfacer = kind("etch_primer"), kind("surfacer")
    assert (etch.coats, etch.windows.recoat_after_min) == (1, 30.0)
    assert etch.windows.sand_after_h == 24.0
    assert etch.windows.missed == "re-etch"
    assert surfacer.coats in (2, 3)
    assert (surfacer.windows.flash_min, surfacer.windows.recoat_after_min) == (
        3.0,
        30.0,
    )
    assert (surfacer.windows.recoat_within_h, surfacer.windows.missed) == (
        24.0,
        "scuff",
    )
    assert surfacer.windows.sand_after_h == 2.0
    sealer, base, clear = kind("sealer"), kind("base_coat"), kind("clear_coat")
    assert (sealer.coats, sealer.windows.recoat_after_min) == (1, 10.0)
    assert sealer.windows.recoat_within_h == 8.0
    assert base.coats in (3, 4)
    assert base.windows.recoat_after_min == 20.0
    assert clear.coats == 2
    assert 2.0 <= clear.windows.flash_min <= 5.0
    assert (clear.windows.bake_min, clear.windows.air_cure_h) == (30.0, 24.0)
    assert clear.windows.bake_c == pytest.approx((120 - 32) / 1.8, abs=0.2)


def test_usual_mixes_occur() -> None:
    assert parts("etch_primer") == (1.0, 1.0)
    assert parts("base_coat") == (1.0, 1.0)
    assert parts("clear_coat") == (2.0, 1.0)
    assert parts("surfacer") == (4.0, 1.0)
    assert parts("sealer") == (4.0, 1.0, 1.0)


def test_voc_of_the_base_coat_reduced_one_to_one() -> None:
    """About 5.0 lb/gal less exempt compounds, by 40 CFR 59.104(a)(1)."""
    mix = kind("base_coat").components
    mass = sum(each.parts * each.voc_g_per_l for each in mix)
    volume = sum(each.parts * (1.0 - exempt_share(each)) for each in mix)
    assert mass / volume == pytest.approx(599.0, abs=1.0)
    assert mass / volume / G_PER_LB * L_PER_GAL == pytest.approx(5.0, abs=0.01)


def exempt_share(component: Component) -> float:
    return component.exempt_g_per_l / component.exempt_density_g_per_l


def test_densities_voc_and_solids_belong_together() -> None:
    """Solvents weigh 780 to 900 g/L: what is not solid or exempt is as much solvent."""
    for product in demo_sheet().products:
        for each in product.components:
            left = 1.0 - each.volume_solids - exempt_share(each)
            assert 780.0 < each.voc_g_per_l / left < 900.0, each.name
            solids = each.density_g_per_l - each.voc_g_per_l - each.exempt_g_per_l
            if each.volume_solids:
                assert 1000.0 < solids / each.volume_solids < 2600.0, each.name
            else:
                assert solids == 0.0


def test_voc_categories_are_in_the_table_of_limits() -> None:
    sprayed = [each for each in demo_sheet().products if each.components]
    assert len(sprayed) == len(set(SPRAYED) & set(WITH_ALL))
    for product in sprayed:
        assert set(product.voc_categories) == {
            "us_national",
            "california_scm",
            "eu_2004_42",
        }
        for rule, category in product.voc_categories.items():
            assert voc_limit(rule, category).limit_g_per_l > 0.0


def test_hazards() -> None:
    """Two-component primers and clears are hardened with isocyanate."""
    for product in demo_sheet().products:
        hardened = any("hardener" in each.name.lower() for each in product.components)
        assert ("isocyanate" in product.hazards) == hardened
        assert bool(product.hardeners) == hardened
        assert "chromate" not in product.hazards
    assert "chromate-free" in kind("etch_primer").name


def test_grades_cover_the_shop_without_gaps() -> None:
    sheet = demo_sheet()
    assert (sheet.coldest_c, sheet.warmest_c) == (10.0, 38.0)
    assert kind("base_coat").reducers
    for product in sheet.products:
        for grades in (product.reducers, product.hardeners):
            if grades:
                assert grades[0].from_c == sheet.coldest_c
                assert grades[-1].to_c == sheet.warmest_c
            for before, after in pairwise(grades):
                assert before.to_c == after.from_c


def test_grits_of_the_shops_own() -> None:
    sheet = parse_sheet(TEXT.replace("cut = [2000]", "cut = [1500, 2000]"), "mine.toml")
    assert sheet.grits["cut"] == (1500, 2000)
    # A sheet from before there were grits in it.
    old = re.sub(r"\[grits\].*?\n\n", "", TEXT, flags=re.DOTALL)
    assert parse_sheet(old, "mine.toml").grits == {}
    for wrong in ("[320, 180]", "[400, 400]", "[80.5]", "[5001]", "80"):
        said = refused(TEXT.replace("cut = [2000]", f"cut = {wrong}"))
        assert "grits.cut must be a list of rising numbers, each a whole" in said


# What is read


NEW_KEYS = (
    *("breathing", "cartridge", "pot_life_min", "viscosity", "keeps_days"),
    *("type", "cap_bar", "fan_cm", "half_full", "tape_after_min", "lamp_min"),
)


def test_a_sheet_from_before_cups_cartridges_and_midcoats() -> None:
    """Without what a sheet may leave out, nothing is made up for it."""
    old = re.sub(rf"(?m)^({'|'.join(NEW_KEYS)}) = .*\n", "", without("mid_coat"))
    sheet = parse_sheet(old, "old.toml")
    assert sheet.over_ground == sheet.of_kind("base_coat")
    for product in sheet.products:
        assert (product.pot_life_min, product.viscosity) == (None, None)
        assert (product.breathing, product.cartridge) == ((), "")
        assert product.keeps_days is None
        assert not any(each.half_full for each in product.components)
    # A hardener is enough to know that a mix does not keep.
    two_pack = {each.kind for each in sheet.products if each.two_pack}
    assert two_pack == {"surfacer", "sealer", "clear_coat"}


def test_what_the_demo_line_says_for_the_bench() -> None:
    """Invented, and shown where a painter of a shop would write his own."""
    assert demo_sheet().over_ground.name == "Pearl mid-coat"
    base = kind("base_coat")
    assert base.viscosity == Viscosity("iso_3", 50.0, 60.0)
    assert [each.half_full for each in base.components] == [True, False]
    assert (base.cartridge, base.keeps_days, base.two_pack) == ("A2-P3", 180.0, False)
    assert kind("etch_primer").two_pack
    turned = TEXT.replace("low_s = 50, high_s = 60", "low_s = 60, high_s = 50", 1)
    assert "high_s must be at least low_s, which is 60" in refused(turned)


def test_what_is_read_is_what_stands_there() -> None:
    clear = kind("clear_coat")
    assert clear.key == "clear_coat"
    assert clear.name == "Two-component clear"
    assert clear.gun is not None
    assert dataclasses.astuple(clear.gun) == (
        1.3,
        2.2,
        15.0,
        0.7,
        "hvlp",
        0.65,
        1,
        25.0,
    )
    assert dataclasses.astuple(clear.components[1]) == (
        *("Clear hardener", 1.0, 1020.0, 350.0, 0.0, 0.0, 1000.0),
        *(0.58, 70.0, (0.5, 2.5), False),
    )
    assert clear.windows.recoat_within_h is None
    assert set(clear.hazards) <= set(HAZARDS)
    assert kind("polish").gun is None
    for product in demo_sheet().products:
        for each in product.components:
            numbers = [
                one for one in dataclasses.astuple(each) if isinstance(one, float)
            ]
            assert len(numbers) == 8


def test_products_come_in_the_order_of_the_job_in_any_file() -> None:
    head, *tables = re.split(r"(?m)^(?=\[product\.[a-z_]+\]$)", TEXT)
    assert len(tables) == len(WITH_ALL)
    assert parse_sheet(head + "\n".join(tables[::-1]), "x") == demo_sheet()


@pytest.mark.parametrize("ending", ["\n", "\r\n"])
@pytest.mark.parametrize("mark", ["", "\N{ZERO WIDTH NO-BREAK SPACE}"])
def test_line_ends_and_byte_order_mark(tmp_path: Path, ending: str, mark: str) -> None:
    path = tmp_path / "mine.toml"
    text = mark + ending.join(LINES)
    path.write_bytes(text.encode())
    assert read_sheet(path) == read_sheet(str(path)) == demo_sheet()
    assert parse_sheet(text, "x") == demo_sheet()
    line = LINES.index("warmest_c = 38") + 1
    assert f"line {line}: " in refused(text.replace("warmest_c = 38", "warmest_c = 99"))


def test_a_file_that_cannot_be_read(tmp_path: Path) -> None:
    with pytest.raises(JobError, match=r"no such file or directory; check the name"):
        read_sheet(tmp_path / "none.toml")
    with pytest.raises(JobError, match=r"cannot be read: is a directory"):
        read_sheet(tmp_path)
    path = tmp_path / "old.toml"
    path.write_bytes(b"# a\nname = 'gr\xfcn'\n")
    with pytest.raises(JobError, match=r"line 2, is not UTF-8 text"):
        read_sheet(path)
    path.write_text("name = 1\n", "utf-8")
    with pytest.raises(JobError, match=r"^old.toml, line 1: name must be text"):
        read_sheet(path)


@SOME
@given(st.integers(0, len(TEXT) - 1), st.integers(0, 30), st.text(max_size=5))
def test_any_slip_of_the_pen_is_a_sheet_or_a_sentence(
    place: int, cut: int, put: str
) -> None:
    text = TEXT[:place] + put + TEXT[place + cut :]
    said = ""
    try:
        assert isinstance(parse_sheet(text, "mine.toml"), ProductSheet)
    except JobError as error:
        said = str(error)
    if said:
        found = re.match(r"mine\.toml, line (\d+): .*\.$", said)
        assert found is not None, said
        assert 1 <= int(found[1]) <= text.count("\n") + 1
