"""CIEDE2000 against the published pairs and against colour-science."""

import numpy as np
import pytest
from check_values import numbers

from shadecore.colour.appearance import colour_difference
from shadecore.colour.colour_science import colour_science

PAIRS = numbers("ciede2000-sharma-2005.csv")
ON_THE_TIE = 14
# Its hues are 180 degrees apart; rounding decides which mean hue is taken.
EITHER_BRANCH = (4.8045, 4.7461)


def test_the_table_is_whole() -> None:
    """The sum of all 34 differences, computed independently."""
    assert PAIRS[:, 0].tolist() == list(range(1, 35))
    assert PAIRS[:, 7].sum() == pytest.approx(183.1864, abs=1e-4)


@pytest.mark.parametrize("pair", PAIRS, ids=lambda pair: f"pair {pair[0]:.0f}")
def test_published_pairs(pair: np.ndarray) -> None:
    """Sharma, Wu, Dalal (2005), Table 1, read second-hand; printed to 5e-5."""
    first, second, expected = pair[1:4], pair[4:7], float(pair[7])
    there = float(colour_difference(first, second))
    back = float(colour_difference(second, first))
    allowed = EITHER_BRANCH if pair[0] == ON_THE_TIE else (expected,)
    assert min(abs(there - each) for each in allowed) < 5e-5
    assert min(abs(back - each) for each in allowed) < 5e-5


def test_published_pairs_in_single_precision() -> None:
    """Rounding the hue ties to single precision may flip them (0.058 at most)."""
    pairs = PAIRS[~np.isin(PAIRS[:, 0], [9, 10, 11, 12, 13, 14, 15])]
    single = colour_difference(
        pairs[:, 1:4].astype(np.float32), pairs[:, 4:7].astype(np.float32)
    )
    assert single.dtype == np.float32
    np.testing.assert_allclose(single, pairs[:, 7], atol=0.02)


def test_agrees_with_colour_science() -> None:
    rng = np.random.default_rng(20)
    low, high = [0.0, -80.0, -80.0], [100.0, 80.0, 80.0]
    first = rng.uniform(low, high, (3000, 3))
    second = first + rng.normal(0.0, 1.0, (3000, 3)) * rng.uniform(0, 30, (3000, 1))
    expected = colour_science().delta_E(first, second, method="CIE 2000")
    np.testing.assert_allclose(colour_difference(first, second), expected, atol=1e-7)


def test_blocks_do_not_show() -> None:
    """More rows than one block, each the same as when it stands alone."""
    rng = np.random.default_rng(21)
    first = rng.uniform([0.0, -50.0, -50.0], [100.0, 50.0, 50.0], (40_001, 3))
    second = first[::-1]
    together = colour_difference(first, second)
    for row in (0, 15_999, 16_000, 16_001, 31_999, 32_000, 40_000):
        alone = float(colour_difference(first[row], second[row]))
        assert together[row] == pytest.approx(alone, abs=1e-12)


def test_broadcasts_and_keeps_the_shape() -> None:
    one = np.array([50.0, 2.5, 0.0])
    others = np.array([[[73.0, 25.0, -18.0]], [[61.0, -5.0, 29.0]]])
    difference = colour_difference(others, one)
    # Pairs 17 and 18 of Sharma, Wu, Dalal (2005), read second-hand.
    np.testing.assert_allclose(difference, [[27.1492], [22.8977]], atol=5e-5)
    assert float(colour_difference(one, one)) == 0.0
