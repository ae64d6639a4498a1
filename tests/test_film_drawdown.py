"""Closed forms of a drawdown: tables, round trips, Judd's formula, refusals."""

import numpy as np
import pytest
from check_values import numbers
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from shadecore.errors import CardError
from shadecore.film.drawdown import (
    Drawdown,
    from_black_and_white,
    hiding_scattering_power,
)
from shadecore.film.two_flux import film_reflectance, masstone_reflectance

SOME = settings(deadline=None, derandomize=True, max_examples=200)
SCATTERING = st.floats(1e-3, 3.0)
THICKNESS = st.floats(0.1, 100.0)
BLACK = st.one_of(st.just(0.0), st.floats(0.0, 0.10))
WHITE = st.floats(0.60, 1.0)
RATIO = st.floats(1e-4, 50.0)
"""K/S of nearly white to black paints."""
TABLE = numbers("kubelka-munk-films.csv")
HIDING = numbers("hiding-thickness.csv")
BACKINGS = (0.0, 0.2, 0.5, 0.8, 1.0)


def read(k: float, s: float, x: float, backing: float) -> float:
    return float(film_reflectance(k, s, x, backing))


def drawn_down(k: float, s: float, x: float, black: float, white: float) -> Drawdown:
    """Read a film over two backings and work back."""
    return from_black_and_white(
        read(k, s, x, black), read(k, s, x, white), black, white
    )


# Tables ------------------------------------------------------------------------------


@pytest.mark.parametrize("row", TABLE[TABLE[:, 0] > 0.0])
@pytest.mark.parametrize("white", [0.8, 1.0])
@pytest.mark.parametrize("black", [0.0, 0.2, 0.5])
def test_films_of_the_table(row: np.ndarray, black: float, white: float) -> None:
    """Computed independently to eight decimals; S X of a film that nearly hides rests
    on the last of them, so its 9 is given to two parts in a million.

    The row without scattering is left out: a = 1 + K/S has no value there.
    """  # noqa: D205 - one sentence about the digits
    s, k, x, masstone = row[:4]
    over = dict(zip(BACKINGS, row[4:], strict=True))
    found = from_black_and_white(over[black], over[white], black, white)
    assert float(found.scattering) == pytest.approx(s * x, rel=1e-6, abs=1e-6)
    assert float(found.absorption) == pytest.approx(k * x, abs=1e-6)
    # Rounding at K = 0 leaves K/S = 1e-9, and the masstone moves by its root.
    assert float(found.masstone) == pytest.approx(masstone, abs=1e-6 if k else 1e-4)


@pytest.mark.parametrize("row", HIDING)
def test_optical_thickness_that_hides(row: np.ndarray) -> None:
    """S X at contrast ratios of 0.98 and 0.95 over black and 0.80 white.

    Computed independently to five decimals; the convention is ASTM D2805's.
    """
    masstone, _, sx_98, sx_95, black = (float(each) for each in row)
    assert hiding_scattering_power(masstone) == pytest.approx(sx_98, abs=1e-5)
    assert hiding_scattering_power(masstone, 0.95) == pytest.approx(sx_95, abs=1e-5)
    # Six decimals of the reading over black leave 0.1 percent of a dark film's S X.
    # Kubelka (1948): S X from the film over black and where it hides.
    found = np.log((1.0 - black * masstone) / (1.0 - black / masstone))
    assert found / (1.0 / masstone - masstone) == pytest.approx(sx_98, rel=1e-3)


def test_a_hiding_white_by_hand() -> None:
    """A masstone of 0.80 over a white of 0.80 reads 0.80, so over black 0.784.

    Kubelka's (1948, from memory) S X from the two, written out here.
    """
    full, black = 0.80, 0.98 * 0.80
    expected = np.log((1.0 - black * full) / (1.0 - black / full)) / (1.0 / full - full)
    assert hiding_scattering_power(0.80) == pytest.approx(expected, rel=1e-9)
    assert expected == pytest.approx(6.50069, abs=1e-5)


# Round trips -------------------------------------------------------------------------


@SOME
@given(RATIO, SCATTERING, THICKNESS, BLACK, WHITE)
def test_a_film_comes_back_from_its_readings(
    ratio: float, s: float, x: float, black: float, white: float
) -> None:
    """Films that leave a gap of 1e-4; no instrument would tell less from none."""
    k = ratio * s
    assume(read(k, s, x, white) - read(k, s, x, black) > 1e-4)
    found = drawn_down(k, s, x, black, white)
    assert float(found.scattering) == pytest.approx(s * x, rel=1e-6, abs=1e-6)
    assert float(found.absorption) == pytest.approx(k * x, rel=1e-6, abs=1e-6)
    full = float(masstone_reflectance(k, s))
    assert float(found.masstone) == pytest.approx(full, abs=1e-6)


