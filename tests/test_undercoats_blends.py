"""Blends of two undercoats."""

import tomllib

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.colour.surface import directional
from shadecore.datafiles import data_file
from shadecore.errors import ShelfError
from shadecore.undercoats.blends import PARTS, blend, shelf_blends, strength_from_blend
from shadecore.undercoats.shelf import (
    Undercoat,
    undercoat,
    undercoat_from_reflectance,
)

WHITE = undercoat("White", (95, 0, 0), price=30.0, unit="L")
BLACK = undercoat("Black", (25, 0, 0), price=20.0, unit="L")


def grey(lightness: float) -> Undercoat:
    return undercoat(f"Grey {lightness:g}", (lightness, 0, 0))


@settings(deadline=None, derandomize=True, max_examples=150)
@given(
    st.floats(2.0, 99.0),
    st.floats(2.0, 99.0),
    st.sampled_from(PARTS),
    st.floats(0.1, 8.0),
)
def test_blends_lie_between(
    one: float, other: float, parts: tuple[int, int], strength: float
) -> None:
    lighter, darker = grey(max(one, other)), grey(min(one, other))
    mixed = blend(lighter, darker, parts, strength)
    reflectance = np.array(mixed.reflectance)
    assert np.all(reflectance <= np.array(lighter.reflectance) + 1e-9)
    assert np.all(reflectance >= np.array(darker.reflectance) - 1e-9)
    assert mixed.lab[1:] == pytest.approx((0.0, 0.0), abs=1e-3)


def test_more_of_the_darker_is_darker() -> None:
    ladder = [blend(WHITE, BLACK, parts).lightness for parts in PARTS]
    assert ladder == sorted(ladder, reverse=True)
    assert len(set(ladder)) == len(PARTS)
    strong = blend(WHITE, BLACK, (4, 1), 3.0)
    assert strong.lightness < blend(WHITE, BLACK, (4, 1)).lightness


def test_a_little_black_takes_white_far_down() -> None:
    """Common practice (no source): a few percent of black make a clear grey.

    Were lightness or reflectance shared out by parts, 1 in 20 would barely show.
    """
    mixed = blend(WHITE, BLACK, (19, 1))
    by_reflectance = 0.95 * WHITE.reflectance[0] + 0.05 * BLACK.reflectance[0]
    by_lightness = 0.95 * WHITE.lightness + 0.05 * BLACK.lightness
    assert mixed.reflectance[0] < by_reflectance - 0.1
    assert mixed.lightness < by_lightness - 4.0


def test_white_and_black_mix_by_two_constants() -> None:
    """Duncan (1940): K and S add by concentration; white is K = 0 and S = 1.

    The black is the middle of the bone blacks in the families' file.
    """
    ranges = tomllib.loads(data_file("colorant-families.toml").read_text("utf-8"))
    bone = ranges["black"]["bone"]
    k, s = (np.sqrt(np.prod(bone[each])) for each in ("absorption", "scattering"))
    surface = directional()

    def paint(black: float) -> np.ndarray:
        ratio = black * k / (1.0 - black + black * s)
        return surface.measured(1.0 + ratio - np.sqrt(ratio * (ratio + 2.0)))

    white = undercoat_from_reflectance("White", np.full(31, paint(0.0)))
    jet = undercoat_from_reflectance("Jet", np.full(31, paint(1.0)))
    for parts in ((19, 1), (4, 1), (1, 1), (1, 9)):
        mixed = blend(white, jet, parts)
        expected = paint(parts[1] / sum(parts))
        assert mixed.reflectance[0] == pytest.approx(expected, rel=0.02)


def test_only_the_proportion_counts() -> None:
    same = blend(WHITE, BLACK, (8, 2))
    np.testing.assert_allclose(
        same.reflectance, blend(WHITE, BLACK, (4, 1)).reflectance
    )


def test_an_undercoat_with_itself_is_itself() -> None:
    mid = grey(60.0)
    np.testing.assert_allclose(
        blend(mid, mid, (1, 1)).reflectance, mid.reflectance, atol=1e-9
    )