@pytest.mark.parametrize("black", [0.0, 0.005, 0.05])
@pytest.mark.parametrize(
    ("k", "s", "x"),
    [
        pytest.param(4.0, 0.02, 0.3, id="strongly absorbing"),
        pytest.param(0.5, 0.005, 6.0, id="absorbing and clear"),
        pytest.param(0.02, 0.2, 25.0, id="nearly hides"),
        pytest.param(1e-5, 0.2, 10.0, id="hardly absorbs"),
        pytest.param(0.02, 0.2, 1e-3, id="hardly there"),
    ],
)
def test_films_at_the_edges(k: float, s: float, x: float, black: float) -> None:
    found = drawn_down(k, s, x, black, 0.80)
    assert float(found.scattering) == pytest.approx(s * x, rel=1e-6, abs=1e-6)
    assert float(found.absorption) == pytest.approx(k * x, rel=1e-6, abs=1e-6)


@pytest.mark.parametrize("backing", [0.05, 0.80])
def test_a_film_that_matches_one_of_its_backings(backing: float) -> None:
    """A masstone equal to a backing leaves that backing's reading where it was."""
    k = (1.0 - backing) ** 2 / (2.0 * backing)
    black, white = (0.05, 0.80) if backing == 0.05 else (0.0, 0.80)
    found = drawn_down(k, 1.0, 0.7, black, white)
    assert float(found.scattering) == pytest.approx(0.7, rel=1e-6)
    assert float(found.masstone) == pytest.approx(backing, rel=1e-6)


def test_many_wavelengths_at_once() -> None:
    rng = np.random.default_rng(91)
    k, s = rng.uniform(0.001, 0.2, (2, 4, 31))
    black, white = rng.uniform(0.0, 0.02, 31), rng.uniform(0.75, 0.85, 31)
    found = from_black_and_white(
        film_reflectance(k, s, 5.0, black),
        film_reflectance(k, s, 5.0, white),
        black,
        white,
    )
    np.testing.assert_allclose(found.scattering, 5.0 * s, rtol=1e-6)
    np.testing.assert_allclose(found.absorption, 5.0 * k, rtol=1e-6)


@SOME
@given(st.floats(1e-3, 5.0), st.floats(0.05, 5.0), WHITE)
def test_the_classical_formula_over_a_true_black(
    ratio: float, power: float, white: float
) -> None:
    """Judd and Wyszecki (from memory): a = 1/2 [R + (R0 - R + Rg) / (R0 Rg)].

    And S X = arcoth[(1 - a R0) / (b R0)] / b.
    """
    black = read(ratio, 1.0, power, 0.0)
    over = read(ratio, 1.0, power, white)
    # Both formulas lose digits where nothing is left of the gap.
    assume(over - black > 1e-4)
    a = 0.5 * (over + (black - over + white) / (black * white))
    b = np.sqrt(a**2 - 1.0)
    sx = np.arctanh(b * black / (1.0 - a * black)) / b
    found = from_black_and_white(black, over, 0.0, white)
    assert float(found.masstone) == pytest.approx(a - b, rel=1e-5)
    assert float(found.scattering) == pytest.approx(sx, rel=1e-5)


@SOME
@given(st.floats(0.02, 0.98), st.floats(0.05, 0.99), st.floats(0.001, 0.009))
def test_hiding_takes_more_film_for_more_contrast_ratio(
    masstone: float, ratio: float, more: float
) -> None:
    thin = hiding_scattering_power(masstone, ratio)
    assert thin < hiding_scattering_power(masstone, ratio + more)
    k = (1.0 - masstone) ** 2 / (2.0 * masstone)
    reached = read(k, 1.0, thin, 0.0) / read(k, 1.0, thin, 0.8)
    assert reached == pytest.approx(ratio, abs=1e-9)


# Refusals ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("over_black", "over_white"),
    [
        pytest.param(0.5, 0.4, id="swapped"),
        pytest.param(0.1, 0.95, id="gives more than it gets"),
        pytest.param(0.0, 0.8, id="no film"),
        pytest.param(-0.1, 0.5, id="below nothing"),
        pytest.param(float("nan"), 0.5, id="no number"),
    ],
)
def test_readings_of_no_film(over_black: float, over_white: float) -> None:
    with pytest.raises(CardError, match="No film gives these readings") as caught:
        from_black_and_white(over_black, over_white, 0.0, 0.8)
    assert "swapped" in str(caught.value)


def test_one_wrong_wavelength_is_enough() -> None:
    with pytest.raises(CardError, match="No film"):
        from_black_and_white([0.3, 0.5], [0.5, 0.4], 0.0, 0.8)


@pytest.mark.parametrize(
    ("masstone", "ratio"),
    [(0.0, 0.98), (1.0, 0.98), (0.8, 0.0), (0.8, 1.0), (float("nan"), 0.98)],
)
def test_hiding_out_of_range(masstone: float, ratio: float) -> None:
    with pytest.raises(CardError, match="between 0 and 1"):
        hiding_scattering_power(masstone, ratio)