def test_strength_multiplies_the_parts() -> None:
    np.testing.assert_allclose(
        blend(WHITE, BLACK, (4, 1), 2.0).reflectance,
        blend(WHITE, BLACK, (2, 1)).reflectance,
    )


def test_coloured_undercoats_keep_their_tint() -> None:
    """Half of a bluish grey in a white is bluish as well, and lighter."""
    bluish = undercoat_from_reflectance("Bluish", np.linspace(0.36, 0.24, 31))
    mixed = blend(WHITE, bluish, (1, 1))
    assert bluish.lab[2] < mixed.lab[2] < 0.0
    assert bluish.lightness < mixed.lightness < WHITE.lightness


@pytest.mark.parametrize("strength", [0.25, 1.0, 2.0, 6.0])
@pytest.mark.parametrize("parts", PARTS)
@pytest.mark.parametrize("pair", [(95.0, 25.0), (90.2, 75.7), (55.0, 8.0), (99.0, 2.0)])
def test_strength_from_a_measured_blend(
    strength: float, parts: tuple[int, int], pair: tuple[float, float]
) -> None:
    lighter, darker = grey(pair[0]), grey(pair[1])
    measured = blend(lighter, darker, parts, strength).lightness
    found = strength_from_blend(lighter, darker, parts, measured)
    assert found == pytest.approx(strength, rel=1e-6)


def test_a_darker_reading_tells_a_stronger_black() -> None:
    readings = np.linspace(90.0, 30.0, 13)
    found = [strength_from_blend(WHITE, BLACK, (4, 1), each) for each in readings]
    assert np.all(np.diff(found) > 0.0)


@pytest.mark.parametrize("reading", [95.0, 97.0, 25.0, 20.0, float("nan")])
def test_readings_outside_the_pair_are_refused(reading: float) -> None:
    with pytest.raises(ShelfError, match="between the two"):
        strength_from_blend(WHITE, BLACK, (4, 1), reading)


def test_the_order_of_the_pair_matters() -> None:
    with pytest.raises(ShelfError, match="order"):
        strength_from_blend(BLACK, WHITE, (4, 1), 60.0)


@pytest.mark.parametrize("parts", [(0, 1), (1, 0), (-1, 2)])
def test_parts_must_be_above_nothing(parts: tuple[float, float]) -> None:
    with pytest.raises(ShelfError, match="parts"):
        strength_from_blend(WHITE, BLACK, parts, 60.0)


def test_price_of_a_blend() -> None:
    """Three of 30 and one of 20 cost (90 + 20) / 4."""
    mixed = blend(WHITE, BLACK, (3, 1))
    assert mixed.price == pytest.approx(27.5)
    assert mixed.unit == "L"


def test_a_blend_without_both_prices_has_none() -> None:
    unpriced = grey(25.0)
    quarts = undercoat("Quarts", (25, 0, 0), price=20.0, unit="qt")
    for other in (unpriced, quarts):
        mixed = blend(WHITE, other, (1, 1))
        assert mixed.price is None
        assert mixed.unit == ""


def test_a_blend_names_its_parts() -> None:
    mixed = blend(WHITE, BLACK, (2, 1))
    assert mixed.name == "2 parts White + 1 part Black"
    assert mixed.parts == (("White", 2), ("Black", 1))
    assert WHITE.parts == ()


def test_blends_of_a_shelf_are_of_neighbours() -> None:
    shelf = (BLACK, WHITE, grey(60.0))
    mixed = shelf_blends(shelf)
    pairs = {tuple(name for name, _ in each.parts) for each in mixed}
    assert pairs == {("White", "Grey 60"), ("Grey 60", "Black")}
    assert len(mixed) == 2 * len(PARTS)
    assert len({each.name for each in mixed}) == len(mixed)
    for each in mixed:
        upper, lower = (95, 60) if "White" in each.name else (60, 25)
        assert lower < each.lightness < upper


def test_a_lone_undercoat_makes_no_blend() -> None:
    assert shelf_blends((WHITE,)) == ()
    assert shelf_blends(()) == ()
